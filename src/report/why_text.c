/* A working in lines: what is put in, each formula, the same with its numbers, the value, the
 * source. Invariant: numbers stand in the working's own SI units, so that each line can be followed
 * by hand. */
#include "report/why_text.h"

#include <math.h>
#include <string.h>

#include "base/diagnostics.h"
#include "base/number.h"
#include "report/colour.h"
#include "report/scan_symbols.h"
#include "report/words.h"
#include "report/wrap.h"

enum { INDENT = 4 };

static char *
digits(double value)
{
    char text[G_ASCII_DTOSTR_BUF_SIZE];
    if (!isfinite(value))
        return g_strdup("not known");
    return g_strdup(g_ascii_formatd(text, sizeof text, "%.6g", value == 0.0 ? 0.0 : value));
}

/* A spread: two digits, and no exponent where a plain number is as short. */
static char *
two_digits(double value)
{
    char text[G_ASCII_DTOSTR_BUF_SIZE];
    return digits(g_ascii_strtod(g_ascii_formatd(text, sizeof text, "%.2g", value), NULL));
}

static bool
is_list(const Step *step)
{
    return step->n != 1 || step->names != NULL;
}

static const char *
unit_of(const Step *step)
{
    const char *unit = kind_si(step->kind);
    return strcmp(unit, "1") == 0 || strcmp(unit, "frac") == 0 ? "" : unit;
}

/* "= 0.998 m ± 0.1" with the reader's own unit behind it where that is another one. */
static char *
step_words(const Step *step, UnitsChoice units)
{
    g_autofree char *value = digits(step->value[0]);
    g_autoptr(GString) out = g_string_new(value);
    if (*unit_of(step) != '\0' && isfinite(step->value[0]))
        g_string_append_printf(out, " %s", unit_of(step));
    if (isfinite(step->spread) && step->spread > 0.0) {
        g_autofree char *spread = two_digits(step->spread);
        g_string_append_printf(out, " \u00b1 %s", spread);
    }
    const char *shown = number_unit(step->value[0], step->kind, units);
    if (isfinite(step->value[0]) && strcmp(shown, unit_of(step)) != 0 && *unit_of(step) != '\0') {
        g_autofree char *own = value_words(step->value[0], step->spread, step->kind, units);
        g_string_append_printf(out, " (%s)", own);
    }
    return g_string_free(g_steal_pointer(&out), FALSE);
}

/* The formula with each scalar's number in its place; lists keep their symbol. */
static char *
numbers_put_in(const Working *working, size_t index)
{
    const Step *step = working_step(working, index);
    g_autoptr(GString) out = g_string_new(NULL);
    const char *from = step->expression;
    SymbolScan scan = symbol_scan(step->expression);
    while (symbol_next(&scan)) {
        const Step *input = symbol_step(working, index, &scan);
        bool own = step->type == STEP_FOUND && strlen(step->symbol) == scan.length &&
                   strncmp(step->symbol, scan.symbol, scan.length) == 0;
        input = own ? step : input;
        if (input == NULL || is_list(input))
            continue;
        g_autofree char *value = digits(input->value[0]);
        g_string_append_len(out, from, scan.symbol - from);
        bool enclosed = scan.symbol > step->expression && scan.symbol[-1] == '(' && *scan.at == ')';
        g_string_append_printf(out, input->value[0] < 0.0 && !enclosed ? "(%s)" : "%s", value);
        from = scan.at;
    }
    g_string_append(out, from);
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static void
line(GString *out, const Style *style, int indent, const char *text)
{
    g_string_append_printf(out, "%*s", indent, "");
    wrap_text(out, text, indent, indent + 2, style_width(style));
}

static void
source_line(const Step *step, const Style *style, GString *out)
{
    g_autofree char *source = source_words(&step->source);
    if (source == NULL && step->validity == VALID)
        return;
    g_autofree char *text = g_strdup_printf(
        "%s%s", source != NULL ? source : "",
        step->validity == EXTRAPOLATED ? "; outside the range the method was made for" : "");
    mark_on(out, style, MARK_QUIET);
    line(out, style, INDENT, text);
    mark_off(out, style);
}

static void
given(const Result *result, const Step *step, const Style *style, GString *out)
{
    g_autofree char *value = step_words(step, style->units);
    g_autofree char *label = text_clean(step->label);
    g_autofree char *from = step->path != NULL ? path_named(result, step->path) : NULL;
    /* What was reckoned elsewhere bears its source; that nobody doubted it does not make it measured. */
    bool reckoned_before = step->path == NULL && step->basis == BASIS_MEASURED;
    g_autofree char *text =
        g_strdup_printf("%s = %s: %s%s%s%s%s", step->symbol, value, label,
                        reckoned_before ? "" : ", ", reckoned_before ? "" : basis_word(step->basis),
                        from != NULL ? ": " : "", from != NULL ? from : "");
    line(out, style, 0, text);
}

static void
reckoned(const Working *working, size_t index, const Style *style, GString *out)
{
    const Step *step = working_step(working, index);
    g_autofree char *label = text_clean(step->label);
    g_autofree char *value = step_words(step, style->units);
    g_autofree char *numbers = numbers_put_in(working, index);
    bool found = step->type == STEP_FOUND;
    g_autofree char *title = g_strdup_printf("%s: %s%s", step->symbol, label,
                                             found ? ", found by trial so that this holds" : "");
    g_autofree char *formula = found ? g_strdup(step->expression)
                                     : g_strdup_printf("%s = %s", step->symbol, step->expression);
    line(out, style, 0, title);
    line(out, style, INDENT, formula);
    if (strcmp(numbers, step->expression) != 0) {
        g_autofree char *put_in = found ? g_strdup(numbers) : g_strdup_printf("= %s", numbers);
        line(out, style, INDENT, put_in);
    }
    g_autofree char *outcome =
        g_strdup_printf(found ? "%s = %s" : "%s= %s", found ? step->symbol : "", value);
    mark_on(out, style, MARK_BOLD);
    line(out, style, INDENT, outcome);
    mark_off(out, style);
    source_line(step, style, out);
}

/* Lists of one length that follow each other and do not name other things stand in one table. */
static size_t
table_end(const Working *working, size_t begin)
{
    const Step *first = working_step(working, begin);
    size_t end = begin + 1;
    for (; end < working_steps(working) && end < begin + 5; end++) {
        const Step *step = working_step(working, end);
        if (step->type != STEP_GIVEN || !is_list(step) || step->n != first->n ||
            (step->names != NULL && step->names != first->names))
            break;
    }
    return end;
}

static void
table_row(const Working *working, size_t begin, size_t end, size_t row, int name_column,
          GString *out)
{
    const Step *first = working_step(working, begin);
    g_autofree char *name = first->names != NULL && first->names[row] != NULL
                                ? name_words(first->names[row])
                                : g_strdup_printf("%zu", row + 1);
    g_autofree char *fitted = text_cut(name, name_column);
    g_string_append_printf(out, "%*s", INDENT, "");
    pad_text(out, fitted, name_column);
    for (size_t k = begin; k < end; k++) {
        g_autofree char *value = digits(working_step(working, k)->value[row]);
        g_string_append_printf(out, " %12s", value);
    }
    g_string_append_c(out, '\n');
}

static void
table(const Working *working, size_t begin, size_t end, const Style *style, GString *out)
{
    const Step *first = working_step(working, begin);
    int room = style_width(style) - INDENT - (int) (end - begin) * 13, name_column = 4;
    for (size_t i = 0; i < first->n && first->names != NULL; i++) {
        g_autofree char *name = name_words(first->names[i] != NULL ? first->names[i] : "");
        name_column = MAX(name_column, text_columns(name));
    }
    name_column = CLAMP(name_column, 4, MAX(room, 12));
    for (size_t k = begin; k < end; k++) {
        const Step *step = working_step(working, k);
        g_autofree char *label = text_clean(step->label);
        g_autofree char *text = g_strdup_printf("%s: %s, %s, %s", step->symbol, label,
                                                kind_si(step->kind), basis_word(step->basis));
        line(out, style, 0, text);
    }
    g_string_append_printf(out, "%*s", INDENT + name_column, "");
    for (size_t k = begin; k < end; k++)
        g_string_append_printf(out, " %12s", working_step(working, k)->symbol);
    g_string_append_c(out, '\n');
    for (size_t row = 0; row < first->n; row++)
        table_row(working, begin, end, row, name_column, out);
}

static void
verdict(const Finding *f, const Style *style, GString *out)
{
    if (!f->measured)
        return;
    g_autofree char *limit = limit_words(f, style->units);
    g_autofree char *value = value_spread_words(f->value, f->spread, f->kind, style->units);
    g_autofree char *source = source_words(&f->source);
    g_autofree char *text = g_strdup_printf(
        "Judged: %s, %s is asked: %s.%s%s", isnan(f->value) ? "not known" : value, limit,
        level_word(f->level), source != NULL ? " Limit from: " : "", source != NULL ? source : "");
    g_string_append_c(out, '\n');
    line(out, style, 0, text);
}

static void
steps(const Result *result, const Working *working, const Style *style, GString *out)
{
    for (size_t i = 0; i < working_steps(working);) {
        const Step *step = working_step(working, i);
        g_string_append_c(out, '\n');
        if (step->type == STEP_GIVEN && is_list(step)) {
            size_t end = table_end(working, i);
            table(working, i, end, style, out);
            i = end;
            continue;
        }
        if (step->type == STEP_GIVEN) {
            given(result, step, style, out);
            source_line(step, style, out);
        } else
            reckoned(working, i, style, out);
        i++;
    }
}

bool
write_why_text(const Result *result, const char *name, const Style *style, GString *out)
{
    const Answer *answer = result_answer_find(result, name);
    const Finding *finding = result_finding_find(result, name);
    if (answer == NULL && finding == NULL)
        return false;
    g_autofree char *title = answer != NULL ? answer_words(result, answer)
                                            : finding_sentence(result, finding, style->units);
    g_autofree char *head = g_strdup_printf("%s (%s)", title, name);
    mark_on(out, style, MARK_BOLD);
    wrap_text(out, head, 0, 2, style_width(style));
    mark_off(out, style);
    const Working *working = answer != NULL ? answer->working : finding->working;
    if (working == NULL) {
        g_string_append(out, "There is no number behind this.\n");
        return true;
    }
    wrap_text(out,
              "All numbers are in the base units of the working (m, kg, s, rad), so that every "
              "line can be "
              "followed by hand; what is behind \u00b1 holds 95 times in 100.",
              0, 0, style_width(style));
    steps(result, working, style, out);
    if (answer == NULL)
        verdict(finding, style, out);
    return true;
}

const char *
nearest_result_name(const Result *result, const char *name)
{
    g_autoptr(GPtrArray) names = g_ptr_array_new();
    for (size_t i = 0; i < result_answers(result); i++)
        g_ptr_array_add(names, (gpointer) result_answer(result, i)->name);
    for (size_t i = 0; i < result_findings(result); i++)
        g_ptr_array_add(names, (gpointer) result_finding(result, i)->id);
    return nearest_word(name, names->len, (const char *const *) names->pdata);
}
