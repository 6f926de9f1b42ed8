/* check, answers, why: one boat solved once. */
#include <string.h>

#include "app/command.h"
#include "app/load.h"
#include "app/output_file.h"
#include "base/diagnostics.h"
#include "report/answers_text.h"
#include "report/check_text.h"
#include "report/json.h"
#include "report/tables_csv.h"
#include "report/why_text.h"
#include "study/answers.h"
#include "study/doubt.h"
#include "study/remedies.h"
#include "study/work_answers.h"
#include "study/work_forecast.h"

static bool
found_bad(const Result *result)
{
    for (size_t i = 0; i < result_findings(result); i++)
        if (result_finding(result, i)->level <= LEVEL_FAULT)
            return true;
    return false;
}

/* Remedies are found for the boat as solved; then the studied spreads take the place of its own. */
static Remedies *
study_whole(Loaded *loaded, Result *result, Doubt **doubt, WorkForecast **forecast)
{
    PlanText text = loaded_text(loaded);
    Remedies *remedies = remedies_find(&loaded->input, &text, result, NULL, NULL);
    loaded->asked.remedies = remedies;
    *doubt = doubt_find(&loaded->input, result, NULL);
    doubt_apply(*doubt, result);
    study_answers_give(*doubt, result);
    loaded->asked.doubt = *doubt;
    loaded->asked.forecast = *forecast = work_forecast_find(&loaded->input, &text, NULL, NULL);
    work_answers_give(*forecast, result);
    return remedies;
}

/* Whoever names an answer of study gets the study it needs. */
static void
study_named(const Loaded *loaded, Result *result, size_t n, const char *const names[])
{
    bool named = false, dated = false;
    for (size_t i = 0; i < n; i++) {
        named |= study_answer_known(names[i]);
        dated |= work_answer_known(names[i]);
    }
    g_autoptr(Doubt) doubt = named ? doubt_find(&loaded->input, result, NULL) : NULL;
    if (doubt != NULL)
        study_answers_give(doubt, result);
    PlanText text = loaded_text(loaded);
    g_autoptr(WorkForecast) forecast =
        dated ? work_forecast_find(&loaded->input, &text, NULL, NULL) : NULL;
    if (forecast != NULL)
        work_answers_give(forecast, result);
}

/* A table for a spreadsheet into the file that -o names; takes the text over. */
static int
write_table(const CommandLine *line, const char *boat_file, GString *table)
{
    g_autoptr(GBytes) bytes = g_string_free_to_bytes(table);
    g_autofree char *ending = output_ending(line->output);
    if (strcmp(ending, "csv") != 0)
        return console_complain(EXIT_INPUT, "%s: -o takes a name that ends in .csv", line->output);
    if (!output_allowed(line->output, boat_file))
        return EXIT_INPUT;
    return output_bytes(line->output, g_steal_pointer(&bytes), NULL);
}

int
command_check(const CommandLine *line, GString *out)
{
    int code = EXIT_INPUT;
    const char *file = command_file(line, 2);
    g_autoptr(Loaded) loaded = file != NULL ? load_boat(line, file, &code) : NULL;
    if (loaded == NULL)
        return code;
    g_autoptr(Result) result = solve(&loaded->input);
    g_autoptr(Doubt) doubt = NULL;
    g_autoptr(WorkForecast) forecast = NULL;
    g_autoptr(Remedies) remedies =
        line->full ? study_whole(loaded, result, &doubt, &forecast) : NULL;
    if (line->output != NULL) {
        GString *table = g_string_new(NULL);
        write_findings_csv(result, loaded->style.units, table);
        code = write_table(line, file, table);
        if (code != EXIT_ALL_DONE)
            return code;
    } else if (line->json)
        write_check_json(result, &loaded->asked, out);
    else
        write_check_text(result, &loaded->asked, &loaded->style, out);
    return found_bad(result) ? EXIT_FOUND : EXIT_ALL_DONE;
}

static int
unknown_name(const Result *result, const char *name)
{
    const char *near = nearest_result_name(result, name);
    if (near != NULL)
        return console_complain(
            EXIT_INPUT, "there is no answer or finding '%s'; did you mean '%s'?", name, near);
    return console_complain(
        EXIT_INPUT, "there is no answer or finding '%s'; careen answers FILE lists them", name);
}

int
command_answers(const CommandLine *line, GString *out)
{
    int code = EXIT_INPUT;
    const char *file = command_file(line, 0);
    g_autoptr(Loaded) loaded = file != NULL ? load_boat(line, file, &code) : NULL;
    if (loaded == NULL)
        return code;
    g_autoptr(Result) result = solve(&loaded->input);
    size_t n = line->n_words - 2;
    const char *const *names = (const char *const *) line->words->pdata + 2;
    study_named(loaded, result, n, names);
    code = EXIT_ALL_DONE;
    for (size_t i = 0; i < n; i++)
        if (result_answer_find(result, names[i]) == NULL)
            code = unknown_name(result, names[i]);
    if (code != EXIT_ALL_DONE)
        return code;
    if (line->output != NULL && n > 0)
        return console_complain(EXIT_INPUT, "-o writes the table of all answers: leave out %s",
                                names[0]);
    if (line->output != NULL) {
        GString *table = g_string_new(NULL);
        write_answers_csv(result, loaded->style.units, table);
        return write_table(line, file, table);
    }
    if (line->json)
        write_answers_json(result, n, names, out);
    else
        write_answers_text(result, n, names, &loaded->style, out);
    return EXIT_ALL_DONE;
}

int
command_why(const CommandLine *line, GString *out)
{
    int code = EXIT_INPUT;
    const char *file = command_file(line, 3);
    const char *name = command_line_word(line, 2);
    if (file != NULL && name == NULL)
        return console_complain(
            EXIT_INPUT, "why needs the name of an answer or a finding: careen why %s afloat.gm",
            file);
    g_autoptr(Loaded) loaded = file != NULL ? load_boat(line, file, &code) : NULL;
    if (loaded == NULL)
        return code;
    loaded->input.fine = true;
    g_autoptr(Result) result = solve(&loaded->input);
    study_named(loaded, result, 1, &name);
    bool written = line->json ? write_why_json(result, name, out)
                              : write_why_text(result, name, &loaded->style, out);
    return written ? EXIT_ALL_DONE : unknown_name(result, name);
}
