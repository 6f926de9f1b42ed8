/* A working in lines: what is put in, each formula, the same with its numbers, the value, the
 * source. */
#include "report/why_text.h"

#include <math.h>
#include <string.h>

#include "base/diagnostics.h"
#include "report/colour.h"
#include "report/words.h"
#include "report/working_words.h"
#include "report/wrap.h"

enum { INDENT = 4 };

static void
line(GString *out, const Style *style, int indent, const char *text)
{
    g_string_append_printf(out, "%*s", indent, "");
    wrap_text(out, text, indent, indent + 2, style_width(style));
}

static void
source_line(const Step *step, const Style *style, GString *out)
{
    g_autofree char *source = step_source(step);
    if (source == NULL)
        return;
    mark_on(out, style, MARK_QUIET);
    line(out, style, INDENT, source);
    mark_off(out, style);
}

static void
given(const Result *result, const Step *step, const Style *style, GString *out)
{
    g_autofree char *value = step_words(step, style->units);
    g_autofree char *label = text_clean(step->label);
    g_autofree char *from = step->path != NULL ? path_named(result, step->path) : NULL;
    const char *basis = step_basis(step);
    g_autofree char *text = g_strdup_printf("%s = %s: %s%s%s%s%s", step->symbol, value, label,
                                            basis == NULL ? "" : ", ", basis == NULL ? "" : basis,
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

static void
table_row(const Working *working, size_t begin, size_t end, size_t row, int name_column,
          GString *out)
{
    const Step *first = working_step(working, begin);
    g_autofree char *name = list_entry_words(first, row);
    g_autofree char *fitted = text_cut(name, name_column);
    g_string_append_printf(out, "%*s", INDENT, "");
    pad_text(out, fitted, name_column);
    for (size_t k = begin; k < end; k++) {
        g_autofree char *value = step_digits(working_step(working, k), row);
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
        g_autofree char *name = list_entry_words(first, i);
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
    g_autofree char *text = verdict_words(f, style->units);
    if (text == NULL)
        return;
    g_string_append_c(out, '\n');
    line(out, style, 0, text);
}

static void
steps(const Result *result, const Working *working, const Style *style, GString *out)
{
    for (size_t i = 0; i < working_steps(working);) {
        const Step *step = working_step(working, i);
        g_string_append_c(out, '\n');
        if (step->type == STEP_GIVEN && step_is_list(step)) {
            size_t end = list_table_end(working, i);
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
    wrap_text(out, working_note, 0, 0, style_width(style));
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
