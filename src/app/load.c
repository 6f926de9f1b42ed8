/* From a text to something that can be solved.
 *
 * Invariant: a boat with one error is not solved at all. */
#include "app/load.h"

#include <stdio.h>
#include <string.h>

#include "app/command.h"
#include "boat/model.h"
#include "report/words.h"
#include "store/save.h"

static void
say_notes(const Diagnostics *notes, const char *file)
{
    g_autofree char *text = diagnostics_text(notes, file);
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
    for (char **line = lines; *line != NULL; line++) {
        g_autofree char *clean = text_clean(*line);
        if (clean[0] != '\0')
            fprintf(stderr, "%s\n", clean);
    }
}

static bool
situation_known(const Boat *boat, const char *name, char **problem)
{
    if (name == NULL || situation_is_built_in(name) ||
        boat_find(boat, &section_situations, name) != NULL)
        return true;
    size_t n;
    const Record *const *records = boat_records(boat, &section_situations, &n);
    g_autoptr(GPtrArray) names = g_ptr_array_new();
    for (size_t i = 0; i < n; i++)
        g_ptr_array_add(names, (gpointer) records[i]->id);
    for (const char *const *own = (const char *const[]){"light", "people-side", "people-aft", NULL};
         *own != NULL; own++)
        g_ptr_array_add(names, (gpointer) *own);
    const char *near = nearest_word(name, names->len, (const char *const *) names->pdata);
    *problem = near != NULL
                   ? g_strdup_printf("there is no situation '%s'; did you mean '%s'?", name, near)
                   : g_strdup_printf("there is no situation '%s' in this file", name);
    return false;
}

static bool
find_caution(const void *context, const char *id, CautionText *out)
{
    const Caution *caution = catalog_caution(context, id);
    if (caution == NULL)
        return false;
    *out = (CautionText){.text = caution->text, .ask = caution->ask};
    return true;
}

static UnitsChoice
units_of(const Chosen *chosen, const Boat *boat)
{
    if (chosen->units_given)
        return chosen->units;
    const Vessel *vessel = boat_single(boat, &section_boat)->data;
    return vessel->units == UNITS_IMPERIAL ? UNITS_IMPERIAL : UNITS_METRIC;
}

/* The clock's day, where none was chosen. An invented boat stays on the last day of her log: her plan is to be the same tomorrow. */
static Date
today_of(const Chosen *chosen, const Boat *boat)
{
    const Vessel *vessel = boat_single(boat, &section_boat)->data;
    bool demo = vessel->demo == FLAG_YES_SHOWN || vessel->demo == FLAG_YES_BARE;
    if (chosen->today.year != 0 || demo)
        return chosen->today;
    g_autoptr(GDateTime) now = g_date_time_new_now_local();
    return (Date){g_date_time_get_year(now), g_date_time_get_month(now),
                  g_date_time_get_day_of_month(now)};
}

static void
fill(Loaded *loaded, const Chosen *chosen)
{
    if (chosen->units_given) /* sentences are written in the reader's units too */
        ((Vessel *) boat_single(loaded->boat, &section_boat)->data)->units =
            chosen->units == UNITS_IMPERIAL ? 1 : 0;
    loaded->input = (SolveInput){.boat = loaded->boat,
                                 .catalog = loaded->catalog,
                                 .stage = chosen->stage,
                                 .situation = chosen->situation,
                                 .today = today_of(chosen, loaded->boat)};
    size_t n_checks = solve_checks(loaded->checks, LOAD_MOST_CHECKS);
    g_assert(n_checks <= LOAD_MOST_CHECKS);
    loaded->asked = (Asked){.n_options = chosen->n_options,
                            .options = chosen->options,
                            .situation = chosen->situation,
                            .today = chosen->today,
                            .n_checks = n_checks,
                            .check = loaded->checks,
                            .caution = find_caution,
                            .context = loaded->catalog};
    loaded->style.units = units_of(chosen, loaded->boat);
}

static Loaded *
judged(Boat *boat, const GError *error, const Chosen *chosen, const Catalog *catalog,
       const Diagnostics *notes, char **problem)
{
    g_autoptr(Loaded) loaded = g_new0(Loaded, 1);
    loaded->catalog = catalog;
    loaded->boat = boat;
    if (error != NULL)
        *problem = g_strdup(error->message);
    else if (loaded->boat == NULL || diagnostics_errors(notes) > 0)
        *problem = g_strdup_printf("%zu error%s; nothing was reckoned", diagnostics_errors(notes),
                                   diagnostics_errors(notes) == 1 ? "" : "s");
    else if (situation_known(loaded->boat, chosen->situation, problem)) {
        fill(loaded, chosen);
        return g_steal_pointer(&loaded);
    }
    return NULL;
}

Loaded *
loaded_new(const char *text, gsize length, const Chosen *chosen, const Catalog *catalog,
           Diagnostics *notes, char **problem)
{
    g_autoptr(GError) error = NULL;
    Boat *boat = boat_parse(text, length, chosen->n_options, chosen->options, notes, &error);
    return judged(boat, error, chosen, catalog, notes, problem);
}

Loaded *
loaded_read(Document *document, const Chosen *chosen, const Catalog *catalog, Diagnostics *notes,
            char **problem)
{
    g_autoptr(GError) error = NULL;
    Boat *boat = boat_read(document, chosen->n_options, chosen->options, notes, &error);
    return judged(boat, error, chosen, catalog, notes, problem);
}

Loaded *
load_boat(const CommandLine *line, const char *file, int *code)
{
    *code = EXIT_INPUT;
    g_autoptr(GError) error = NULL;
    g_autoptr(Place) place = place_find(file, &error);
    gsize length = 0;
    g_autofree char *text = place != NULL ? save_read(place, &length, &error) : NULL;
    if (text == NULL) {
        console_complain(EXIT_INPUT, "%s", error->message);
        return NULL;
    }
    const Chosen chosen = {.n_options = line->n_option,
                           .options = (const char *const *) line->option->pdata,
                           .stage = line->stage,
                           .situation = line->situation,
                           .today = line->today,
                           .units_given = line->units_given,
                           .units = line->units};
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Catalog) catalog = catalog_load();
    g_autofree char *problem = NULL;
    g_autoptr(Loaded) loaded = loaded_new(text, length, &chosen, catalog, notes, &problem);
    say_notes(notes, file);
    if (loaded == NULL) {
        console_complain(EXIT_INPUT, "%s: %s", file, problem);
        return NULL;
    }
    loaded->own_catalog = g_steal_pointer(&catalog);
    loaded->style.colour = console_colours();
    loaded->style.width = console_columns();
    return g_steal_pointer(&loaded);
}

void
loaded_free(Loaded *loaded)
{
    if (loaded == NULL)
        return;
    boat_free(loaded->boat);
    catalog_free(loaded->own_catalog);
    g_free(loaded);
}

PlanText
loaded_text(const Loaded *loaded)
{
    PlanText plan = {.n_options = loaded->asked.n_options, .options = loaded->asked.options};
    plan.text = document_text(boat_document(loaded->boat), &plan.length);
    return plan;
}
