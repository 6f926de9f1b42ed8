/* doubt, remedies, compare: one boat solved many times. */
#include <string.h>

#include "app/command.h"
#include "app/load.h"
#include "base/diagnostics.h"
#include "report/compare_json.h"
#include "report/compare_text.h"
#include "report/doubt_json.h"
#include "report/doubt_text.h"
#include "report/remedies_json.h"
#include "report/remedies_text.h"
#include "study/compare.h"
#include "study/doubt.h"
#include "study/remedies.h"
#include "study/work_forecast.h"

int
command_doubt(const CommandLine *line, GString *out)
{
    int code = EXIT_INPUT;
    const char *file = command_file(line, 2);
    g_autoptr(Loaded) loaded = file != NULL ? load_boat(line, file, &code) : NULL;
    if (loaded == NULL)
        return code;
    g_autoptr(Result) result = solve(&loaded->input);
    g_autoptr(Doubt) doubt = doubt_find(&loaded->input, result, NULL);
    if (line->json)
        write_doubt_json(result, doubt, &loaded->asked, out);
    else
        write_doubt_text(result, doubt, &loaded->asked, &loaded->style, out);
    return EXIT_ALL_DONE;
}

static bool
finding_known(const Result *result, const char *id)
{
    if (id == NULL || result_finding_find(result, id) != NULL)
        return true;
    g_autoptr(GPtrArray) ids = g_ptr_array_new();
    for (size_t i = 0; i < result_findings(result); i++)
        g_ptr_array_add(ids, (gpointer) result_finding(result, i)->id);
    const char *near = nearest_word(id, ids->len, (const char *const *) ids->pdata);
    if (near != NULL)
        console_complain(EXIT_INPUT, "there is no finding '%s'; did you mean '%s'?", id, near);
    else
        console_complain(EXIT_INPUT, "there is no finding '%s'; careen check FILE lists them", id);
    return false;
}

/* What helps against the date belongs to the findings of the work, and to none of the others. */
static bool
asks_for_time(const Result *result, const char *finding)
{
    for (size_t i = 0; i < result_findings(result); i++) {
        const Finding *f = result_finding(result, i);
        if (strcmp(f->check->discipline, "work") == 0 && f->level <= LEVEL_FAULT &&
            (finding == NULL || strcmp(f->id, finding) == 0))
            return true;
    }
    return false;
}

int
command_remedies(const CommandLine *line, GString *out)
{
    int code = EXIT_INPUT;
    const char *file = command_file(line, 3), *finding = command_line_word(line, 2);
    g_autoptr(Loaded) loaded = file != NULL ? load_boat(line, file, &code) : NULL;
    if (loaded == NULL)
        return code;
    g_autoptr(Result) result = solve(&loaded->input);
    if (!finding_known(result, finding))
        return EXIT_INPUT;
    PlanText text = loaded_text(loaded);
    g_autoptr(Remedies) remedies = remedies_find(&loaded->input, &text, result, finding, NULL);
    g_autoptr(WorkForecast) forecast = asks_for_time(result, finding)
                                           ? work_forecast_find(&loaded->input, &text, NULL, NULL)
                                           : NULL;
    loaded->asked.forecast = forecast;
    if (line->json)
        write_remedies_json(result, remedies, &loaded->asked, out);
    else
        write_remedies_text(result, remedies, &loaded->asked, &loaded->style, out);
    return EXIT_ALL_DONE;
}

static bool
options_known(const Boat *boat, size_t n, const char *const names[])
{
    const char *const *ids;
    size_t n_ids = boat_options(boat, &ids);
    for (size_t i = 0; i < n; i++) {
        bool known = false;
        for (size_t k = 0; k < n_ids; k++)
            known |= strcmp(ids[k], names[i]) == 0;
        if (known)
            continue;
        const char *near = nearest_word(names[i], n_ids, ids);
        if (near != NULL)
            console_complain(EXIT_INPUT, "there is no option '%s'; did you mean '%s'?", names[i],
                             near);
        else
            console_complain(EXIT_INPUT, "there is no option '%s' in this file", names[i]);
        return false;
    }
    return true;
}

int
command_compare(const CommandLine *line, GString *out)
{
    int code = EXIT_INPUT;
    const char *file = command_file(line, 0);
    g_autoptr(Loaded) loaded = file != NULL ? load_boat(line, file, &code) : NULL;
    if (loaded == NULL)
        return code;
    size_t n = line->n_words - 2;
    const char *const *options = (const char *const *) line->words->pdata + 2;
    if (!options_known(loaded->boat, n, options))
        return EXIT_INPUT;
    if (n == 0)
        n = boat_options(loaded->boat, &options);
    g_autoptr(Result) result = solve(&loaded->input);
    PlanText text = loaded_text(loaded);
    g_autoptr(Comparison) comparison = compare_plans(&loaded->input, &text, n, options, NULL);
    g_autoptr(WorkForecast) forecast = work_forecast_find(&loaded->input, &text, NULL, NULL);
    loaded->asked.forecast = forecast;
    if (line->json)
        write_compare_json(result, comparison, &loaded->asked, out);
    else
        write_compare_text(result, comparison, &loaded->asked, &loaded->style, out);
    return EXIT_ALL_DONE;
}
