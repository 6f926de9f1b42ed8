/* The way from a mains circuit back to its source: sources as such, loops, and the protection on the way.
 * Invariant: what nobody measured is assumed with a spread and says so; it is never taken for better than it may be. */
#include <math.h>

#include "checks/wiring/mains.h"
#include "physics/wiring/fault_loop.h"
#include "physics/wiring/weak_source.h"

#define HEATED 1.2               /* copper at 70 degC over 20 degC: docs/methods/wires.md 5.3 */
#define GENERATOR_TRANSIENT 0.20 /* 0.15 to 0.25: docs/methods/wires.md 5.4 */
#define INVERTER_LIMIT 2.0       /* 1.5 to 3 times its rated current, recalled: 5.4 */
enum { MAINS_LONGEST = 32 };

const SourceSection *
mains_source(const Place *place)
{
    return place->mains_source != NULL ? place->mains_source->data : NULL;
}

bool
place_inverts(const Place *place)
{
    const SourceSection *source = mains_source(place);
    return source != NULL &&
           (source->kind == SOURCE_INVERTER || source->kind == SOURCE_INVERTER_CHARGER);
}

static const ShoreSupply *
berth_shore(const Wiring *wiring)
{
    const Record *role = record_role(boat_single(wiring->boat, &section_berth), &section_shore);
    return role != NULL ? role->data : NULL;
}

/* A generator or inverter whose voltage nobody states makes the one of the berth. */
double
mains_source_V(const Wiring *wiring, const Place *place)
{
    const SourceSection *source = mains_source(place);
    const ShoreSupply *shore = berth_shore(wiring);
    double berth_V = shore != NULL ? shore->voltage_V : NAN;
    return isfinite(source->voltage_V) ? source->voltage_V : berth_V;
}

double
mains_source_limit_A(const Wiring *wiring, const Place *place)
{
    const SourceSection *source = mains_source(place);
    const ShoreSupply *shore = berth_shore(wiring);
    if (isfinite(source->current_A))
        return source->current_A;
    if (source->kind == SOURCE_SHORE)
        return shore != NULL ? shore->current_A : NAN;
    return source->power_W / mains_source_V(wiring, place);
}

/* ---- loops ---- */

static double
driven_A(const Wiring *wiring, const Place *place, double *spread_frac)
{
    bool inverts = place_inverts(place);
    double volts = mains_source_V(wiring, place);
    WeakMachine machine = {.apparent_VA = mains_source_limit_A(wiring, place) * volts,
                           .voltage_V = volts,
                           .subtransient = NAN,
                           .transient = inverts ? NAN : GENERATOR_TRANSIENT,
                           .permanent = NAN,
                           .limit = inverts ? INVERTER_LIMIT : NAN};
    WeakSource weak;
    *spread_frac = inverts ? 0.5 : 0.33;
    return weak_source(&machine, &weak) == REFUSED ? NAN
           : inverts                               ? weak.limited_A
                                                   : weak.transient_A;
}

MainsLoop
mains_source_loop(const Wiring *wiring, const Place *place)
{
    const Record *record = place->mains_source;
    const SourceSection *source = record->data;
    if (isfinite(source->loop_ohm) || source->kind == SOURCE_SHORE) {
        const FieldState *state = record_state(record, "loop-impedance");
        return (MainsLoop){source->loop_ohm, state->spread, state->basis, "loop-impedance"};
    }
    double spread_frac = 0.0, volts = mains_source_V(wiring, place);
    bool stated = isfinite(source->fault_A);
    double amperes = stated ? source->fault_A : driven_A(wiring, place, &spread_frac);
    return (MainsLoop){volts / amperes, spread_frac * volts / amperes,
                       stated ? record_state(record, "fault-current")->basis : BASIS_ASSUMED,
                       "fault-current"};
}

/* Between line and neutral, where that is not the loop through earth: of a shore with an electrode of its own the test sheet
 * says nothing about it, and what nobody states is that of a shore without a test sheet. */
static MainsLoop
short_loop(const Wiring *wiring, const Place *place)
{
    const MainsLoop usual = {0.35, 0.25, BASIS_ASSUMED, "fault-current"};
    const SourceSection *source = mains_source(place);
    const ShoreSupply *shore = berth_shore(wiring);
    bool ashore = source->kind == SOURCE_SHORE;
    if (ashore && isfinite(source->fault_A)) {
        const FieldState *state = record_state(place->mains_source, "fault-current");
        double ohm = mains_source_V(wiring, place) / source->fault_A;
        return (MainsLoop){ohm, ohm * state->spread / source->fault_A, state->basis,
                           "fault-current"};
    }
    return ashore && shore != NULL && shore->earthing == SHORE_TT
               ? usual
               : mains_source_loop(wiring, place);
}

static LoopCable
loop_cable(const Wiring *wiring, const Cable *cable, bool cold)
{
    Validity validity;
    double area = cable->typed->earth_area_m2;
    double earth =
        isnan(area) ? cable->ohm_per_m : circuit_ohm_per_m(wiring, cable->typed, area, &validity);
    return (LoopCable){cable->typed->one_way_m, cable->ohm_per_m,
                       cold ? fmin(earth, cable->ohm_per_m) : earth};
}

MainsLoop
mains_loop(const Wiring *wiring, const MainsFlow *flow, size_t place, bool cold)
{
    LoopCable cables[MAINS_LONGEST];
    size_t n = 0;
    for (size_t at = place; at != NO_PLACE && n < MAINS_LONGEST; at = flow->above[at])
        if (flow->feeder[at] != NO_PLACE)
            cables[n++] = loop_cable(wiring, mains_cable(wiring, flow->feeder[at]), cold);
    const Place *root = wiring_place(wiring, flow->root[place]);
    MainsLoop loop = cold ? short_loop(wiring, root) : mains_source_loop(wiring, root);
    double fault_A;
    if (fault_loop(loop.ohm, n, cables, cold ? 1.0 : HEATED, mains_source_V(wiring, root), 1.0,
                   &loop.ohm, &fault_A) == REFUSED)
        loop.ohm = NAN;
    return loop;
}

/* ---- protection ---- */

static size_t
add_device(const Record *protect, size_t n, const Record *device[])
{
    const Protection *typed = protect != NULL ? protect->data : NULL;
    if (typed == NULL || n == MAINS_DEVICES)
        return n;
    device[n] = protect;
    return n + 1;
}

static const Record *
protection_of(const Place *place)
{
    const Record *own = record_role(place->record, &section_busbar_protect);
    return own == NULL && place->mains_source != NULL
               ? record_role(place->mains_source, &section_source_protect)
               : own;
}

size_t
mains_devices(const Wiring *wiring, const MainsFlow *flow, size_t cable,
              const Record *device[static MAINS_DEVICES])
{
    size_t n = add_device(mains_cable(wiring, cable)->protect, 0, device);
    for (size_t at = mains_cable(wiring, cable)->from; at != NO_PLACE; at = flow->above[at]) {
        n = add_device(protection_of(wiring_place(wiring, at)), n, device);
        if (flow->feeder[at] != NO_PLACE)
            n = add_device(mains_cable(wiring, flow->feeder[at])->protect, n, device);
    }
    return n;
}

const Record *
mains_breaker(const Wiring *wiring, const MainsFlow *flow, size_t cable)
{
    const Record *device[MAINS_DEVICES];
    size_t n = mains_devices(wiring, flow, cable, device);
    for (size_t i = 0; i < n; i++) {
        const Protection *typed = device[i]->data;
        bool residual_only = isnan(typed->rating_A) && typed->residual_A > 0.0;
        if (typed->kind != PROTECT_NONE && !residual_only)
            return device[i];
    }
    return NULL;
}

const MainsFlow *
mains_alone(const Wiring *wiring, size_t cable)
{
    const MainsFlow *found = NULL;
    for (guint k = 0; k < wiring->mains_flows->len; k++) {
        const MainsFlow *flow = mains_flow(wiring, k);
        if (!mains_is_structure(flow) || !mains_feeds(wiring, flow, cable))
            continue;
        bool shore = ((const SourceSection *) flow->only->data)->kind == SOURCE_SHORE;
        if (found == NULL || shore)
            found = flow;
    }
    return found;
}

const MainsFlow *
mains_worst(const Wiring *wiring, size_t cable, double *amperes)
{
    const MainsFlow *worst = NULL;
    size_t to = mains_cable(wiring, cable)->to;
    *amperes = 0.0;
    for (guint k = 0; k < wiring->mains_flows->len; k++) {
        const MainsFlow *flow = mains_flow(wiring, k);
        if (mains_feeds(wiring, flow, cable) && mains_current_A(flow, to) > *amperes) {
            *amperes = mains_current_A(flow, to);
            worst = flow;
        }
    }
    return worst;
}
