/* Remedies for the terminal: each as one sentence, then how it leaves the finding, what it brings and what it takes away.
 * Invariant: what was rejected is never listed among the remedies, and always with its danger. */
#include "report/remedies_text.h"

#include <math.h>
#include <string.h>

#include "report/colour.h"
#include "report/forecast_text.h"
#include "report/plan_remedy.h"
#include "report/study_head.h"
#include "report/words.h"
#include "report/wrap.h"

enum { INDENT = 8 };

static char *
record_part(const char *path)
{
    const char *dot = strrchr(path, '.');
    return dot != NULL ? g_strndup(path, (gsize) (dot - path)) : g_strdup(path);
}

static char *
number_part(const Result *result, const RemedyPart *part, UnitsChoice units)
{
    g_autofree char *path = record_part(part->path);
    g_autofree char *name = path_words(result, path);
    double by = part->to_value - part->from_value;
    bool length = part->quantity == Q_LENGTH || part->quantity == Q_SMALL_LENGTH;
    double built = length ? 0.005 : NAN; /* what a builder can hold to */
    g_autofree char *change = value_words(fabs(by), built, part->quantity, units);
    g_autofree char *to = value_words(part->to_value, built, part->quantity, units);
    if (g_str_has_suffix(part->path, ".height"))
        return g_strdup_printf("%s %s by %s, to %s above the base line",
                               by > 0.0 ? "raise" : "lower", name, change, to);
    g_autofree char *field = path_words(result, part->path);
    return g_strdup_printf("%s %s by %s, to %s", by > 0.0 ? "increase" : "lessen", field, change,
                           to);
}

static char *
choice_part(const Result *result, const RemedyPart *part)
{
    g_autofree char *path = record_part(part->path);
    g_autofree char *name = path_words(result, path);
    g_autofree char *from = name_words(part->from), *to = name_words(part->to);
    if (g_str_has_suffix(part->path, ".closes"))
        return g_strdup_printf("make %s one that closes %s instead of %s", name, to, from);
    g_autofree char *field = path_words(result, part->path);
    return g_strdup_printf("change %s from %s to %s", field, from, to);
}

static char *
ballast_part(const RemedyPart *part, UnitsChoice units)
{
    g_autofree char *mass = value_words(part->mass_kg, 5.0, Q_MASS, units);
    g_autofree char *along = value_words(part->x_m, 0.05, Q_LENGTH, units);
    g_autofree char *height = value_words(part->z_m, 0.005, Q_LENGTH, units);
    g_autofree char *aside = value_words(fabs(part->y_m), 0.005, Q_LENGTH, units);
    g_autofree char *across =
        part->y_m == 0.0
            ? g_strdup("on the centreline")
            : g_strdup_printf("%s to %s", aside, part->y_m > 0.0 ? "port" : "starboard");
    return g_strdup_printf(
        "lay %s of fixed ballast low in the bilge, %zu dense bricks of 3.15 kg: %s "
        "forward of the stern, %s, its middle %s above the base line",
        mass, part->bricks, along, across, height);
}

static char *
bulkhead_part(const Result *result, const RemedyPart *part, UnitsChoice units)
{
    g_autofree char *at = value_words(part->to_value, 0.02, Q_LENGTH, units);
    g_autofree char *path = g_strndup(part->path, strlen(part->path) - strlen(".along"));
    g_autofree char *space = path_words(result, path);
    return g_strdup_printf("make a bulkhead watertight through %s, %s forward of the stern; what "
                           "lies %s of it is then a space of its own",
                           space, at, part->to_value < part->from_value ? "forward" : "aft");
}

static char *
anode_part(const Result *result, const RemedyPart *part, UnitsChoice units)
{
    g_autofree char *path = g_strndup(part->path, strlen(part->path) - strlen(".anode.mass"));
    g_autofree char *name = path_words(result, path);
    g_autofree char *from = value_words(part->from_value, NAN, Q_MASS, units);
    g_autofree char *to = value_words(part->to_value, NAN, Q_MASS, units);
    return g_strdup_printf("fit %s of %s each instead of %s, of the same proportions", name, to,
                           from);
}

static char *
step_up_part(const Result *result, const RemedyPart *part)
{
    g_autofree char *circuit = path_words(result, part->path);
    return g_strdup_printf("put a converter from %g V to %g V before %s, where it is fed",
                           part->from_value, part->to_value, circuit);
}

static char *
voltage_part(const Result *result, const RemedyPart *part)
{
    g_autofree char *bank = path_words(result, part->path);
    return g_strdup_printf("move %s and all that hangs on it from %g V to %g V", bank,
                           part->from_value, part->to_value);
}

static char *
step_up_takes(const Result *result, const Remedy *remedy)
{
    g_autofree char *device = path_words(result, remedy->exchanged[0]);
    g_autofree char *to = g_strdup_printf("%g V", remedy->part[0].to_value);
    return g_strdup_printf(
        "It takes: %s made for %s; a converter that gives its current, the start "
        "too, where nothing gets wet, with a fuse of its own before it; a tenth "
        "of the power lost in it. Its least voltage is taken as twice the "
        "present one: look it up.",
        device, to);
}

char *
remedy_takes_words(const Result *result, const Remedy *remedy)
{
    const RemedyPart *part = remedy->n_parts > 0 ? &remedy->part[0] : NULL;
    if (part == NULL || (part->kind != REMEDY_VOLTAGE && part->kind != REMEDY_STEP_UP))
        return NULL;
    if (part->kind == REMEDY_STEP_UP)
        return step_up_takes(result, remedy);
    g_autofree char *from = g_strdup_printf("%g V", part->from_value);
    g_autofree char *to = g_strdup_printf("%g V", part->to_value);
    g_autoptr(GString) out = g_string_new(NULL);
    g_string_append_printf(out,
                           "It takes: the same batteries in series, or others of %s with half the "
                           "ampere-hours; and made for %s, or behind a converter down to %s "
                           "(never a starter): ",
                           to, to, from);
    for (size_t i = 0; i < remedy->n_exchanged; i++) {
        g_autofree char *name = path_words(result, remedy->exchanged[i]);
        g_string_append_printf(out, "%s%s", i > 0 ? "; " : "", name);
    }
    g_string_append_printf(out,
                           ". What was measured at %s is measured again. Least voltages are taken "
                           "as twice the present ones: look them up.",
                           from);
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static char *
part_words(const Result *result, const RemedyPart *part, UnitsChoice units)
{
    switch (part->kind) {
    case REMEDY_NUMBER:
        return number_part(result, part, units);
    case REMEDY_CHOICE:
        return choice_part(result, part);
    case REMEDY_BALLAST:
        return ballast_part(part, units);
    case REMEDY_BULKHEAD:
        return bulkhead_part(result, part, units);
    case REMEDY_ANODE:
        return anode_part(result, part, units);
    case REMEDY_STEP_UP:
        return step_up_part(result, part);
    case REMEDY_VOLTAGE:
        return voltage_part(result, part);
    default:
        return plan_part_words(result, part);
    }
}

char *
remedy_words(const Result *result, const Remedy *remedy, UnitsChoice units)
{
    g_autoptr(GString) out = g_string_new(NULL);
    for (size_t i = 0; i < remedy->n_parts; i++) {
        g_autofree char *words = part_words(result, &remedy->part[i], units);
        g_string_append_printf(out, "%s%s", i > 0 ? ", and " : "", words);
    }
    if (out->len > 0)
        out->str[0] = g_ascii_toupper(out->str[0]);
    return g_string_free(g_steal_pointer(&out), FALSE);
}

/* Findings by their own words; what no longer or not yet is made, by its id. */
static void
list_findings(const Result *result, const char *says, size_t n, const char *const ids[],
              const char *without, const Style *style, GString *out)
{
    g_autoptr(GString) line = g_string_new(NULL);
    size_t named = 0;
    for (size_t i = 0; i < n; i++) {
        if (strcmp(ids[i], without) == 0)
            continue;
        const Finding *f = result_finding_find(result, ids[i]);
        g_autofree char *about = f != NULL ? text_clean(f->about_name) : NULL;
        g_autofree char *id = text_clean(ids[i]);
        g_string_append_printf(line, "%s%s%s%s%s", named++ > 0 ? "; " : "",
                               about != NULL ? about : "", about != NULL ? " (" : "", id,
                               about != NULL ? ")" : "");
    }
    if (named == 0)
        return;
    g_string_prepend(line, says);
    g_string_append_c(line, '.');
    study_detail(line->str, INDENT, style, out);
}

static void
list_moves(const Result *result, const Remedy *remedy, const Style *style, GString *out)
{
    g_autoptr(GString) line = g_string_new(NULL);
    for (size_t i = 0; i < remedy->n_moves && i < 4; i++) {
        const Answer *answer = result_answer_find(result, remedy->move[i].answer);
        if (answer == NULL)
            continue;
        QuantityKind kind = answer->kind->kind;
        double fine = fabs(remedy->move[i].after - remedy->move[i].before) / 4.0;
        g_autofree char *before = value_words(remedy->move[i].before, fine, kind, style->units);
        g_autofree char *after = value_words(remedy->move[i].after, fine, kind, style->units);
        g_autofree char *label = g_utf8_strdown(answer->kind->label, 3);
        g_string_append_printf(line, "%s%s%s from %s to %s", line->len > 0 ? "; " : "", label,
                               answer->kind->label + strlen(label), before, after);
    }
    if (line->len == 0)
        return;
    g_string_prepend(line, "It moves: ");
    g_string_append_c(line, '.');
    study_detail(line->str, INDENT, style, out);
}

static void
outcome(const Finding *f, const Remedy *remedy, const Style *style, GString *out)
{
    if (isnan(remedy->value)) {
        study_detail(remedy->level == LEVEL_DOUBT ? "Then it is a doubt, because something "
                                                    "unsettled stays in it."
                                                  : "Then the finding is not made any more.",
                     INDENT, style, out);
        return;
    }
    g_autofree char *value =
        value_spread_words(remedy->value, remedy->spread, f->kind, style->units);
    Finding then = *f; /* of another voltage, the limit is another too */
    then.limit = remedy->limit;
    g_autofree char *limit = limit_words(&then, style->units);
    g_autofree char *line = g_strdup_printf(
        "Then: %s, %s is asked: %s.", value, limit,
        remedy->level == LEVEL_FINE ? "fine" : "a doubt, because something unsettled stays in it");
    study_detail(line, INDENT, style, out);
}

static void
one(const Result *result, const Finding *f, const Remedy *remedy, const Style *style, GString *out)
{
    g_autofree char *words = remedy_words(result, remedy, style->units);
    g_autofree char *line = g_strdup_printf("%s.", words);
    g_string_append(out, remedy->because != NULL ? "  no    " : "  do    ");
    wrap_text(out, line, INDENT, INDENT, style_width(style));
    if (remedy->because != NULL) {
        const Finding *danger = result_finding_find(result, remedy->because);
        g_autofree char *about = danger != NULL ? text_clean(danger->about_name) : NULL;
        g_autofree char *why = g_strdup_printf(
            "Rejected: it brings a danger or makes one worse: %s%s%s%s", about != NULL ? about : "",
            about != NULL ? " (" : "", remedy->because, about != NULL ? ")." : ".");
        study_detail(why, INDENT, style, out);
    }
    g_autofree char *takes = remedy_takes_words(result, remedy);
    if (takes != NULL)
        study_detail(takes, INDENT, style, out);
    g_autofree char *chance = plan_chance_words(remedy);
    if (chance != NULL)
        study_detail(chance, INDENT, style, out);
    outcome(f, remedy, style, out);
    list_moves(result, remedy, style, out);
    list_findings(result, "It also clears or eases: ", remedy->n_lost, remedy->lost, f->id, style,
                  out);
    list_findings(result, "It brings or worsens: ", remedy->n_gained, remedy->gained, f->id, style,
                  out);
    if (remedy->kilos > 0.0) {
        g_autofree char *mass = value_words(remedy->kilos, 5.0, Q_MASS, style->units);
        g_autofree char *cost = isnan(remedy->money)
                                    ? g_strdup_printf("Adds %s; what it costs is not known.", mass)
                                    : g_strdup_printf("Adds %s; costs %.0f.", mass, remedy->money);
        study_detail(cost, INDENT, style, out);
    }
    for (size_t i = 0; i < remedy->n_edits && remedy->n_edits <= 2; i++) {
        g_autofree char *edit =
            g_strdup_printf("In the file: %s=%s", remedy->edit[i].path, remedy->edit[i].value);
        mark_on(out, style, MARK_QUIET);
        study_detail(edit, INDENT, style, out);
        mark_off(out, style);
    }
}

static void
of_finding(const Result *result, const RemediesOf *of, const Style *style, GString *out)
{
    static const Mark marks[] = {MARK_BAD, MARK_BAD, MARK_DOUBT, MARK_FINE};
    const Finding *f = result_finding_find(result, of->finding);
    g_autofree char *level = g_ascii_strup(level_word(f->level), -1);
    g_autofree char *sentence = finding_sentence(result, f, style->units);
    g_string_append_c(out, '\n');
    mark_on(out, style, marks[f->level]);
    pad_text(out, level, INDENT);
    mark_off(out, style);
    wrap_text(out, sentence, INDENT, INDENT, style_width(style));
    const Finding *cause = f->cause != NULL ? result_finding_find(result, f->cause) : NULL;
    if (cause != NULL && strcmp(f->cause, f->id) != 0) {
        g_autofree char *about = text_clean(cause->about_name);
        g_autofree char *line =
            g_strdup_printf("It has the same cause as %s (%s).", about, cause->id);
        study_detail(line, INDENT, style, out);
    }
    for (size_t i = 0; i < of->n_remedies; i++)
        one(result, f, &of->remedy[i], style, out);
    for (size_t i = 0; i < of->n_rejected; i++)
        one(result, f, &of->rejected[i], style, out);
    if (of->nothing != NULL) {
        g_autofree char *line = g_strdup_printf("Nothing found: %s.", of->nothing);
        study_detail(line, INDENT, style, out);
    }
}

void
write_remedies_text(const Result *result, const Remedies *remedies, const Asked *asked,
                    const Style *style, GString *out)
{
    study_head(result, asked, style, out);
    if (remedies->n == 0) {
        wrap_text(out, "No danger and no fault was found, so there is nothing to remedy.", 0, 0,
                  style_width(style));
        return;
    }
    g_autofree char *tried = g_strdup_printf("The whole boat was solved %zu times with levers "
                                             "moved. A remedy leaves the spread, and at least "
                                             "5 %% of the limit, to spare.",
                                             remedies->solves);
    wrap_text(out, tried, 0, 0, style_width(style));
    for (size_t i = 0; i < remedies->n; i++)
        of_finding(result, &remedies->of[i], style, out);
    if (asked->forecast != NULL)
        write_helps_text(asked->forecast, style, out);
}
