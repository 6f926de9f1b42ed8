/* What one cable, one battery or one load is: resistance, ampacity, inner resistance, current.
 * Invariant: a figure that may not stand alone (recalled) only ever makes the limit smaller. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "checks/wiring/wiring.h"
#include "physics/wiring/ampacity.h"
#include "physics/wiring/cold_battery.h"
#include "physics/wiring/conductor.h"
#include "physics/wiring/gauge.h"
#include "physics/wiring/rest_voltage.h"
#include "physics/wiring/size.h"
#include "physics/wiring/two_point.h"

#define CABIN_K (30.0 + CELSIUS_0_K)
#define PVC_K (70.0 + CELSIUS_0_K)
#define ENGINE_SPACE_K (50.0 + CELSIUS_0_K)
/* Inner resistance times capacity of a 12 V battery whose label says nothing: 1500 A from 100 Ah (wires.md 4.2). */
#define TYPICAL_SHORT_PER_AS (1500.0 / (100.0 * 3600.0))
#define TYPICAL_SHORT_LFP_PER_AS (3000.0 / (100.0 * 3600.0)) /* 30 times its capacity, recalled */

double
cable_ways(const Cable *cable)
{
    return cable->typed->wires == WIRES_POSITIVE || cable->typed->wires == WIRES_NEGATIVE ? 1.0
                                                                                          : 2.0;
}

double
cable_ohm(const Cable *cable, double metal_K)
{
    if (cable->by_reading) {
        const MeasuredDrop *drop = cable->measured->data;
        return drop->drop_V / drop->current_A;
    }
    return cable_ways(cable) * cable->typed->one_way_m * cable->ohm_per_m *
               conductor_warmth(false, metal_K) +
           cable->typed->contacts_ohm;
}

/* Last column whose insulation is no better than the cable's; the number of columns when there is none. */
static size_t
column_of(const TradeTable *table, size_t first, double insulation_K)
{
    size_t found = table->figures;
    for (size_t k = first; k < table->figures; k++)
        if (table->heading[k] <= insulation_K + 0.01)
            found = k;
    return found;
}

/* 33 CFR 183.425 by the next smaller gauge; NAN for a conductor whose size is not known. */
static double
gauge_A(const TradeTable *table, const Circuit *typed, Source *source, double *column_K)
{
    size_t column = column_of(table, 0, typed->insulation_K);
    double found = NAN;
    for (size_t i = 0; column < table->figures && i < table->n; i++) {
        const char *digits = table->text[0][i] + strlen("awg-");
        int number = atoi(digits);
        double area = gauge_size(strchr(digits, '/') != NULL ? 1 - number : number).area_m2;
        if (!(area <= typed->area_m2 * 1.0001))
            break;
        found = table->figure[column][i];
        *source = table->source[i];
        *column_K = table->heading[column];
    }
    return found;
}

static double
metric_A(const TradeTable *table, const Circuit *typed)
{
    size_t column = column_of(table, 1, typed->insulation_K);
    double found;
    if (column == table->figures || size_figure(table->n, table->figure[0], table->figure[column],
                                                typed->area_m2, &found) == REFUSED)
        return INFINITY;
    return found;
}

/* The printed factor, or the root that bears it out where that is less: then it is mechanics and not memory. */
static double
engine_space_factor(const TradeTable *table, double insulation_K)
{
    size_t first, n = trade_table_rows(table, "engine-space-gauge", &first);
    double factor = sqrt((insulation_K - ENGINE_SPACE_K) / (insulation_K - CABIN_K));
    for (size_t i = first; i < first + n; i++)
        if (fabs(table->figure[0][i] - insulation_K) < 0.01)
            factor = fmin(factor, table->figure[1][i]);
    return factor;
}

void
cable_find_ampacity(const Wiring *wiring, Cable *cable)
{
    const Circuit *typed = cable->typed;
    Ampacity *out = &cable->ampacity;
    double column_K = NAN;
    const TradeTable *bundles = catalog_table(wiring->catalog, TABLE_BUNDLE_FACTORS);
    size_t first, n = trade_table_rows(bundles, "bundle-gauge", &first);
    double gauge = gauge_A(catalog_table(wiring->catalog, TABLE_AMPACITY_GAUGE), typed,
                           &out->source, &column_K);
    out->table_A =
        isnan(gauge)
            ? NAN
            : fmin(gauge, metric_A(catalog_table(wiring->catalog, TABLE_AMPACITY_METRIC), typed));
    out->ambient_K = typed->runs == RUNS_ENGINE_SPACE ? ENGINE_SPACE_K : CABIN_K;
    out->place_factor =
        typed->runs == RUNS_ENGINE_SPACE
            ? engine_space_factor(catalog_table(wiring->catalog, TABLE_AMBIENT_FACTORS), column_K)
            : 1.0;
    out->bundle_factor =
        bundle_factor(n, bundles->figure[0] + first, bundles->figure[1] + first, typed->bundle);
    out->allowed_A = out->table_A * out->place_factor * out->bundle_factor;
}

LoadedCable
cable_loaded(const Cable *cable, double ampacity_A, double reference_K)
{
    double insulation_K = cable->typed->insulation_K;
    return (LoadedCable){cable->typed->area_m2, ampacity_A, insulation_K, reference_K,
                         cable->ohm_per_m * conductor_warmth(false, insulation_K)};
}

double
cable_allowed_A(const Cable *cable, const Flow *flow, size_t i)
{
    const Ampacity *a = &cable->ampacity;
    if (flow->lasting_A == NULL || !isfinite(a->allowed_A) || !isfinite(cable->ohm_per_m))
        return a->allowed_A;
    LoadedCable loaded = cable_loaded(cable, a->allowed_A, a->ambient_K);
    double run_A = cable_run_A(&loaded, fabs(flow->lasting_A[i]), flow->short_s);
    return isfinite(run_A) ? fmax(run_A, a->allowed_A) : a->allowed_A;
}

/* ---- mains cables: IEC 60364-5-52 ---- */

/* Two loaded conductors, in the order of CircuitFixing. What bears less than 70 degC bears less than the table by the root. */
static double
fixed_table_A(const TradeTable *table, const Circuit *typed, bool xlpe, Source *source)
{
    static const char *const rows[2][4] = {
        {"pvc-70-2-a2", "pvc-70-2-b2", "pvc-70-2-c", "pvc-70-2-e"},
        {"xlpe-90-2-a2", "xlpe-90-2-b2", "xlpe-90-2-c", "xlpe-90-2-e"}};
    double figure[TRADE_FIGURES], found;
    size_t row, fixing = typed->fixing >= 0 ? (size_t) typed->fixing : 0;
    if (trade_table_rows(table, rows[xlpe][fixing], &row) == 0)
        return NAN;
    for (size_t k = 0; k < table->figures; k++)
        figure[k] = table->figure[k][row];
    *source = table->source[row];
    size_figure(table->figures, table->heading, figure, typed->area_m2, &found);
    return found;
}

void
cable_find_fixed_ampacity(const Wiring *wiring, Cable *cable)
{
    const Circuit *typed = cable->typed;
    Ampacity *out = &cable->ampacity;
    bool xlpe = typed->insulation_K >= PVC_K + 19.0;
    double bears_K = fmin(typed->insulation_K, xlpe ? PVC_K + 20.0 : PVC_K), air;
    const TradeTable *airs = catalog_table(wiring->catalog, TABLE_AMBIENT_FACTORS),
                     *bunches = catalog_table(wiring->catalog, TABLE_BUNDLE_FACTORS);
    size_t first, n = trade_table_rows(airs, xlpe ? "air-xlpe-90" : "air-pvc-70", &first);
    out->table_A = fixed_table_A(catalog_table(wiring->catalog, TABLE_AMPACITY_FIXED), typed, xlpe,
                                 &out->source);
    out->ambient_K = typed->runs == RUNS_ENGINE_SPACE ? ENGINE_SPACE_K : CABIN_K;
    ambient_factor(n, airs->figure[0] + first, airs->figure[1] + first, bears_K, out->ambient_K,
                   &air);
    if (bears_K < PVC_K) /* the printed row is that of 70 degC */
        air = sqrt(fmax(0.0, bears_K - out->ambient_K) / (PVC_K - CABIN_K));
    out->place_factor = air;
    n = trade_table_rows(bunches, "circuits-bunched", &first);
    out->bundle_factor = grouping_factor(n, bunches->figure[0] + first, bunches->figure[1] + first,
                                         ceil(typed->bundle / 2.0));
    out->allowed_A = out->table_A * out->place_factor * out->bundle_factor;
}

/* ---- batteries ---- */

static bool
cold_counts(const BatteryRole *battery)
{
    return battery->chemistry != BATTERY_LFP && isfinite(battery->cells_K);
}

double
battery_open_V(const BatteryRole *battery, bool best)
{
    RestState rest;
    RestChemistry chemistry =
        battery->chemistry == BATTERY_LFP ? CHEMISTRY_LFP : CHEMISTRY_FLOODED_LEAD;
    if (rest_voltage_at(chemistry, battery->voltage_V, best ? 1.0 : battery->charge_frac, &rest) ==
        REFUSED)
        return NAN;
    return rest.rest_V + (best || !cold_counts(battery)
                              ? 0.0
                              : cold_battery_rest_V(battery->voltage_V, battery->cells_K));
}

/* As its cold counts for a resistance known warm, and for that of a cranking rating, known cold. */
static double
cold_factor(const BatteryRole *battery, bool best, bool cranking)
{
    if (best || !cold_counts(battery))
        return cranking && best ? cold_battery_cranking_factor(CABIN_K) : 1.0;
    return cranking ? cold_battery_cranking_factor(battery->cells_K)
                    : cold_battery_factor(battery->cells_K);
}

double
battery_ohm(const BatteryRole *battery, bool best)
{
    double open_V = battery_open_V(battery, true), scale = battery->voltage_V / 12.0;
    TwoPoint points;
    if (best && isfinite(battery->short_circuit_A))
        return open_V / battery->short_circuit_A;
    if (isfinite(battery->resistance_ohm))
        return battery->resistance_ohm * cold_factor(battery, best, false);
    if (two_point(open_V, 0.0, 7.2 * scale, battery->cranking_A, &points) == VALID)
        return points.resistance_ohm * cold_factor(battery, best, true);
    double per_As =
        battery->chemistry == BATTERY_LFP ? TYPICAL_SHORT_LFP_PER_AS : TYPICAL_SHORT_PER_AS;
    return open_V / (battery->capacity_As * per_As) * cold_factor(battery, best, false);
}

/* ---- loads ---- */

bool
place_is_starter(const Place *place)
{
    return place->load != NULL && ((const LoadRole *) place->load->data)->use == LOAD_STARTER;
}

bool
place_is_thruster(const Place *place)
{
    return place->load != NULL && ((const LoadRole *) place->load->data)->use == LOAD_THRUSTER;
}

double
place_runs_for_s(const Place *place)
{
    return place->load != NULL ? ((const LoadRole *) place->load->data)->runs_for_s : NAN;
}

double
place_load_V(const Place *place)
{
    double typed = place->heater != NULL ? ((const HeaterRole *) place->heater->data)->voltage_V
                   : place->load != NULL ? ((const LoadRole *) place->load->data)->voltage_V
                                         : NAN;
    return isfinite(typed) ? typed : place->nominal_V;
}

double
place_current_A(const Place *place)
{
    if (place->heater != NULL)
        return ((const HeaterRole *) place->heater->data)->power_W / place_load_V(place);
    if (place->load == NULL)
        return NAN;
    const LoadRole *load = place->load->data;
    return isfinite(load->current_A) ? load->current_A : load->power_W / place_load_V(place);
}
