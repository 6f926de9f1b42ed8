/* The doubt of a boat for the terminal: first what to measure, then which verdicts could turn, then every governing answer.
 * Invariant: a path stands only behind the words it means. */
#include "report/doubt_text.h"

#include <math.h>
#include <string.h>

#include "report/colour.h"
#include "report/study_head.h"
#include "report/words.h"
#include "report/wrap.h"

enum { INDENT = 4, MOST_SHARES = 3 };

static void
one_measurement(const Result *result, const MeasureNext *m, size_t number, const Style *style,
                GString *out)
{
    g_autofree char *what = m->what != NULL ? text_clean(m->what) : path_words(result, m->path);
    g_autofree char *path = text_clean(m->path);
    g_autofree char *first = g_strdup_printf("%s (%s)", what, path);
    g_string_append_printf(out, "%2zu. ", number);
    wrap_text(out, first, INDENT, INDENT, style_width(style));
    g_autofree char *time = minutes_words(m->minutes);
    g_autofree char *with = g_strdup_printf("With: %s; %s; %s.", m->instrument, m->how, time);
    study_detail(with, INDENT, style, out);
    const Answer *answer = m->answer != NULL ? result_answer_find(result, m->answer) : NULL;
    if (answer != NULL && m->takes_frac >= 0.05) {
        g_autofree char *label = answer_label(result, answer);
        g_autofree char *line =
            g_strdup_printf("It takes %.0f %% of the doubt in: %s.", 100.0 * m->takes_frac, label);
        study_detail(line, INDENT, style, out);
    }
    for (size_t i = 0; i < m->n; i++) {
        g_autofree char *sentence = finding_words(result, m->settles[i], style->units);
        g_autofree char *line = g_strdup_printf("Helps to settle: %s", sentence);
        study_detail(line, INDENT, style, out);
    }
}

void
write_next_text(const Result *result, const Doubt *doubt, const Style *style, GString *out)
{
    study_heading("Measure this next", style, out);
    if (doubt->n_next == 0)
        study_detail("No measurement would tell anything new.", 0, style, out);
    for (size_t i = 0; i < doubt->n_next; i++)
        one_measurement(result, &doubt->next[i], i + 1, style, out);
}

/* "1 in 8" */
static char *
chance_words(double frac)
{
    if (isnan(frac) || frac <= 0.0)
        return g_strdup("");
    return frac >= 0.4 ? g_strdup(", about as likely as not")
                       : g_strdup_printf(", about 1 in %.0f", round(1.0 / frac));
}

static void
one_verdict(const Result *result, const DoubtVerdict *v, const Style *style, GString *out)
{
    static const Mark marks[] = {MARK_BAD, MARK_BAD, MARK_DOUBT, MARK_FINE};
    g_autofree char *level = g_ascii_strup(level_word(v->after), -1);
    g_autofree char *sentence = finding_words(result, v->finding, style->units);
    mark_on(out, style, marks[v->after]);
    pad_text(out, level, 8);
    mark_off(out, style);
    wrap_text(out, sentence, 8, 8, style_width(style));
    const Finding *f = result_finding_find(result, v->finding);
    g_autofree char *reach =
        value_words(v->spread, 0.3 * v->spread, kind_difference(f->kind), style->units);
    g_autofree char *gap =
        value_words(fabs(v->margin), 0.3 * v->spread, kind_difference(f->kind), style->units);
    g_autofree char *chance = chance_words(v->turns_frac);
    g_autofree char *line =
        g_strdup_printf("%s %s; what is not settled reaches %s: it may turn%s.", gap,
                        v->margin >= 0.0 ? "to spare" : "short", reach, chance);
    study_detail(line, 8, style, out);
    if (v->settle_path == NULL)
        return;
    g_autofree char *what =
        v->settle_text != NULL ? text_clean(v->settle_text) : path_words(result, v->settle_path);
    g_autofree char *path = text_clean(v->settle_path);
    g_autofree char *settle = g_strdup_printf("Settled best by: %s (%s).", what, path);
    study_detail(settle, 8, style, out);
}

static void
verdicts(const Result *result, const Doubt *doubt, const Style *style, GString *out)
{
    size_t turning = 0;
    study_heading("Verdicts that could turn", style, out);
    for (size_t i = 0; i < doubt->n_verdicts; i++) {
        if (!doubt->verdict[i].could_turn)
            continue;
        one_verdict(result, &doubt->verdict[i], style, out);
        turning++;
    }
    if (turning == 0)
        study_detail("None: no verdict lies within reach of what is not settled.", 0, style, out);
}

static void
one_reading(const Result *result, const DoubtReading *r, const Style *style, GString *out)
{
    g_autofree char *name = path_words(result, r->path);
    g_autofree char *read = value_spread_words(r->read, r->within, Q_SMALL_LENGTH, style->units);
    g_autofree char *reckoned =
        value_spread_words(r->reckoned, r->reckoned_spread, Q_SMALL_LENGTH, style->units);
    g_autofree char *says =
        g_strdup(r->outside ? "this is outside of both, and the trial is not believed until it is "
                              "settled which of them is wrong"
                 : r->used  ? "they agree, and the reading narrows the spreads below"
                            : "they agree, but another reading of this trial is outside");
    g_autofree char *line = g_strdup_printf("%s, %s: read %s, the file says %s; %s.", name,
                                            r->where, read, reckoned, says);
    line[0] = g_ascii_toupper(line[0]);
    wrap_text(out, line, 0, 2, style_width(style));
    if (!r->outside)
        return;
    g_autoptr(GString) accused = g_string_new("It accuses ");
    for (size_t i = 0; i < r->n && i < MOST_SHARES; i++) {
        g_autofree char *named = path_named(result, r->share[i].path);
        g_string_append_printf(accused, "%s%s (%.0f %%)", i > 0 ? ", " : "", named,
                               100.0 * r->share[i].share);
    }
    g_string_append(accused, r->n > 0 ? "." : "nothing in particular.");
    study_detail(accused->str, INDENT, style, out);
}

static void
readings(const Result *result, const Doubt *doubt, const Style *style, GString *out)
{
    if (doubt->n_readings == 0)
        return;
    study_heading("What the trials say", style, out);
    for (size_t i = 0; i < doubt->n_readings; i++)
        one_reading(result, &doubt->reading[i], style, out);
}

/* What the trials did to an answer: from which spread, and to where. */
static void
taken(const DoubtAnswer *a, const Style *style, GString *out)
{
    if (!(a->before > 1.02 * a->spread))
        return;
    g_autofree char *before = value_words(a->before, 0.3 * a->before, a->kind, style->units);
    g_autofree char *at = value_spread_words(a->value + a->moved, a->spread, a->kind, style->units);
    g_autofree char *line = g_strdup_printf(
        "Known to %s without the trials; with them it is most likely %s.", before, at);
    study_detail(line, INDENT, style, out);
}

static void
one_answer(const Result *result, const DoubtAnswer *a, const Style *style, GString *out)
{
    const Answer *answer = result_answer_find(result, a->name);
    g_autofree char *label = answer_label(result, answer);
    g_autofree char *value = isnan(a->value)
                                 ? g_strdup("none found")
                                 : value_spread_words(a->value, a->spread, a->kind, style->units);
    g_autoptr(GString) line = g_string_new(NULL);
    g_string_append_printf(line, "%s: %s%s", label, value,
                           isnan(a->spread) ? "; its spread cannot be told" : "");
    wrap_text(out, line->str, 0, 2, style_width(style));
    taken(a, style, out);
    g_string_truncate(line, 0);
    for (size_t i = 0; i < a->n && i < MOST_SHARES; i++) {
        g_autofree char *named = path_named(result, a->share[i].path);
        g_string_append_printf(line, "%s%.0f %% %s", i > 0 ? ", " : "", 100.0 * a->share[i].share,
                               named);
    }
    if (line->len > 0) {
        g_string_prepend(line, "Brought by ");
        g_string_append_c(line, '.');
        mark_on(out, style, MARK_QUIET);
        study_detail(line->str, INDENT, style, out);
        mark_off(out, style);
    }
}

void
write_doubt_text(const Result *result, const Doubt *doubt, const Asked *asked, const Style *style,
                 GString *out)
{
    study_head(result, asked, style, out);
    g_autofree char *moved =
        g_strdup_printf("%zu numbers are not settled. Each was moved within its spread and the "
                        "whole boat solved again: %zu times in all.",
                        doubt->n_inputs, doubt->n_solves);
    wrap_text(out, moved, 0, 0, style_width(style));
    write_next_text(result, doubt, style, out);
    verdicts(result, doubt, style, out);
    readings(result, doubt, style, out);
    study_heading("How sure the answers are", style, out);
    for (size_t i = 0; i < doubt->n_answers; i++) {
        const Answer *answer = result_answer_find(result, doubt->answer[i].name);
        if (answer != NULL && answer_governs(answer))
            one_answer(result, &doubt->answer[i], style, out);
    }
}
