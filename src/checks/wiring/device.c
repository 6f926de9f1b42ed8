/* Times of fuses and breakers.
 * Invariant: a class without a line in the tables gives none; nothing is borrowed from another class. */
#include "checks/wiring/device.h"

#include <math.h>

#include "physics/wiring/breaker.h"
#include "physics/wiring/cable_withstand.h"
#include "physics/wiring/conductor.h"

/* At the end of a dead short, as of pvc for 70 and 90 degC (IEC 60364-5-54). */
#define PVC_MELTS_C 160.0

const Method device_melting_method = {
    "A fuse beyond its last point",
    "t = t_last * (I_last / I)^2",
    {"no heat escapes while it melts; docs/methods/wires.md 3.1e", STANDING_DERIVED}};

/* Name of the class in TABLE_FUSE_CURVES, or NULL: it has no line there. */
static const char *
line_of(int family)
{
    return family == FUSE_BLADE ? "blade" : family == FUSE_BOLT_DOWN ? "bolt-down" : NULL;
}

static double
after_last(double last_s, double last_A, double current_A)
{
    return last_s * (last_A / current_A) * (last_A / current_A);
}

static bool
by_points(const TradeTable *table, const char *family, double rating_A, double current_A,
          FuseTime *out, Source *source)
{
    size_t first, n = trade_table_rows(table, family, &first);
    if (n == 0)
        return false;
    size_t last = first + n - 1;
    *source = table->source[last];
    double last_A = table->figure[0][last] * rating_A;
    if (current_A > last_A) {
        *out = (FuseTime){after_last(table->figure[1][last], last_A, current_A),
                          after_last(table->figure[2][last], last_A, current_A)};
        return true;
    }
    return fuse_time_points(n, table->figure[0] + first, table->figure[1] + first,
                            table->figure[2] + first, current_A / rating_A, out) != REFUSED;
}

static bool
by_gates(const TradeTable *table, double rating_A, double current_A, FuseTime *out, Source *source)
{
    for (size_t i = 0; i < table->n; i++) {
        if (fabs(table->figure[0][i] / rating_A - 1.0) > 1e-6)
            continue;
        FuseGates gates = {table->figure[1][i], table->figure[2][i], table->figure[3][i],
                           table->figure[4][i]};
        *source = table->source[i];
        if (fuse_time_gates(&gates, current_A, out) == REFUSED)
            return false;
        if (current_A > gates.most_01_A)
            out->slowest_s = after_last(0.1, gates.most_01_A, current_A);
        if (current_A > gates.least_01_A)
            out->fastest_s = after_last(0.1, gates.least_01_A, current_A);
        return true;
    }
    return false;
}

static bool
of_breaker(const Protection *device, bool direct_current, double current_A, FuseTime *out,
           Source *source)
{
    BreakerTrip trip;
    if (device->curve < 0 || breaker_trip((BreakerCurve) device->curve, device->rating_A,
                                          direct_current, current_A, &trip) == REFUSED)
        return false;
    *out = (FuseTime){trip.fastest_s, trip.slowest_s};
    *source =
        (Source){direct_current ? "IEC 60898-1 Table 7; its factor for direct current is recalled"
                                : "IEC 60898-1 Table 7 as read in two manuals",
                 direct_current ? STANDING_MEMORY : STANDING_SECONDARY};
    return true;
}

bool
device_time(const Catalog *catalog, const Protection *device, bool direct_current, double current_A,
            FuseTime *out, Source *source)
{
    *out = (FuseTime){NAN, NAN};
    if (!(device->rating_A > 0.0) || !(current_A > 0.0))
        return false;
    if (device->kind == PROTECT_BREAKER)
        return of_breaker(device, direct_current, current_A, out, source);
    if (device->kind != PROTECT_FUSE)
        return false;
    if (device->family == FUSE_NH_GG)
        return by_gates(catalog_table(catalog, TABLE_GG_FUSES), device->rating_A, current_A, out,
                        source);
    const char *line = line_of(device->family);
    return line != NULL && by_points(catalog_table(catalog, TABLE_FUSE_CURVES), line,
                                     device->rating_A, current_A, out, source);
}

bool
devices_may_both_act(const Catalog *catalog, const Protection *before, const Protection *nearer,
                     bool direct_current, double fault_A)
{
    FuseTime first, second;
    Source source;
    if (before->kind == PROTECT_BREAKER) {
        BreakerTrip trip;
        return before->curve >= 0 &&
               breaker_trip((BreakerCurve) before->curve, before->rating_A, direct_current, NAN,
                            &trip) != REFUSED &&
               fault_A > trip.low_A;
    }
    return device_time(catalog, before, direct_current, fault_A, &first, &source) &&
           device_time(catalog, nearer, direct_current, fault_A, &second, &source) &&
           !(first.fastest_s > second.slowest_s);
}

double
cable_withstand_constant(const Circuit *typed)
{
    double bears_C = typed->insulation_K - CELSIUS_0_K;
    bool cross_linked = typed->insulated_by == INSULATION_CROSS_LINKED && bears_C > 89.0,
         rubber = typed->insulated_by == INSULATION_RUBBER;
    CableConstant k;
    if (!cross_linked && !rubber && bears_C > 90.5)
        return cable_constant_between(METAL_COPPER, bears_C, PVC_MELTS_C);
    cable_constant(METAL_COPPER,
                   cross_linked               ? JACKET_XLPE_90
                   : rubber && bears_C > 84.0 ? JACKET_RUBBER_85
                   : rubber                   ? JACKET_RUBBER_60
                   : bears_C > 70.5           ? JACKET_PVC_90
                                              : JACKET_PVC_70,
                   &k);
    return k.constant;
}

double
protection_breaks_A(const Wiring *wiring, const Protection *typed, Source *source)
{
    const TradeTable *table = catalog_table(wiring->catalog, TABLE_FUSE_FAMILIES);
    *source = (Source){"the maker's figure on the fuse or breaker", STANDING_OWNER};
    if (isfinite(typed->breaking_A) || typed->kind != PROTECT_FUSE || typed->family < 0 ||
        (size_t) typed->family >= table->n)
        return typed->breaking_A;
    bool made = isnan(typed->rating_A) || (typed->rating_A >= table->figure[1][typed->family] &&
                                           typed->rating_A <= table->figure[2][typed->family]);
    *source = table->source[typed->family];
    return made ? table->figure[table->figures - 1][typed->family] : NAN;
}

double
protection_volts_V(const Wiring *wiring, const Protection *typed, Source *source)
{
    const TradeTable *table = catalog_table(wiring->catalog, TABLE_FUSE_FAMILIES);
    if (typed->kind != PROTECT_FUSE || typed->family < 0 || (size_t) typed->family >= table->n)
        return NAN;
    *source = table->source[typed->family];
    return table->figure[0][typed->family];
}

const Protection *
cable_device(const Cable *cable)
{
    const Protection *typed = cable->protect != NULL ? cable->protect->data : NULL;
    return typed != NULL && typed->kind != PROTECT_NONE ? typed : NULL;
}
