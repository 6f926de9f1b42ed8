/* Walks outward from one end of a conductor over what is usually joined.
 * Invariant: positive conductors only: a return carries what the way out lets through. */
#include "checks/wiring/far_side.h"

#include <math.h>

typedef struct {
    size_t a, b;
    const Record *cable;  /* NULL: bolted */
    const Record *device; /* in the way between the two, or NULL */
    double ohm;           /* of the cable, cold; NAN: not known */
} Join;

static const Record *
if_any(const Record *protect)
{
    const Protection *typed = protect != NULL ? protect->data : NULL;
    return typed != NULL && typed->kind != PROTECT_NONE ? protect : NULL;
}

static const Record *
board_device(const Wiring *wiring, size_t place)
{
    return if_any(record_role(wiring_place(wiring, place)->record, &section_busbar_protect));
}

/* That through which the board at its end is fed: by this cable, unless it is bolted to what feeds it. */
static const Record *
main_device(const Wiring *wiring, const Cable *cable)
{
    return wiring_place(wiring, cable->to)->fed_by == NO_PLACE ? board_device(wiring, cable->to)
                                                               : NULL;
}

GArray *
far_side_joins(const Wiring *wiring)
{
    GArray *joins = g_array_new(FALSE, TRUE, sizeof(Join));
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        if (cable->typed->wires == WIRES_NEGATIVE)
            continue;
        const Record *own = if_any(cable->protect);
        Join join = {cable->from, cable->to, cable->record,
                     own != NULL ? own : main_device(wiring, cable),
                     cable_ohm(cable, COLD_METAL_K)};
        g_array_append_val(joins, join);
    }
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        Join join = {place->fed_by, i, NULL, board_device(wiring, i), 0.0};
        if (place->fed_by != NO_PLACE && place->direct)
            g_array_append_val(joins, join);
    }
    return joins;
}

typedef struct {
    const Record *device;
    size_t outer; /* the place behind it */
} Edge;

/* Marks all that is joined to a place: through devices too, or, with edges, up to them. */
static void
flood(const GArray *joins, const Cable *without, size_t place, bool *seen, GArray *edges)
{
    g_autoptr(GArray) open = g_array_new(FALSE, FALSE, sizeof(size_t));
    seen[place] = true;
    g_array_append_val(open, place);
    while (open->len > 0) {
        size_t at = g_array_index(open, size_t, open->len - 1);
        g_array_set_size(open, open->len - 1);
        for (guint i = 0; i < joins->len; i++) {
            const Join *join = &g_array_index(joins, Join, i);
            size_t other = join->a == at ? join->b : join->a;
            if ((join->a != at && join->b != at) || seen[other] || join->cable == without->record)
                continue;
            if (join->device != NULL && edges != NULL) {
                Edge edge = {join->device, other};
                g_array_append_val(edges, edge);
                continue;
            }
            seen[other] = true;
            g_array_append_val(open, other);
        }
    }
}

static const Place *
bank_among(const Wiring *wiring, const bool *seen, const bool *but)
{
    for (guint i = 0; i < wiring->places->len; i++)
        if (seen[i] && (but == NULL || !but[i]) && wiring_place(wiring, i)->battery != NULL)
            return wiring_place(wiring, i);
    return NULL;
}

static bool
bank_behind(const Wiring *wiring, const GArray *joins, const Cable *without, const Edge *edge,
            const bool *inside)
{
    size_t n = wiring->places->len;
    g_autofree bool *seen = g_new0(bool, n + 1);
    for (size_t i = 0; i < n; i++)
        seen[i] = inside[i];
    flood(joins, without, edge->outer, seen, NULL);
    return bank_among(wiring, seen, inside) != NULL;
}

static void
add_chargers(const Wiring *wiring, const bool *inside, FarSide *side)
{
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        if (!inside[i] || place->source == NULL || place->battery != NULL)
            continue;
        const SourceSection *source = place->source->data;
        side->chargers_A +=
            isfinite(source->current_A) ? source->current_A : source->power_W / source->voltage_V;
        side->charger = side->charger != NULL ? side->charger : place;
    }
}

static void
add_device(FarSide *side, const Record *device)
{
    for (guint i = 0; i < side->devices->len; i++)
        if (g_ptr_array_index(side->devices, i) == device)
            return;
    g_ptr_array_add(side->devices, (gpointer) device);
    side->devices_A += ((const Protection *) device->data)->rating_A;
}

FarSide
far_side_of(const Wiring *wiring, const GArray *joins, const Cable *cable, size_t place)
{
    FarSide side = {.devices = g_ptr_array_new()};
    g_autoptr(GArray) edges = g_array_new(FALSE, FALSE, sizeof(Edge));
    g_autofree bool *inside = g_new0(bool, wiring->places->len + 1);
    Edge main = {place == cable->to ? main_device(wiring, cable) : NULL, place};
    if (main.device != NULL)
        g_array_append_val(edges, main);
    else
        flood(joins, cable, place, inside, edges);
    side.bank = bank_among(wiring, inside, NULL);
    add_chargers(wiring, inside, &side);
    for (guint i = 0; i < edges->len; i++) {
        const Edge *edge = &g_array_index(edges, Edge, i);
        if (bank_behind(wiring, joins, cable, edge, inside))
            add_device(&side, edge->device);
    }
    return side;
}

void
far_side_clear(FarSide *side)
{
    g_clear_pointer(&side->devices, g_ptr_array_unref);
}

bool
far_side_joined(const Wiring *wiring, const GArray *joins, const Cable *cable)
{
    g_autofree bool *seen = g_new0(bool, wiring->places->len + 1);
    flood(joins, cable, cable->from, seen, NULL);
    return seen[cable->to];
}

const Record *
far_side_bank(const Wiring *wiring, const GArray *joins, const Cable *cable, size_t place,
              double *ohm)
{
    g_autofree double *least_ohm = g_new(double, wiring->places->len + 1);
    for (guint i = 0; i < wiring->places->len; i++)
        least_ohm[i] = i == place ? 0.0 : INFINITY;
    for (bool changed = true; changed;) {
        changed = false;
        for (guint i = 0; i < joins->len; i++) {
            const Join *join = &g_array_index(joins, Join, i);
            if (join->cable == cable->record)
                continue;
            double *a = &least_ohm[join->a], *b = &least_ohm[join->b];
            changed |= *a + join->ohm < *b || *b + join->ohm < *a;
            *b = fmin(*b, *a + join->ohm);
            *a = fmin(*a, *b + join->ohm);
        }
    }
    const Record *nearest = NULL;
    double nearest_ohm = INFINITY;
    for (guint i = 0; i < wiring->places->len; i++)
        if (wiring_place(wiring, i)->battery != NULL && least_ohm[i] < nearest_ohm) {
            nearest = wiring_place(wiring, i)->battery;
            nearest_ohm = least_ohm[i];
        }
    *ohm += nearest != NULL ? nearest_ohm : 0.0;
    return nearest;
}
