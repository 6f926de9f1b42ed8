/* A working on a page: what is put in as tables, then each step with its formula, the same with its
 * numbers, the value and the source. */
#include "report/why_html.h"

#include <math.h>
#include <string.h>

#include "report/formula_math.h"
#include "report/words.h"
#include "report/working_words.h"

enum { LONG_LIST = 8, LONG_FORMULA = 28, WIDE_PIECE = 34 }; /* entries; columns */

static void
heading(const HtmlHow *how, const char *text, Markup *out)
{
    markup_element(out, how->parts_rank == 2 ? "h2" : "h3", text, NULL);
}

static void
quiet(Markup *out, const char *element, const char *text)
{
    if (text != NULL && *text != '\0')
        markup_element(out, element, text, "class", "quiet", NULL);
}

/* Where in the boat a given stands; NULL for what has no path. *whole: it says all that the label
 * does, as "height of engine vent" and "Height". */
static char *
place_words(const Result *result, const Step *step, const char *name, bool *whole)
{
    char *place = step->path != NULL ? path_words(result, step->path) : NULL;
    gsize length = strlen(name);
    *whole = place != NULL && g_ascii_strncasecmp(place, name, length) == 0 &&
             (place[length] == '\0' || g_str_has_prefix(place + length, " of "));
    return place;
}

/* Linked to where the number is changed or reckoned. */
static void
label(const Result *result, const Step *step, const HtmlHow *how, Markup *out)
{
    bool whole;
    g_autofree char *see = NULL;
    g_autofree char *name = step_label(step, &see);
    g_autofree char *place = place_words(result, step, name, &whole);
    const char *text = whole ? place : name;
    bool reckoned = see != NULL && result_answer_find(result, see) != NULL;
    g_autofree char *target = NULL;
    if (step->path != NULL && how->field_link != NULL)
        target = how->field_link(how->context, step->path);
    else if (reckoned && how->why_link != NULL)
        target = how->why_link(how->context, see);
    if (target != NULL)
        markup_element(out, "a", text, "href", target, NULL);
    else
        markup_text(out, text);
}

static char *
without_blanks(const char *text)
{
    GString *out = g_string_new(NULL);
    for (const char *at = text; *at != '\0'; at = g_utf8_next_char(at))
        if (!g_unichar_isspace(g_utf8_get_char(at)))
            g_string_append_unichar(out, g_utf8_get_char(at));
    return g_string_free(out, FALSE);
}

static char *
base_words(const Step *step, size_t entry)
{
    g_autofree char *digits = step_digits(step, entry);
    const char *unit = isfinite(step->value[entry]) ? step_unit(step) : "";
    return g_strdup_printf("%s%s%s", digits, *unit != '\0' ? " " : "", unit);
}

/* In the reader's units, and below it the number that the formulas take where it looks otherwise. */
static void
given_value(const Step *step, UnitsChoice units, Markup *out)
{
    g_autofree char *shown = value_spread_words(step->value[0], step->spread, step->kind, units);
    g_autofree char *plain = value_words(step->value[0], step->spread, step->kind, units);
    g_autofree char *base = base_words(step, 0);
    g_autofree char *a = without_blanks(plain), *b = without_blanks(base);
    markup_text(out, shown);
    if (strcmp(a, b) != 0)
        quiet(out, "div", base);
}

static void
heads(Markup *out, const char *const words[], const char *number)
{
    markup_open(out, "thead", NULL);
    markup_open(out, "tr", NULL);
    for (size_t i = 0; words[i] != NULL; i++)
        markup_element(out, "th", words[i], "scope", "col", "class",
                       strcmp(words[i], number) == 0 ? "number" : NULL, NULL);
    markup_close(out);
    markup_close(out);
}

/* "stated: water density of boat; source [standing]" */
static char *
standing_words(const Result *result, const Step *step)
{
    const char *basis = step_basis(step);
    bool whole;
    g_autofree char *see = NULL, *source = step_source(step);
    g_autofree char *name = step_label(step, &see);
    g_autofree char *place = place_words(result, step, name, &whole);
    g_autoptr(GString) out = g_string_new(basis != NULL ? basis : "reckoned");
    if (place != NULL && !whole)
        g_string_append_printf(out, ": %s", place);
    if (source != NULL)
        g_string_append_printf(out, "; %s", source);
    return g_string_free(g_steal_pointer(&out), FALSE);
}

/* Two rows: on a phone the second has the whole width for where the number comes from. */
static void
given_rows(const Result *result, const Step *step, const HtmlHow *how, Markup *out)
{
    g_autofree char *standing = standing_words(result, step);
    markup_open(out, "tr", "class", "given", NULL);
    markup_open(out, "td", NULL);
    label(result, step, how, out);
    markup_close(out);
    markup_open(out, "td", NULL);
    write_formula_math(step->symbol, MATH_INLINE, out);
    markup_close(out);
    markup_open(out, "td", "class", "number", NULL);
    given_value(step, how->units, out);
    markup_close(out);
    markup_close(out);
    markup_open(out, "tr", NULL);
    markup_element(out, "td", standing, "colspan", "3", "class", "quiet", NULL);
    markup_close(out);
}

static bool
is_given(const Step *step, bool list)
{
    return step->type == STEP_GIVEN && step_is_list(step) == list;
}

static void
givens(const Result *result, const Working *working, const HtmlHow *how, Markup *out)
{
    static const char *const words[] = {"What, and from where", "Symbol", "Value", NULL};
    size_t n = 0;
    for (size_t i = 0; i < working_steps(working); i++)
        n += is_given(working_step(working, i), false);
    if (n == 0)
        return;
    markup_open(out, "table", "class", "givens", NULL);
    heads(out, words, "Value");
    markup_open(out, "tbody", NULL);
    for (size_t i = 0; i < working_steps(working); i++)
        if (is_given(working_step(working, i), false))
            given_rows(result, working_step(working, i), how, out);
    markup_close(out);
    markup_close(out);
}

static void
list_head(const Result *result, const Step *step, const HtmlHow *how, Markup *out)
{
    const char *unit = step_unit(step);
    g_autofree char *standing = standing_words(result, step);
    g_autofree char *below = g_strdup_printf("%s%s%s", unit, *unit != '\0' ? "; " : "", standing);
    markup_open(out, "th", "scope", "col", "class", "number", NULL);
    write_formula_math(step->symbol, MATH_INLINE, out);
    markup_open(out, "div", NULL);
    label(result, step, how, out);
    markup_close(out);
    quiet(out, "div", below);
    markup_close(out);
}

static void
list_cell(const Step *step, size_t entry, UnitsChoice units, Markup *out)
{
    g_autofree char *digits = step_digits(step, entry);
    g_autofree char *own = step_own_words(step, entry, units);
    markup_open(out, "td", "class", "number", NULL);
    markup_text(out, digits);
    quiet(out, "div", own);
    markup_close(out);
}

/* What is put in as lists, side by side: from begin up to end. */
static void
list_table(const Result *result, const Working *working, size_t begin, size_t end,
           const HtmlHow *how, Markup *out)
{
    const Step *first = working_step(working, begin);
    markup_open(out, "div", "class", "wide", "tabindex", "0", "role", "group", "aria-label",
                "list of numbers", NULL);
    markup_open(out, "table", NULL);
    markup_open(out, "thead", NULL);
    markup_open(out, "tr", NULL);
    markup_element(out, "th", first->names != NULL ? "What" : "No.", "scope", "col", NULL);
    for (size_t k = begin; k < end; k++)
        list_head(result, working_step(working, k), how, out);
    markup_close(out);
    markup_close(out);
    markup_open(out, "tbody", NULL);
    for (size_t entry = 0; entry < first->n; entry++) {
        g_autofree char *name = list_entry_words(first, entry);
        markup_open(out, "tr", NULL);
        markup_element(out, "th", name, "scope", "row", NULL);
        for (size_t k = begin; k < end; k++)
            list_cell(working_step(working, k), entry, how->units, out);
        markup_close(out);
    }
    markup_close(out);
    markup_close(out);
    markup_close(out);
}

/* A long list is folded: what is told of it stays. */
static void
list_group(const Result *result, const Working *working, size_t begin, size_t end,
           const HtmlHow *how, Markup *out)
{
    const Step *first = working_step(working, begin);
    bool folded = first->n > LONG_LIST;
    if (folded) {
        g_autoptr(GString) summary = g_string_new(NULL);
        g_string_printf(summary, "%zu entries: ", first->n);
        for (size_t k = begin; k < end; k++) {
            g_autofree char *see = NULL;
            g_autofree char *text = step_label(working_step(working, k), &see);
            g_string_append_printf(summary, "%s%s", k > begin ? "; " : "", text);
        }
        markup_open(out, "details", NULL);
        markup_element(out, "summary", summary->str, NULL);
    }
    list_table(result, working, begin, end, how, out);
    if (folded)
        markup_close(out);
}

static void
lists(const Result *result, const Working *working, const HtmlHow *how, Markup *out)
{
    for (size_t i = 0; i < working_steps(working);) {
        if (!is_given(working_step(working, i), true)) {
            i++;
            continue;
        }
        size_t end = list_table_end(working, i);
        list_group(result, working, i, end, how, out);
        i = end;
    }
}

/* What may be wider than a phone can be scrolled with the keyboard too. */
static void
formula(const char *text, const char *name, Markup *out)
{
    bool wide = formula_math_columns(text) > WIDE_PIECE;
    markup_open(out, "div", "class", "m", "tabindex", wide ? "0" : NULL, "role",
                wide ? "group" : NULL, "aria-label", wide ? name : NULL, NULL);
    write_formula_math(text, strlen(text) > LONG_FORMULA ? MATH_BROKEN : MATH_BLOCK, out);
    markup_close(out);
}

static void
step_item(const Result *result, const Working *working, size_t index, const HtmlHow *how,
          Markup *out)
{
    const Step *step = working_step(working, index);
    bool found = step->type == STEP_FOUND;
    g_autofree char *whole = found ? g_strdup(step->expression)
                                   : g_strdup_printf("%s = %s", step->symbol, step->expression);
    g_autofree char *numbers = numbers_put_in(working, index);
    g_autofree char *put_in = g_strdup_printf("%s%s", found ? "" : "= ", numbers);
    g_autofree char *value = step_words(step, how->units);
    g_autofree char *outcome = g_strdup_printf(" = %s", value);
    g_autofree char *source = step_source(step);
    markup_open(out, "li", NULL);
    markup_open(out, "div", "class", "step", NULL);
    label(result, step, how, out);
    if (found)
        markup_text(out, ", found by trial so that this holds");
    markup_close(out);
    formula(whole, "formula", out);
    if (strcmp(numbers, step->expression) != 0)
        formula(put_in, "formula with its numbers", out);
    markup_open(out, "div", "class", "outcome", NULL);
    write_formula_math(step->symbol, MATH_INLINE, out);
    markup_text(out, outcome);
    markup_close(out);
    quiet(out, "div", source);
    markup_close(out);
}

static void
steps(const Result *result, const Working *working, const HtmlHow *how, Markup *out)
{
    size_t n = 0;
    for (size_t i = 0; i < working_steps(working); i++)
        n += working_step(working, i)->type != STEP_GIVEN;
    if (n == 0)
        return;
    heading(how, "How it follows", out);
    quiet(out, "p", working_note);
    markup_open(out, "ol", "class", "steps", NULL);
    for (size_t i = 0; i < working_steps(working); i++)
        if (working_step(working, i)->type != STEP_GIVEN)
            step_item(result, working, i, how, out);
    markup_close(out);
}

static void
whole_working(const Result *result, const Working *working, const HtmlHow *how, Markup *out)
{
    if (working == NULL || working_steps(working) == 0) {
        markup_element(out, "p", "There is no number behind this.", NULL);
        return;
    }
    heading(how, "What is put in", out);
    givens(result, working, how, out);
    lists(result, working, how, out);
    steps(result, working, how, out);
}

bool
write_why_html(const Result *result, const char *name, const HtmlHow *how, Markup *out)
{
    const Answer *answer = result_answer_find(result, name);
    const Finding *finding = answer == NULL ? result_finding_find(result, name) : NULL;
    if (answer == NULL && finding == NULL)
        return false;
    g_autofree char *title = answer != NULL ? answer_words(result, answer)
                                            : finding_sentence(result, finding, how->units);
    g_autofree char *verdict = finding != NULL ? verdict_words(finding, how->units) : NULL;
    markup_open(out, "article", "class", "why", NULL);
    if (how->parts_rank == 0)
        markup_element(out, "h2", title, NULL);
    if (verdict != NULL)
        markup_element(out, "p", verdict, NULL);
    whole_working(result, answer != NULL ? answer->working : finding->working, how, out);
    markup_close(out);
    return true;
}
