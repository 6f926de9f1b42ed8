/* calc, verify: physics by name, without a boat. */
#include <string.h>

#include "app/command.h"
#include "calc/run.h"
#include "calc/verify.h"
#include "report/json_out.h"

static void
json_word_list(Json *json, const char *key, const char *const *words)
{
    if (words == NULL)
        return;
    json_begin(json, key, '[');
    for (; *words != NULL; words++)
        json_text(json, NULL, *words);
    json_end(json, ']');
}

static void
json_input(Json *json, const Input *input)
{
    json_begin(json, NULL, '{');
    json_text(json, "name", input->name);
    json_text(json, "unit", input->unit);
    json_word_list(json, "words", input->words);
    json_text(json, "kind", input->word_kind);
    json_text(json, "default", input->standard != NULL ? input->standard : input->otherwise);
    if (input->n_columns > 0)
        json_begin(json, "columns", '[');
    for (size_t i = 0; i < input->n_columns; i++) {
        json_begin(json, NULL, '{');
        json_text(json, "name", input->columns[i].name);
        json_text(json, "unit", input->columns[i].unit);
        json_word_list(json, "words", input->columns[i].words);
        json_flag(json, "optional", input->columns[i].optional);
        json_end(json, '}');
    }
    if (input->n_columns > 0)
        json_end(json, ']');
    json_end(json, '}');
}

static void
json_calculator(Json *json, const Calculator *calculator)
{
    json_begin(json, NULL, '{');
    json_text(json, "name", calculator->name);
    json_text(json, "question", calculator->question);
    json_text(json, "sheet", calculator->sheet);
    json_begin(json, "inputs", '[');
    for (size_t i = 0; i < calculator->n_inputs; i++)
        json_input(json, &calculator->inputs[i]);
    json_end(json, ']');
    json_begin(json, "outputs", '[');
    for (size_t i = 0; i < calculator->n_outputs; i++) {
        const Output *output = &calculator->outputs[i];
        json_begin(json, NULL, '{');
        json_text(json, "name", output->name);
        json_text(json, "unit", output->unit);
        json_word_list(json, "words", output->words);
        json_text(json, "kind", output->kind);
        json_flag(json, "listed", output->listed);
        json_end(json, '}');
    }
    json_end(json, ']');
    json_end(json, '}');
}

static void
json_results(GString *out, const CalcResults *results)
{
    Json json = {.out = out};
    json_begin(&json, NULL, '{');
    json_text(&json, "calculator", results_calculator(results)->name);
    json_text(&json, "validity", validity_word(results_validity(results)));
    if (results_reason(results) != NULL)
        json_text(&json, "reason", results_reason(results));
    json_begin(&json, "outputs", '{');
    for (size_t i = 0; i < results_count(results); i++) {
        const CalcValue *value = results_value(results, i);
        g_autofree char *address =
            value->index != NULL ? g_strdup_printf("%s[%s]", value->output->name, value->index)
                                 : g_strdup(value->output->name);
        json_begin(&json, address, '{');
        if (value->word != NULL)
            json_text(&json, "value", value->word);
        else
            json_number(&json, "value", value->value);
        json_text(&json, "unit", value->output->unit);
        json_end(&json, '}');
    }
    json_end(&json, '}');
    json_end(&json, '}');
    g_string_append_c(out, '\n');
}

static void
list_calculators(const CommandLine *line, GString *out)
{
    if (!line->json) {
        g_autofree char *text = calc_list_text();
        g_string_append(out, text);
        return;
    }
    Json json = {.out = out};
    json_begin(&json, NULL, '{');
    json_begin(&json, "calculators", '[');
    for (const Calculator *const *calculator = calculator_list(); *calculator != NULL; calculator++)
        json_calculator(&json, *calculator);
    json_end(&json, ']');
    json_end(&json, '}');
    g_string_append_c(out, '\n');
}

static int
explain_calculator(const CommandLine *line, const Calculator *calculator, GString *out)
{
    if (line->json) {
        Json json = {.out = out};
        json_calculator(&json, calculator);
        g_string_append_c(out, '\n');
    } else {
        g_autofree char *text = calc_usage_text(calculator);
        g_string_append(out, text);
    }
    return EXIT_ALL_DONE;
}

int
command_calc(const CommandLine *line, GString *out)
{
    const char *name = command_line_word(line, 1);
    if (name == NULL) {
        list_calculators(line, out);
        return EXIT_ALL_DONE;
    }
    const Calculator *calculator = calculator_find(name);
    if (calculator != NULL && line->n_words == 2)
        return explain_calculator(line, calculator, out);
    g_autoptr(GError) error = NULL;
    g_autoptr(CalcResults) results = calc_run(
        name, line->n_words - 2, (const char *const *) line->words->pdata + 2, ".", &error);
    if (results == NULL)
        return console_complain(EXIT_INPUT, "%s", error->message);
    if (line->json) {
        json_results(out, results);
    } else {
        g_autofree char *text = calc_results_text(results);
        g_string_append(out, text);
    }
    return EXIT_ALL_DONE;
}

static void
report_cases(const CommandLine *line, const GString *report, const VerifyCounts *counts,
             GString *out)
{
    if (!line->json) {
        g_string_append_printf(out, "%s%zu passed, %zu failed\n", report->str, counts->passed,
                               counts->failed);
        return;
    }
    Json json = {.out = out};
    json_begin(&json, NULL, '{');
    json_number(&json, "passed", (double) counts->passed);
    json_number(&json, "failed", (double) counts->failed);
    json_begin(&json, "failures", '[');
    g_auto(GStrv) rows = g_strsplit(report->str, "\n", -1);
    for (char **row = rows; *row != NULL; row++)
        if (**row != '\0')
            json_text(&json, NULL, *row);
    json_end(&json, ']');
    json_end(&json, '}');
    g_string_append_c(out, '\n');
}

int
command_verify(const CommandLine *line, GString *out)
{
    if (line->n_words < 2)
        return console_complain(EXIT_INPUT,
                                "verify needs a file of cases: careen verify CASES.csv...");
    g_auto(GStrv) only = line->only != NULL ? g_strsplit(line->only, ",", -1) : NULL;
    g_autoptr(GString) report = g_string_new(NULL);
    g_autoptr(GError) error = NULL;
    VerifyCounts counts = {0};
    if (!verify_cases(line->n_words - 1, (const char *const *) line->words->pdata + 1,
                      (const char *const *) only, report, &counts, &error))
        return console_complain(EXIT_INPUT, "%s", error->message);
    report_cases(line, report, &counts, out);
    return counts.failed > 0 ? EXIT_FOUND : EXIT_ALL_DONE;
}
