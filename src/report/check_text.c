/* The terminal's view of a result: the front lines, the findings under their causes, the answers,
 * the cautions. Invariant: no line says "safe" or "compliant"; nothing found is said with how much
 * was asked. */
#include "report/check_text.h"

#include <math.h>
#include <string.h>

#include "base/number.h"
#include "report/answers_text.h"
#include "report/colour.h"
#include "report/front_lines.h"
#include "report/doubt_text.h"
#include "report/fine.h"
#include "report/forecast_text.h"
#include "report/remedies_text.h"
#include "report/words.h"
#include "report/wrap.h"

enum { INDENT = 8 };

const char check_no_survey[] =
    "This is no approved stability book and no survey. A naval architect, a surveyor or the "
    "authority decides.";
const char check_no_approval[] = "This is no survey and no approval. The rules of her flag, her "
                                 "insurer and a licensed electrician decide.";
const char check_not_listed[] =
    "Nothing listed is not nothing wrong: only what stands in the file was looked at.";

static const Mark level_marks[] = {MARK_BAD, MARK_BAD, MARK_DOUBT, MARK_FINE};

static void
heading(GString *out, const Style *style, const char *text)
{
    g_string_append_c(out, '\n');
    mark_text(out, style, MARK_BOLD, text);
    g_string_append_c(out, '\n');
}

static void
head(const Result *result, const Asked *asked, const Style *style, GString *out)
{
    g_autofree char *name = text_clean(boat_name(result));
    g_autoptr(GString) line = g_string_new(name);
    g_string_append_printf(line, ", %s", stage_sentence(result_stage(result)));
    for (size_t i = 0; i < asked->n_options; i++) {
        g_autofree char *named = text_clean(asked->options[i]);
        g_string_append_printf(line, "%s%s", i == 0 ? ", with option " : " and ", named);
    }
    if (asked->situation != NULL) {
        g_autofree char *words = situation_words(result, asked->situation);
        g_string_append_printf(line, ", only: %s", words);
    }
    mark_on(out, style, MARK_BOLD);
    wrap_text(out, line->str, 0, 0, style_width(style));
    mark_off(out, style);
}

static void
front(const Result *result, const Asked *asked, const Style *style, GString *out)
{
    for (int line = LINE_SINK; line <= LINE_DONE; line++) {
        g_autofree char *text = front_line(result, asked, line, style->units);
        wrap_text(out, text, 0, 2, style_width(style));
    }
    g_autofree char *next = next_line(result, true);
    wrap_text(out, next, 0, 2, style_width(style));
    size_t answered, questions;
    result_questions(result, &answered, &questions);
    g_string_append_printf(out, "In all %zu of %zu questions answered.\n", answered, questions);
}

static void
detail(GString *out, const Style *style, const char *text)
{
    g_string_append_printf(out, "%*s", INDENT, "");
    wrap_text(out, text, INDENT, INDENT + 2, style_width(style));
}

static void
detail_number(const Finding *f, const Style *style, GString *out)
{
    if (!f->measured || isnan(f->value))
        return;
    g_autofree char *value = value_spread_words(f->value, f->spread, f->kind, style->units);
    g_autofree char *limit = limit_words(f, style->units);
    g_autofree char *gap = gap_words(f, style->units);
    g_autofree char *text = gap != NULL ? g_strdup_printf("%s; %s is asked; %s.", value, limit, gap)
                                        : g_strdup_printf("%s; what is asked is not known.", value);
    detail(out, style, text);
}

static void
detail_sure(const Result *result, const Finding *f, const Style *style, GString *out)
{
    g_autofree char *sure = sure_words(result, f, true);
    if (sure == NULL)
        return;
    g_autofree char *text = g_strdup_printf("How sure: %s.", sure);
    detail(out, style, text);
}

static void
detail_source(const Finding *f, const Style *style, GString *out)
{
    g_autofree char *source = source_words(&f->source);
    if (source == NULL)
        return;
    g_autofree char *text =
        g_strdup_printf("Limit from: %s%s%s.", source, f->source_note != NULL ? "; " : "",
                        f->source_note != NULL ? f->source_note : "");
    detail(out, style, text);
}

static void
detail_settle(const Result *result, const Finding *f, const Style *style, GString *out)
{
    g_autofree char *settle = settle_words(result, f, true);
    if (settle == NULL)
        return;
    g_autofree char *line = g_strdup_printf("Settled by: %s.", settle);
    detail(out, style, line);
}

static void
detail_remedies(const Result *result, const Asked *asked, const Finding *f, const Style *style,
                GString *out)
{
    const RemediesOf *of = asked->remedies != NULL ? remedies_for(asked->remedies, f->id) : NULL;
    for (size_t i = 0; of != NULL && i < of->n_remedies; i++) {
        g_autofree char *words = remedy_words(result, &of->remedy[i], style->units);
        g_autofree char *line = g_strdup_printf("Remedy: %s.", words);
        detail(out, style, line);
    }
    if (of != NULL && of->nothing != NULL) {
        g_autofree char *line = g_strdup_printf("No remedy found: %s.", of->nothing);
        detail(out, style, line);
    }
}

static void
finding_block(const Result *result, const Asked *asked, const Finding *f, const Style *style,
              GString *out)
{
    g_autofree char *sentence = finding_sentence(result, f, style->units);
    g_autofree char *level = g_ascii_strup(level_word(f->level), -1);
    g_string_append_c(out, '\n');
    mark_on(out, style, level_marks[f->level]);
    pad_text(out, level, INDENT);
    mark_off(out, style);
    wrap_text(out, sentence, INDENT, INDENT, style_width(style));
    g_autofree char *about = path_named(result, f->about);
    g_autofree char *situation =
        f->situation != NULL ? situation_words(result, f->situation) : NULL;
    g_autofree char *line =
        g_strdup_printf("About %s%s%s.", about, situation != NULL ? "; situation: " : "",
                        situation != NULL ? situation : "");
    detail(out, style, line);
    detail_number(f, style, out);
    detail_sure(result, f, style, out);
    detail_source(f, style, out);
    detail_settle(result, f, style, out);
    detail_remedies(result, asked, f, style, out);
    mark_on(out, style, MARK_QUIET);
    g_autofree char *why = g_strdup_printf("Working: careen why FILE %s", f->id);
    detail(out, style, why);
    mark_off(out, style);
}

/* One cause, one finding: what it explains is listed in a line each. */
static void
explained(const Result *result, const Finding *cause, const Style *style, GString *out)
{
    for (size_t i = 0; i < result_findings(result); i++) {
        const Finding *f = result_finding(result, i);
        if (f->cause == NULL || strcmp(f->cause, cause->id) != 0)
            continue;
        g_autofree char *sentence = finding_sentence(result, f, style->units);
        g_autofree char *text =
            g_strdup_printf("It also explains (%s): %s", level_word(f->level), sentence);
        detail(out, style, text);
    }
}

static void
fine_line(const Result *result, const Finding *f, size_t others, const Style *style, GString *out)
{
    g_autofree char *sentence = finding_sentence(result, f, style->units);
    g_autofree char *text =
        others > 0 ? g_strdup_printf("%s %zu more hold, with more to spare.", sentence, others)
                   : g_strdup(sentence);
    mark_on(out, style, MARK_FINE);
    pad_text(out, "FINE", INDENT);
    mark_off(out, style);
    wrap_text(out, text, INDENT, INDENT, style_width(style));
}

/* Of a question with many answers that hold only the nearest to its limit stands here; `answers`, JSON and the page have all. */
static void
fine(const Result *result, const Style *style, GString *out)
{
    bool any = false;
    for (size_t i = 0; i < result_findings(result); i++) {
        const Finding *f = result_finding(result, i);
        size_t n;
        if (f->level != LEVEL_FINE)
            continue;
        if (!any)
            heading(out, style, "Shown to hold");
        any = true;
        const Finding *nearest = fine_nearest(result, f->check, &n);
        if (n <= FINE_TOLD_SINGLY)
            fine_line(result, f, 0, style, out);
        else if (f == nearest)
            fine_line(result, f, n - 1, style, out);
    }
}

static void
findings(const Result *result, const Asked *asked, const Style *style, GString *out)
{
    heading(out, style, "Findings, worst first");
    for (size_t i = 0; i < result_findings(result); i++) {
        const Finding *f = result_finding(result, i);
        if (f->level == LEVEL_FINE || !result_stands_alone(result, f))
            continue;
        finding_block(result, asked, f, style, out);
        explained(result, f, style, out);
    }
    fine(result, style, out);
    if (result_findings(result) == 0)
        g_string_append(out, "None: nothing was looked at.\n");
}

static void
caution_line(GString *out, const Style *style, const char *text)
{
    g_string_append(out, "- ");
    wrap_text(out, text, 2, 2, style_width(style));
}

static void
cautions(const Result *result, const Asked *asked, const Style *style, GString *out)
{
    heading(out, style, "Before you rely on this");
    g_autoptr(GHashTable) said = g_hash_table_new(g_str_hash, g_str_equal);
    for (size_t i = 0; i < result_check_count(result) && asked->caution != NULL; i++) {
        const char *const *ids = result_check(result, i)->cautions;
        for (; ids != NULL && *ids != NULL; ids++) {
            CautionText caution;
            if (!g_hash_table_add(said, (gpointer) *ids) ||
                !asked->caution(asked->context, *ids, &caution))
                continue;
            g_autofree char *text = g_strdup_printf(
                "%s%s%s%s", caution.text, caution.ask != NULL ? " Ask " : "",
                caution.ask != NULL ? caution.ask : "", caution.ask != NULL ? "." : "");
            caution_line(out, style, text);
        }
    }
    caution_line(out, style, check_no_survey);
    caution_line(out, style, check_not_listed);
}

void
write_check_text(const Result *result, const Asked *asked, const Style *style, GString *out)
{
    head(result, asked, style, out);
    front(result, asked, style, out);
    findings(result, asked, style, out);
    if (asked->doubt != NULL)
        write_next_text(result, asked->doubt, style, out);
    if (asked->forecast != NULL)
        write_forecast_text(asked->forecast, style, out);
    if (result_answers(result) > 0) {
        heading(out, style, "Answers, the worst of all situations");
        write_governing_text(result, style, out);
    }
    cautions(result, asked, style, out);
}
