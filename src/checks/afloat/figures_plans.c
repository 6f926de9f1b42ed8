/* The plans side by side: the file without an option, and with each of them alone.
 * Invariant: nothing of the picture lives in the boats it was taken from. */
#include <math.h>

#include "checks/afloat/figures.h"
#include "checks/afloat/workings.h"
#include "result/picture/plans.h"

static Boat *
boat_of_plan(const Boat *boat, const char *option, const char **fault, FigureStore *store)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(GError) error = NULL;
    g_autoptr(Boat) made =
        boat_read(boat_base(boat), option != NULL, option != NULL ? &option : NULL, notes, &error);
    if (made != NULL && diagnostics_errors(notes) == 0)
        return g_steal_pointer(&made);
    *fault = figure_text(store, "this plan has a fault in the file: see `careen compare`%s%s",
                         error != NULL ? ": " : "", error != NULL ? error->message : "");
    return NULL;
}

/* Blocks with texts of the picture's own. */
static const Block *
own_houses(FigureStore *store, size_t *n)
{
    const Block *there = figure_houses(store, n);
    Block *own = figure_block(store, *n * sizeof *own);
    for (size_t i = 0; i < *n; i++) {
        own[i] = there[i];
        own[i].path = figure_text(store, "%s", there[i].path);
        own[i].name = figure_text(store, "%s", there[i].name);
    }
    return own;
}

static void
fill_lie(FigureStore *store, const Case *c, PlanView *view)
{
    const Afloat *afloat = store->afloat;
    Linear trim = linear_trim(c), list = linear_list(afloat, c);
    view->lie = figure_lie(c);
    view->trim_rad = c->rest.at.trim_rad;
    view->trim_spread_rad = spread_of(afloat, c, &trim, NULL).spread;
    view->list_rad = c->rest.at.heel_rad;
    view->list_spread_rad = spread_of(afloat, c, &list, NULL).spread;
    view->freeboard_m = c->side.least_freeboard_m;
    HalfSection there = figure_section(store, c->side.least_freeboard_x_m);
    double across = there.y_m[there.n - 1] * (c->side.least_freeboard_side > 0 ? -1.0 : 1.0);
    Linear height = linear_height(afloat, c, there.x_m, across);
    view->freeboard_spread_m = spread_of(afloat, c, &height, NULL).spread;
}

static void
fill_plan(FigureStore *store, const Boat *boat, PlanView *view)
{
    const Afloat *asked = store->afloat;
    const char *situation = asked->only_situation != NULL ? asked->only_situation : "light";
    g_autoptr(Afloat) afloat = afloat_new(boat, asked->catalog, asked->stage, situation, false);
    const Case *c = afloat->cases->len > 0 ? g_ptr_array_index(afloat->cases, 0) : NULL;
    if (afloat->hull == NULL) {
        view->fault = "her shape is not known: no stations, no readings that give them";
        return;
    }
    FigureStore own = {.blocks = store->blocks, .afloat = afloat, .stage = store->stage};
    view->hull = figure_outline(&own);
    view->house = own_houses(&own, &view->houses);
    if (c != NULL && case_floats(c))
        fill_lie(&own, c, view);
}

void *
figure_plans(FigureStore *store)
{
    const Afloat *afloat = store->afloat;
    const char *const *options;
    size_t n = boat_options(afloat->boat, &options);
    PlanView *view = figure_block(store, (n + 1) * sizeof *view);
    for (size_t i = 0; i <= n; i++) {
        const char *option = i > 0 ? options[i - 1] : NULL;
        view[i] =
            (PlanView){.name = option != NULL ? figure_text(store, "%s", option) : "the base plan",
                       .lie = {NAN, NAN, NAN}};
        g_autoptr(Boat) boat = boat_of_plan(afloat->boat, option, &view[i].fault, store);
        if (boat != NULL)
            fill_plan(store, boat, &view[i]);
    }
    PlansPicture *fig = figure_block(store, sizeof *fig);
    g_autofree char *situation = g_strdelimit(
        g_strdup(afloat->only_situation != NULL ? afloat->only_situation : "light"), "-", ' ');
    *fig = (PlansPicture){.caption =
                              figure_text(store, "%s, %s: %s; %zu option%s", afloat->vessel->name,
                                          store->stage, situation, n, n == 1 ? "" : "s"),
                          .plans = n + 1,
                          .plan = view};
    if (view[0].fault == NULL)
        return fig;
    store->why_not = view[0].fault;
    return NULL;
}
