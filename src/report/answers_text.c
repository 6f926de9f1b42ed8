/* Answers in rows: what it is, the number, on what it rests; below it the name to ask for it by. */
#include "report/answers_text.h"

#include <math.h>
#include <string.h>

#include "base/number.h"
#include "report/colour.h"
#include "report/words.h"
#include "report/wrap.h"

static char *
shown_value_of(const Answer *answer, UnitsChoice units)
{
    if (isnan(answer->value))
        return g_strdup(answer->kind->kind == Q_ANGLE ? "none found" : "not known");
    return value_spread_words(answer->value, answer->spread, answer->kind->kind, units);
}

/* Columns that line up: what, the number, how sure; below them its name and where it holds. */
static void
answer_row(const Result *result, const Answer *answer, int name_column, int value_column,
           const Style *style, GString *out)
{
    g_autofree char *words = answer_label(result, answer);
    g_autofree char *value = shown_value_of(answer, style->units);
    if (text_columns(words) <= name_column)
        pad_text(out, words, name_column);
    else {
        wrap_text(out, words, 0, 2, style_width(style));
        pad_text(out, "", name_column);
    }
    g_string_append(out, "  ");
    mark_on(out, style, MARK_BOLD);
    pad_text(out, value, value_column);
    mark_off(out, style);
    g_string_append_printf(out, "  %s\n", basis_word(answer->basis));
    g_autofree char *situation =
        answer->situation != NULL ? situation_words(result, answer->situation) : NULL;
    g_autofree char *below = g_strdup_printf(
        "%s%s%s%s", answer->name, situation != NULL ? "; " : "", situation != NULL ? situation : "",
        answer->validity == VALID ? "" : "; outside the range the method was made for");
    mark_on(out, style, MARK_QUIET);
    g_string_append(out, "    ");
    wrap_text(out, below, 4, 4, style_width(style));
    mark_off(out, style);
}

static void
answer_rows(const Result *result, GPtrArray *answers, const Style *style, GString *out)
{
    int names = 0, values = 0;
    for (guint i = 0; i < answers->len; i++) {
        const Answer *answer = g_ptr_array_index(answers, i);
        g_autofree char *words = answer_label(result, answer);
        g_autofree char *value = shown_value_of(answer, style->units);
        names = MAX(names, text_columns(words));
        values = MAX(values, text_columns(value));
    }
    values = MIN(values, 24);
    names = CLAMP(names, 12, MAX(12, style_width(style) - values - 13));
    for (guint i = 0; i < answers->len; i++)
        answer_row(result, g_ptr_array_index(answers, i), names, values, style, out);
}

void
write_answers_text(const Result *result, size_t n, const char *const names[], const Style *style,
                   GString *out)
{
    g_autoptr(GPtrArray) answers = g_ptr_array_new();
    for (size_t i = 0; n == 0 && i < result_answers(result); i++)
        g_ptr_array_add(answers, (gpointer) result_answer(result, i));
    for (size_t i = 0; i < n; i++) {
        const Answer *answer = result_answer_find(result, names[i]);
        if (answer != NULL)
            g_ptr_array_add(answers, (gpointer) answer);
    }
    answer_rows(result, answers, style, out);
}

void
write_governing_text(const Result *result, const Style *style, GString *out)
{
    g_autoptr(GPtrArray) answers = g_ptr_array_new();
    for (size_t i = 0; i < result_answers(result); i++)
        if (answer_governs(result_answer(result, i)))
            g_ptr_array_add(answers, (gpointer) result_answer(result, i));
    answer_rows(result, answers, style, out);
}
