/* Where water can get in: the openings listed, and the deck edge where none is or where there is no deck.
 * Invariant: there is always at least one inlet once there is a hull. */
#include <math.h>

#include "checks/afloat/afloat.h"

bool
inlet_floods(const Inlet *inlet)
{
    return inlet->closes == CLOSES_NEVER || inlet->closes == CLOSES_BY_HAND;
}

static void
add_edge(Afloat *afloat)
{
    bool open = afloat->vessel->deck == VESSEL_OPEN;
    Inlet edge = {.id = open ? "gunwale" : "deck-edge",
                  .path = "hull",
                  .name = open ? "the gunwale" : "the deck edge",
                  .closes = CLOSES_NEVER,
                  .edge = true,
                  .x_m = NAN,
                  .y_m = NAN,
                  .z_m = NAN,
                  .spread_m = 0.0,
                  .basis = BASIS_STATED};
    g_array_append_val(afloat->inlets, edge);
}

void
afloat_find_inlets(Afloat *afloat)
{
    if (afloat->hull == NULL)
        return;
    size_t n, listed = 0;
    const Record *const *records = boat_records(afloat->boat, &section_openings, &n);
    for (size_t i = 0; i < n; i++) {
        const Opening *typed = records[i]->data;
        if (!isfinite(typed->along_m) || !isfinite(typed->height_m))
            continue;
        const FieldState *height = record_state(records[i], "height");
        Inlet inlet = {.record = records[i],
                       .id = records[i]->id,
                       .path = records[i]->path,
                       .name = typed->what != NULL ? typed->what : records[i]->id,
                       .closes = typed->closes < 0 ? CLOSES_NEVER : (Closes) typed->closes,
                       .x_m = typed->along_m,
                       .y_m = typed->across_m,
                       .z_m = typed->height_m,
                       .spread_m = height->spread,
                       .basis = height->basis};
        g_array_append_val(afloat->inlets, inlet);
        listed++;
    }
    if (listed == 0 || afloat->vessel->deck == VESSEL_OPEN)
        add_edge(afloat);
}

double
inlet_height_m(const Inlet *inlet, const Case *c)
{
    if (inlet->edge)
        return c->side.least_freeboard_m;
    return attitude_height_m(&c->rest.at, inlet->x_m, inlet->y_m, inlet->z_m);
}

const Case *
afloat_lowest(const Afloat *afloat, const Inlet *inlet)
{
    const Case *lowest = NULL;
    for (guint i = 0; i < afloat->cases->len; i++) {
        const Case *c = g_ptr_array_index(afloat->cases, i);
        if (case_floats(c) &&
            (lowest == NULL || inlet_height_m(inlet, c) < inlet_height_m(inlet, lowest)))
            lowest = c;
    }
    return lowest;
}
