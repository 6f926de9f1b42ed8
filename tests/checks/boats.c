/* Boats for the tests of checks. */
#include "boats.h"

#include <string.h>

static Boat *
read_boat(const char *text, gsize length, const char *option)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(GError) error = NULL;
    const char *options[] = {option};
    Boat *boat = boat_parse(text, length, option != NULL, options, notes, &error);
    g_autofree char *said = diagnostics_text(notes, "boat");
    if (boat == NULL || diagnostics_errors(notes) > 0)
        fail_msg("no boat: %s", said);
    return boat;
}

Boat *
boat_of_text(const char *text)
{
    return read_boat(text, strlen(text), NULL);
}

Boat *
boat_of_example(const char *name, const char *option)
{
    g_autofree char *path = g_strdup_printf("%s/%s.yaml", EXAMPLES, name);
    g_autofree char *text = NULL;
    gsize length;
    if (!g_file_get_contents(path, &text, &length, NULL))
        fail_msg("cannot read %s", path);
    return read_boat(text, length, option);
}

Solved
solve_boat(Boat *boat, Stage stage)
{
    Solved solved = {boat, catalog_load(), NULL};
    SolveInput input = {.boat = boat, .catalog = solved.catalog, .stage = stage};
    solved.result = solve(&input);
    return solved;
}

void
solved_clear(Solved *solved)
{
    result_free(solved->result);
    catalog_free(solved->catalog);
    boat_free(solved->boat);
}

double
answer(const Solved *solved, const char *name)
{
    const Answer *found = result_answer_find(solved->result, name);
    if (found == NULL)
        fail_msg("no answer %s", name);
    return found->value;
}

const Finding *
finding(const Solved *solved, const char *id)
{
    const Finding *found = result_finding_find(solved->result, id);
    if (found == NULL)
        fail_msg("no finding %s", id);
    return found;
}

Drawn
draw_boat(Boat *boat, const char *picture, const char *record, const char *situation)
{
    Drawn d = {.boat = boat, .catalog = catalog_load()};
    SolveInput input = {
        .boat = d.boat, .catalog = d.catalog, .stage = STAGE_DONE, .situation = situation};
    d.figure = figure_new(picture, record, &input, &d.why_not);
    return d;
}

const void *
drawn_data(const Drawn *d)
{
    if (d->figure == NULL)
        fail_msg("%s", d->why_not);
    return figure_data(d->figure);
}

void
drawn_clear(Drawn *d)
{
    figure_free(d->figure);
    boat_free(d->boat);
    catalog_free(d->catalog);
    g_free(d->why_not);
}
