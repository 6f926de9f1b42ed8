/* From item records to masses and tanks.
 * Invariant: a mass that is returned is finite, at a finite place, with finite spreads. */
#include "checks/derive/masses.h"

#include <math.h>
#include <string.h>

#define FRESH_KG_PER_M3 1000.0
#define FUEL_KG_PER_M3 840.0

static bool
typical_mass(const Item *item, const Catalog *catalog, const Plating *plating, Mass *mass)
{
    if (item->kind == NULL)
        return false;
    bool shell = strcmp(item->kind, "steel-shell") == 0;
    ItemSize size = {item->power_W, item->volume_m3, item->length_m, item->area_m2,
                     item->thickness_m};
    if (shell && isnan(size.area_m2))
        size.area_m2 = plating->area_m2;
    bool plated = shell && isnan(size.thickness_m);
    if (plated)
        size.thickness_m = plating->plate_m;
    TypicalMass typical;
    if (!catalog_mass(catalog, item->kind, &size, &typical) || !isfinite(typical.mass_kg))
        return false;
    mass->ledger.mass_kg = typical.mass_kg;
    mass->ledger.mass_spread_kg = typical.spread_kg;
    if (plated && plating->plate_spread_m > 0.0) /* the mass is in proportion to the plate */
        mass->plate_spread_kg = typical.mass_kg * plating->plate_spread_m / plating->plate_m;
    mass->ledger.group = GROUP_CATALOGUE;
    mass->basis = BASIS_ASSUMED;
    mass->source = typical.source;
    return true;
}

bool
mass_of_item(const Record *record, const Catalog *catalog, const Plating *plating, Mass *mass)
{
    const Item *item = record->data;
    *mass = (Mass){.item = record, .name = item->what != NULL ? item->what : record->id};
    LedgerItem *ledger = &mass->ledger;
    if (isfinite(item->mass_kg)) {
        const FieldState *state = record_state(record, "mass");
        ledger->mass_kg = item->mass_kg;
        ledger->mass_spread_kg = state->spread;
        mass->basis = state->basis;
        if (state->basis == BASIS_BY_EYE && !state->spread_typed)
            ledger->group = GROUP_BY_EYE;
    } else if (!typical_mass(item, catalog, plating, mass)) {
        return false;
    }
    ledger->x_m = item->along_m;
    ledger->y_m = item->across_m;
    ledger->z_m = item->height_m;
    ledger->x_spread_m = record_state(record, "along")->spread;
    ledger->y_spread_m = record_state(record, "across")->spread;
    ledger->z_spread_m = record_state(record, "height")->spread;
    return isfinite(ledger->x_m) && isfinite(ledger->y_m) && isfinite(ledger->z_m);
}

static bool
stated(const Range *range)
{
    return isfinite(range->low) && isfinite(range->high) && range->high > range->low;
}

/* A tank whose shape nobody stated is taken as twice as broad as high: the surface then shifts rather more than in most. */
static void
place_box(const Item *item, const TankRole *role, Tank *tank)
{
    double breadth = cbrt(2.0 * role->volume_m3);
    bool along = stated(&role->along), across = stated(&role->across),
         height = stated(&role->height);
    tank->x_aft_m = along ? role->along.low : item->along_m - breadth / 2.0;
    tank->x_fwd_m = along ? role->along.high : item->along_m + breadth / 2.0;
    tank->y_stbd_m = across ? role->across.low : item->across_m - breadth / 2.0;
    tank->y_port_m = across ? role->across.high : item->across_m + breadth / 2.0;
    double area = (tank->x_fwd_m - tank->x_aft_m) * (tank->y_port_m - tank->y_stbd_m);
    double high = isfinite(role->volume_m3) ? role->volume_m3 / area : breadth / 2.0;
    tank->z_bottom_m = height ? role->height.low : item->height_m - high / 2.0;
    tank->z_top_m = height ? role->height.high : item->height_m + high / 2.0;
}

bool
tank_of_item(const Record *record, double fill_frac, Tank *tank, bool *assumed_shape)
{
    const Record *role_record = record_role(record, &section_tank);
    const Item *item = record->data;
    const TankRole *role = role_record->data;
    bool all = stated(&role->along) && stated(&role->across) && stated(&role->height);
    *assumed_shape = !all;
    if (!all && !(role->volume_m3 > 0.0))
        return false;
    *tank = (Tank){.density_kg_per_m3 = role->density_kg_per_m3};
    if (!isfinite(tank->density_kg_per_m3))
        tank->density_kg_per_m3 = role->holds == HOLDS_FUEL ? FUEL_KG_PER_M3 : FRESH_KG_PER_M3;
    place_box(item, role, tank);
    double box_m3 = (tank->x_fwd_m - tank->x_aft_m) * (tank->y_port_m - tank->y_stbd_m) *
                    (tank->z_top_m - tank->z_bottom_m);
    double volume_m3 = role->volume_m3 > 0.0 ? fmin(role->volume_m3, box_m3) : box_m3;
    tank->fill_frac = fill_frac * volume_m3 / box_m3;
    return isfinite(box_m3) && box_m3 > 0.0;
}
