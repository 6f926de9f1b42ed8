/* Cables from end to end on the plan of the boat, and their typed lengths against the straight way.
 * Invariant: an end whose place is not written down is named, never put somewhere. */
#include <math.h>
#include <string.h>

#include "checks/afloat/figures.h"
#include "checks/wiring/figures.h"
#include "result/picture/cable_routes.h"

typedef struct {
    const Record *record;
    RouteEnd end;
    double spread_m; /* of its place */
} End;

typedef struct {
    FigureStore *store;
    GArray *ends;       /* End */
    GArray *routes;     /* CableRoute */
    GPtrArray *missing; /* const Record *: ends without a place */
    size_t left_out;    /* circuits */
} Gather;

static bool
is_placed(const Record *record)
{
    return isfinite(record_number(record, "along")) && isfinite(record_number(record, "across"));
}

static double
place_spread(const Record *record)
{
    double sum = 0.0;
    static const char *const keys[] = {"along", "across", "height"};
    for (size_t i = 0; i < G_N_ELEMENTS(keys); i++)
        sum = hypot(sum, record_state(record, keys[i])->spread);
    return sum;
}

/* Index of the end, or NO_PLACE where the file does not say where it is. */
static size_t
end_at(Gather *g, const char *id)
{
    const Record *record = end_record(g->store->wiring->boat, id);
    if (record == NULL)
        return NO_PLACE;
    for (guint i = 0; i < g->ends->len; i++)
        if (g_array_index(g->ends, End, i).record == record)
            return i;
    if (!is_placed(record)) {
        if (!g_ptr_array_find(g->missing, record, NULL))
            g_ptr_array_add(g->missing, (gpointer) record);
        return NO_PLACE;
    }
    End end = {.record = record,
               .end = {record->path,
                       record_words(record),
                       {record_number(record, "along"), record_number(record, "across"),
                        record_number(record, "height")},
                       record->section != &section_items},
               .spread_m = place_spread(record)};
    g_array_append_val(g->ends, end);
    return g->ends->len - 1;
}

static void
add_route(Gather *g, const Record *record)
{
    const Circuit *typed = record->data;
    size_t from = end_at(g, typed->from.id), to = end_at(g, typed->to.id);
    if (from == NO_PLACE || to == NO_PLACE || from == to) {
        g->left_out++;
        return;
    }
    End *a = &g_array_index(g->ends, End, from);
    const End *b = &g_array_index(g->ends, End, to);
    a->end.feeds = true;
    double up = b->end.at.z_m - a->end.at.z_m,
           flat = hypot(b->end.at.x_m - a->end.at.x_m, b->end.at.y_m - a->end.at.y_m);
    CableRoute route = {.path = record->path,
                        .name = record_words(record),
                        .label = label_of(g->store, record),
                        .from = from,
                        .to = to,
                        .area_m2 = typed->area_m2,
                        .length_m = typed->one_way_m,
                        .straight_m = isfinite(up) ? hypot(flat, up) : flat};
    route.too_short = route.length_m < route.straight_m - hypot(a->spread_m, b->spread_m);
    g_array_append_val(g->routes, route);
}

static const char *
unplaced_words(Gather *g)
{
    if (g->left_out == 0)
        return NULL;
    g_autoptr(GString) names = g_string_new(NULL);
    for (guint i = 0; i < g->missing->len; i++)
        g_string_append_printf(names, "%s%s", i > 0 ? ", " : "",
                               record_words(g_ptr_array_index(g->missing, i)));
    const char *circuits = g->left_out == 1 ? "circuit is" : "circuits are";
    if (names->len == 0)
        return figure_text(g->store, "%zu %s not drawn: an end is not written down.", g->left_out,
                           circuits);
    return figure_text(g->store,
                       "%zu %s not drawn, because nobody has written down where these are "
                       "(along, across, height): %s.",
                       g->left_out, circuits, names->str);
}

/* Aft to forward; what stands in one place, as the file has it. */
static int
by_place(gconstpointer a, gconstpointer b, gpointer data)
{
    const End *ends = data;
    size_t i = *(const size_t *) a, k = *(const size_t *) b;
    double x = ends[i].end.at.x_m, y = ends[k].end.at.x_m;
    return x < y ? -1 : x > y ? 1 : i < k ? -1 : i > k;
}

static void
hand_over(Gather *g, CableRoutesPicture *fig)
{
    size_t n = g->ends->len;
    size_t *order = figure_block(g->store, n * sizeof *order),
           *now = figure_block(g->store, n * sizeof *now);
    RouteEnd *end = figure_block(g->store, n * sizeof *end);
    CableRoute *route = figure_block(g->store, g->routes->len * sizeof *route);
    for (size_t i = 0; i < n; i++)
        order[i] = i;
    g_qsort_with_data(order, (gint) n, sizeof *order, by_place, g->ends->data);
    for (size_t i = 0; i < n; i++) {
        end[i] = g_array_index(g->ends, End, order[i]).end;
        now[order[i]] = i;
    }
    for (guint i = 0; i < g->routes->len; i++) {
        route[i] = g_array_index(g->routes, CableRoute, i);
        route[i].from = now[route[i].from];
        route[i].to = now[route[i].to];
    }
    fig->ends = n;
    fig->end = end;
    fig->routes = g->routes->len;
    fig->route = route;
}

void *
figure_cable_routes(FigureStore *store)
{
    const Boat *boat = store->wiring->boat;
    size_t n;
    const Record *const *records = boat_records(boat, &section_circuits, &n);
    g_autoptr(GArray) ends = g_array_new(FALSE, TRUE, sizeof(End));
    g_autoptr(GArray) routes = g_array_new(FALSE, TRUE, sizeof(CableRoute));
    g_autoptr(GPtrArray) missing = g_ptr_array_new();
    Gather g = {store, ends, routes, missing, 0};
    for (size_t i = 0; i < n; i++)
        add_route(&g, records[i]);
    if (routes->len == 0) {
        store->why_not =
            n == 0
                ? "no circuit is written down, so no cable has a way (circuits.ID)"
                : "no circuit has both its ends placed: write along, across and height of boards "
                  "and devices (busbars.ID.along, items.ID.along)";
        return NULL;
    }
    CableRoutesPicture *fig = figure_block(store, sizeof *fig);
    const Vessel *vessel = boat_single(boat, &section_boat)->data;
    fig->caption = figure_text(store, "%s: %u of %zu circuits", vessel->name, routes->len, n);
    fig->unplaced = unplaced_words(&g);
    figure_deck(store, &fig->deck_points, &fig->deck_x_m, &fig->deck_y_m);
    hand_over(&g, fig);
    return fig;
}
