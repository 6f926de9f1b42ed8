/* Answers in rows: what it is, the number, on what it rests; below it the name to ask for it by. */
#include "report/answers_text.h"

#include <math.h>
#include <string.h>

#include "base/number.h"
#include "report/colour.h"
#include "report/words.h"
#include "report/wrap.h"

static char *
value_words(const Answer *answer, UnitsChoice units)
{
    if (isnan(answer->value))
        return g_strdup(answer->kind->kind == Q_ANGLE ? "none found" : "not known");
    if (isfinite(answer->spread) && answer->spread > 0.0)
        return number_show_spread(answer->value, answer->spread, answer->kind->kind, units);
    return number_show(answer->value, NAN, answer->kind->kind, units);
}

static char *
sure_words(const Answer *answer)
{
    return g_strdup_printf("%s%s", basis_word(answer->basis),
                           answer->validity == VALID ? "" : ", outside the method's range");
}

/* Two columns that line up, then how sure; what does not fit goes on below, indented. */
static void
answer_row(const Result *result, const Answer *answer, int name_column, int value_column,
           const Style *style, GString *out)
{
    g_autofree char *words = answer_words(result, answer);
    g_autofree char *value = value_words(answer, style->units);
    g_autofree char *sure = sure_words(answer);
    int width = style_width(style);
    if (text_columns(words) <= name_column)
        pad_text(out, words, name_column);
    else {
        wrap_text(out, words, 0, 2, width);
        pad_text(out, "", name_column);
    }
    g_string_append(out, "  ");
    mark_on(out, style, MARK_BOLD);
    pad_text(out, value, value_column);
    mark_off(out, style);
    g_string_append_printf(out, "  %s\n", sure);
    mark_on(out, style, MARK_QUIET);
    g_string_append_printf(out, "  %s\n", answer->name);
    mark_off(out, style);
}

static void
answer_rows(const Result *result, GPtrArray *answers, const Style *style, GString *out)
{
    int names = 0, values = 0;
    for (guint i = 0; i < answers->len; i++) {
        const Answer *answer = g_ptr_array_index(answers, i);
        g_autofree char *words = answer_words(result, answer);
        g_autofree char *value = value_words(answer, style->units);
        names = MAX(names, text_columns(words));
        values = MAX(values, text_columns(value));
    }
    names = MIN(names, style_width(style) - MIN(values, 24) - 20);
    for (guint i = 0; i < answers->len; i++)
        answer_row(result, g_ptr_array_index(answers, i), MAX(names, 16), MIN(values, 24), style,
                   out);
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
