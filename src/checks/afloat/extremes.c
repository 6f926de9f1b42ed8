/* Highest and deepest point: hull, houses, appendages, and the places of items.
 * Invariant: with a hull there always is one. */
#include "checks/afloat/extremes.h"

#include <math.h>

typedef struct {
    WaterPlane plane;
    int way; /* +1: highest, -1: deepest */
    Extreme best;
} Search;

static void
consider(Search *s, double x, double y, double z, double spread, const char *name)
{
    double above = x * s->plane.x + y * s->plane.y + z * s->plane.z - s->plane.depth_m;
    if (isfinite(above) && s->way * above > s->way * s->best.above_m)
        s->best = (Extreme){name, x, y, z, above, spread};
}

static const char *
named(const char *what, const Record *record)
{
    return what != NULL ? what : record->id;
}

Extreme
highest(const Afloat *afloat, const Case *c)
{
    Search s = {attitude_plane(&c->rest.at), 1, {"the deck edge", NAN, NAN, NAN, -INFINITY, NAN}};
    const Loft *hull = afloat->hull;
    for (size_t i = 0; i < hull->stations; i++) {
        size_t edge = (i + 1) * hull->points - 1;
        consider(&s, hull->x_m[i], hull->y_m[edge], hull->z_m[edge], afloat->within_m,
                 "the deck edge");
        consider(&s, hull->x_m[i], -hull->y_m[edge], hull->z_m[edge], afloat->within_m,
                 "the deck edge");
    }
    size_t n;
    const Record *const *houses = boat_records(afloat->boat, &section_houses, &n);
    for (size_t i = 0; i < n; i++) {
        const House *house = houses[i]->data;
        double xs[] = {house->along.low, house->along.high},
               ys[] = {house->across.low, house->across.high};
        for (size_t k = 0; k < 4; k++)
            consider(&s, xs[k / 2], isfinite(ys[k % 2]) ? ys[k % 2] : 0.0, house->height.high,
                     record_state(houses[i], "height")->spread, houses[i]->id);
    }
    for (guint i = 0; i < afloat->ship->len; i++) {
        const Mass *mass = &g_array_index(afloat->ship, Mass, i);
        if (mass->item != NULL)
            consider(&s, mass->ledger.x_m, mass->ledger.y_m, mass->ledger.z_m,
                     mass->ledger.z_spread_m, mass->name);
    }
    return s.best;
}

Extreme
deepest(const Afloat *afloat, const Case *c)
{
    Search s = {attitude_plane(&c->rest.at), -1, {"the bottom", NAN, NAN, NAN, INFINITY, NAN}};
    const Loft *hull = afloat->hull;
    for (size_t i = 0; i < hull->stations * hull->points; i++) {
        double x = hull->x_m[i / hull->points];
        consider(&s, x, hull->y_m[i], hull->z_m[i], afloat->within_m, "the bottom");
        consider(&s, x, -hull->y_m[i], hull->z_m[i], afloat->within_m, "the bottom");
    }
    size_t n;
    const Record *const *parts = boat_records(afloat->boat, &section_appendages, &n);
    for (size_t i = 0; i < n; i++) {
        const Appendage *part = parts[i]->data;
        double reach = part->area_m2 > 0.0 ? sqrt(part->area_m2) / 2.0 : 0.0;
        consider(&s, part->along_m, part->across_m, part->height_m - reach,
                 record_state(parts[i], "height")->spread, named(part->what, parts[i]));
    }
    return s.best;
}

void
find_extremes(const Afloat *afloat, Case *c)
{
    c->highest_m = highest(afloat, c).above_m;
    c->deepest_m = -deepest(afloat, c).above_m;
}
