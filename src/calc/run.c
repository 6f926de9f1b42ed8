/* Running one calculator, and its results and usage as text. Invariant: run() sees only arguments that were read whole. */
#include "calc/run.h"

#include <string.h>

static CalcResults *
run(const Calculator *calculator, CalcArguments *arguments, GError **error)
{
    if (arguments == NULL)
        return NULL;
    g_autoptr(CalcResults) results = results_new(calculator);
    calculator->run(arguments, results);
    arguments_free(arguments);
    if (results_error_said(results) != NULL) {
        g_set_error_literal(error, CALC_ERROR, 0, results_error_said(results));
        return NULL;
    }
    return g_steal_pointer(&results);
}

static const Calculator *
find(const char *name, GError **error)
{
    const Calculator *calculator = calculator_find(name);
    if (calculator != NULL)
        return calculator;
    const char *near = calculator_nearest(name);
    g_set_error(error, CALC_ERROR, 0, "there is no calculator \"%s\"%s%s%s", name,
                near != NULL ? " (" : "", near != NULL ? near : "", near != NULL ? "?)" : "");
    return NULL;
}

static gboolean
is_text(const char *words, GError **error)
{
    if (g_utf8_validate(words, -1, NULL))
        return TRUE;
    g_set_error(error, CALC_ERROR, 0, "the call of a calculator must be UTF-8 text");
    return FALSE;
}

CalcResults *
calc_run(const char *calculator, size_t n, const char *const argument[], const char *folder,
         GError **error)
{
    for (size_t i = 0; i < n; i++)
        if (!is_text(argument[i], error))
            return NULL;
    const Calculator *c = is_text(calculator, error) ? find(calculator, error) : NULL;
    return c != NULL ? run(c, arguments_parse_each(c, n, argument, folder, error), error) : NULL;
}

CalcResults *
calc_run_text(const char *calculator, const char *arguments, const char *folder, GError **error)
{
    if (!is_text(calculator, error) || !is_text(arguments, error))
        return NULL;
    const Calculator *c = find(calculator, error);
    return c != NULL ? run(c, arguments_parse(c, arguments, folder, error), error) : NULL;
}

static gboolean
has_unit(const char *unit)
{
    return unit != NULL && strcmp(unit, "1") != 0;
}

char *
calc_results_text(const CalcResults *results)
{
    GString *text = g_string_new(NULL);
    g_string_append_printf(text, "validity = %s\n", validity_word(results_validity(results)));
    if (results_reason(results) != NULL)
        g_string_append_printf(text, "because %s\n", results_reason(results));
    for (size_t i = 0; i < results_count(results); i++) {
        const CalcValue *v = results_value(results, i);
        g_string_append(text, v->output->name);
        if (v->index != NULL)
            g_string_append_printf(text, "[%s]", v->index);
        if (v->word != NULL) {
            g_string_append_printf(text, " = %s\n", v->word);
            continue;
        }
        char number[G_ASCII_DTOSTR_BUF_SIZE];
        g_ascii_formatd(number, sizeof number, "%.10g", v->value + 0.0); /* never -0 */
        g_string_append_printf(text, " = %s%s%s\n", number, has_unit(v->output->unit) ? " " : "",
                               has_unit(v->output->unit) ? v->output->unit : "");
    }
    return g_string_free(text, FALSE);
}

static void
describe_input(GString *text, const Input *input)
{
    g_string_append_printf(text, "  %s", input->name);
    if (input->kind == INPUT_LIST || input->kind == INPUT_WORD_LIST)
        g_string_append(text, " list");
    if (input->unit != NULL)
        g_string_append_printf(text, " [%s]", input->unit);
    if (input->kind == INPUT_TEXT)
        g_string_append_printf(text, " {%s}",
                               input->word_kind != NULL ? input->word_kind : "a word of the table");
    if (input->words != NULL) {
        g_autofree char *all = g_strjoinv("|", (char **) input->words);
        g_string_append_printf(text, " {%s}", all);
    }
    if (input->kind == INPUT_TABLE) {
        g_string_append(text, " table(");
        for (size_t k = 0; k < input->n_columns; k++) {
            const Column *c = &input->columns[k];
            g_string_append_printf(text, "%s%s%s%s%s", k > 0 ? ", " : "", c->name,
                                   c->unit != NULL ? " [" : "", c->unit != NULL ? c->unit : "",
                                   c->unit != NULL ? "]" : "");
        }
        g_string_append(text, ")");
    }
    const char *standard = input->standard != NULL ? input->standard : input->otherwise;
    if (standard != NULL)
        g_string_append_printf(text, " = %s", standard);
    g_string_append_c(text, '\n');
}

char *
calc_usage_text(const Calculator *calculator)
{
    GString *text = g_string_new(NULL);
    g_string_append_printf(text, "%s: %s\nmethod: docs/methods/%s\ninputs\n", calculator->name,
                           calculator->question, calculator->sheet);
    for (size_t i = 0; i < calculator->n_inputs; i++)
        describe_input(text, &calculator->inputs[i]);
    g_string_append(text, "outputs\n");
    for (size_t i = 0; i < calculator->n_outputs; i++) {
        const Output *o = &calculator->outputs[i];
        g_string_append_printf(text, "  %s%s", o->name, o->listed ? "[i]" : "");
        if (o->unit != NULL)
            g_string_append_printf(text, " [%s]", o->unit);
        if (o->words != NULL) {
            g_autofree char *all = g_strjoinv("|", (char **) o->words);
            g_string_append_printf(text, " {%s}", all);
        }
        if (o->kind != NULL)
            g_string_append_printf(text, " {%s}", o->kind);
        g_string_append_c(text, '\n');
    }
    return g_string_free(text, FALSE);
}

char *
calc_list_text(void)
{
    GString *text = g_string_new(NULL);
    for (const Calculator *const *c = calculator_list(); *c != NULL; c++)
        g_string_append_printf(text, "%-26s %s\n", (*c)->name, (*c)->question);
    return g_string_free(text, FALSE);
}
