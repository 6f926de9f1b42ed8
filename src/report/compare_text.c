/* Plans side by side: for each option and stage what is different, what is worse and what is better than in the base plan.
 * Invariant: an answer is only called different when it is so beyond the spread of the difference. */
#include "report/compare_text.h"

#include <math.h>
#include <string.h>

#include "report/colour.h"
#include "report/forecast_text.h"
#include "report/study_head.h"
#include "report/words.h"
#include "report/wrap.h"

enum { INDENT = 2, MOST_MASSES = 6 };

static const char *
plural(size_t n)
{
    return n == 1 ? "" : "s";
}

static char *
where_words(double x_m, double y_m, double z_m, UnitsChoice units)
{
    if (isnan(x_m))
        return g_strdup("");
    g_autofree char *x = value_words(x_m, 0.05, Q_LENGTH, units);
    g_autofree char *y = value_words(fabs(y_m), 0.05, Q_LENGTH, units);
    g_autofree char *z = value_words(z_m, 0.05, Q_LENGTH, units);
    return g_strdup_printf(", centred %s forward of the stern, %s%s, %s up", x,
                           fabs(y_m) < 0.005 ? "on the centreline" : y,
                           fabs(y_m) < 0.005 ? ""
                           : y_m > 0.0       ? " to port"
                                             : " to starboard",
                           z);
}

static void
weights(const Plan *plan, const Style *style, GString *out)
{
    if (plan->option == NULL)
        return;
    g_autofree char *mass = value_words(fabs(plan->kilos), 5.0, Q_MASS, style->units);
    g_autofree char *where = where_words(plan->x_m, plan->y_m, plan->z_m, style->units);
    g_autofree char *line = fabs(plan->kilos) < 0.5
                                ? g_strdup("Weighs the same as the base plan.")
                                : g_strdup_printf("%s %s than the base plan%s.", mass,
                                                  plan->kilos > 0.0 ? "more" : "less", where);
    study_detail(line, INDENT, style, out);
    g_autoptr(GString) list = g_string_new(NULL);
    for (size_t i = 0; i < plan->n_masses && i < MOST_MASSES; i++) {
        g_autofree char *kilos = value_words(fabs(plan->mass[i].kilos), 5.0, Q_MASS, style->units);
        g_autofree char *name = name_words(plan->mass[i].name);
        g_string_append_printf(list, "%s%s%s %s", i > 0 ? "; " : "",
                               plan->mass[i].kilos > 0.0 ? "+" : "-", kilos, name);
    }
    if (plan->n_masses > MOST_MASSES)
        g_string_append_printf(list, "; and %zu smaller changes", plan->n_masses - MOST_MASSES);
    if (list->len > 0)
        study_detail(list->str, INDENT, style, out);
}

static void
costs(const char *money, const Plan *plan, const Style *style, GString *out)
{
    g_autoptr(GString) line = g_string_new(NULL);
    g_string_append_printf(line, "%zu %s below the water with nobody aboard.", plan->holes_below,
                           plan->holes_below == 1 ? "hole" : "holes");
    if (plan->stage == STAGE_DONE && isnan(plan->money) && plan->n_unpriced > 0)
        g_string_append(line, " What is to be fitted has no prices yet.");
    else if (plan->stage == STAGE_DONE && !isnan(plan->money)) {
        g_autofree char *currency = text_clean(money != NULL ? money : "");
        g_string_append_printf(line, " To be fitted: %.0f %s", plan->money, currency);
        if (plan->n_unpriced > 0)
            g_string_append_printf(line, ", without %zu things that have no price",
                                   plan->n_unpriced);
        g_string_append_c(line, '.');
    }
    study_detail(line->str, INDENT, style, out);
}

static void
answers(const Plan *plan, const Style *style, GString *out)
{
    size_t different = 0;
    for (size_t i = 0; i < plan->n_answers; i++) {
        const PlanAnswer *a = &plan->answer[i];
        if (plan->option == NULL || !a->differs)
            continue;
        double fine = fmax(fabs(a->value - a->base) / 4.0, 0.0);
        g_autofree char *was =
            isnan(a->base) ? g_strdup("none") : value_words(a->base, fine, a->kind, style->units);
        g_autofree char *now =
            isnan(a->value) ? g_strdup("none") : value_words(a->value, fine, a->kind, style->units);
        g_autofree char *line = g_strdup_printf("%s: %s instead of %s.", a->label, now, was);
        study_detail(line, INDENT, style, out);
        different++;
    }
    if (plan->option != NULL && different == 0)
        study_detail("No answer differs beyond its spread.", INDENT, style, out);
}

static void
findings(const Result *result, const char *says, size_t n, const char *const ids[],
         const Style *style, GString *out)
{
    g_autoptr(GString) line = g_string_new(says);
    for (size_t i = 0; i < n; i++) {
        const Finding *f = result_finding_find(result, ids[i]);
        g_autofree char *id = text_clean(ids[i]);
        g_autofree char *about = f != NULL ? text_clean(f->about_name) : NULL;
        g_string_append_printf(line, "%s%s%s%s%s", i > 0 ? "; " : "", about != NULL ? about : "",
                               about != NULL ? " (" : "", id, about != NULL ? ")" : "");
    }
    if (n > 0) {
        g_string_append_c(line, '.');
        study_detail(line->str, INDENT, style, out);
    }
}

static void
one(const Result *result, const Plan *plan, const char *currency, const Style *style, GString *out)
{
    g_autofree char *name =
        plan->option != NULL ? name_words(plan->option) : g_strdup("The base plan");
    g_autofree char *head = g_strdup_printf("%s, %s", name, stage_sentence(plan->stage));
    head[0] = g_ascii_toupper(head[0]);
    study_heading(head, style, out);
    if (plan->why != NULL) {
        g_autofree char *why = text_clean(plan->why);
        study_detail(why, INDENT, style, out);
    }
    if (plan->fault != NULL) {
        g_autofree char *fault = text_clean(plan->fault);
        study_detail(fault, INDENT, style, out);
        return;
    }
    g_autofree char *count = g_strdup_printf(
        "%zu danger%s, %zu fault%s, %zu doubt%s, %zu shown to hold.", plan->level[LEVEL_DANGER],
        plural(plan->level[LEVEL_DANGER]), plan->level[LEVEL_FAULT],
        plural(plan->level[LEVEL_FAULT]), plan->level[LEVEL_DOUBT],
        plural(plan->level[LEVEL_DOUBT]), plan->level[LEVEL_FINE]);
    study_detail(count, INDENT, style, out);
    weights(plan, style, out);
    costs(currency, plan, style, out);
    answers(plan, style, out);
    findings(result, "Worse or new: ", plan->n_gained, plan->gained, style, out);
    findings(result, "Better or gone: ", plan->n_lost, plan->lost, style, out);
}

/* Both stages alike are told once. */
static bool
same_at_both(const Plan *now, const Plan *done)
{
    bool differs = now->n_gained + now->n_lost + now->n_masses > 0 || now->fault != NULL;
    for (size_t i = 0; i < now->n_answers; i++)
        differs |= now->answer[i].differs;
    return !differs && done->option != NULL;
}

void
write_compare_text(const Result *result, const Comparison *comparison, const Asked *asked,
                   const Style *style, GString *out)
{
    g_autofree char *name = text_clean(boat_name(result));
    g_autoptr(GString) head = g_string_new(name);
    g_string_append(head, ": plans side by side");
    for (size_t i = 0; i < asked->n_options; i++) {
        g_autofree char *option = name_words(asked->options[i]);
        g_string_append_printf(head, "%s%s", i == 0 ? ", all with " : " and ", option);
    }
    mark_on(out, style, MARK_BOLD);
    wrap_text(out, head->str, 0, 0, style_width(style));
    mark_off(out, style);
    for (size_t i = 0; i < comparison->n; i++) {
        if (i % 2 == 0 && same_at_both(&comparison->plan[i], &comparison->plan[i + 1]))
            continue;
        one(result, &comparison->plan[i], comparison->currency, style, out);
    }
    if (asked->forecast != NULL)
        write_last_days_text(asked->forecast, style, out);
}
