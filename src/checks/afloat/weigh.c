/* What she weighs at the stage: every item that is aboard, and the margin for growth.
 * Invariant: an item is either in `ship` or in `gaps`. */
#include <math.h>

#include "checks/afloat/afloat.h"

/* Shell and deck, for plate that is reckoned by area: girth of every station and the deck, along the length. */
static double
plated_area_m2(const Loft *hull)
{
    double area = 0.0;
    for (size_t i = 0; i + 1 < hull->stations; i++) {
        double length = hull->x_m[i + 1] - hull->x_m[i];
        for (size_t s = i; s <= i + 1; s++) {
            const double *y = hull->y_m + s * hull->points, *z = hull->z_m + s * hull->points;
            double girth = y[0] + y[hull->points - 1];
            for (size_t j = 0; j + 1 < hull->points; j++)
                girth += hypot(y[j + 1] - y[j], z[j + 1] - z[j]);
            area += girth * length; /* half girth, twice, halved for the mean of two stations */
        }
    }
    return area;
}

static void
add_growth(Afloat *afloat)
{
    LedgerSum sum;
    double frac = afloat->vessel->growth_frac;
    size_t n = afloat->ship->len;
    if (!(frac > 0.0) || afloat->hull == NULL || n == 0)
        return;
    g_autofree LedgerItem *ledger = g_new(LedgerItem, n);
    for (size_t i = 0; i < n; i++)
        ledger[i] = g_array_index(afloat->ship, Mass, i).ledger;
    if (ledger_sum(n, ledger, &sum, NULL, NULL, NULL) != VALID)
        return;
    double deck = loft_deck_m(afloat->hull, afloat->hull->x_m[0] + afloat->length_m / 2.0);
    Mass growth = {.name = "set aside for growth",
                   .basis = BASIS_STATED,
                   .ledger = {.mass_kg = frac * sum.mass_kg,
                              .mass_spread_kg = frac * sum.mass_kg,
                              .x_m = sum.lcg_m,
                              .y_m = 0.0,
                              .z_m = fmax(sum.vcg_m, deck),
                              .x_spread_m = afloat->length_m / 10.0,
                              .y_spread_m = afloat->beam_m / 10.0,
                              .z_spread_m = 0.3}};
    g_array_append_val(afloat->ship, growth);
}

static void
weigh_stage(Afloat *afloat, Stage stage, GArray *ship, GPtrArray *gaps)
{
    size_t n;
    const Record *const *items = boat_records(afloat->boat, &section_items, &n);
    for (size_t i = 0; i < n; i++) {
        Mass mass;
        if (!item_aboard(items[i]->data, stage))
            continue;
        if (mass_of_item(items[i], afloat->catalog, &afloat->plating, &mass))
            g_array_append_val(ship, mass);
        else if (gaps != NULL && record_role(items[i], &section_person_place) == NULL)
            g_ptr_array_add(gaps, (gpointer) items[i]);
    }
}

void
afloat_weigh(Afloat *afloat)
{
    const HullSection *typed = boat_single(afloat->boat, &section_hull)->data;
    afloat->plating =
        (Plating){afloat->hull != NULL ? plated_area_m2(afloat->hull) : NAN, typed->plate_m,
                  record_state(boat_single(afloat->boat, &section_hull), "plate")->spread};
    weigh_stage(afloat, afloat->stage, afloat->ship, afloat->gaps);
    if (afloat->stage == STAGE_DONE)
        add_growth(afloat);
}

void
afloat_weigh_between(Afloat *afloat, GArray *ship)
{
    weigh_stage(afloat, STAGE_BETWEEN, ship, NULL);
}
