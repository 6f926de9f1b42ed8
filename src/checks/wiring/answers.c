/* Gives every answer of the wiring: drop and current of each circuit, what it may carry, volts at each device, dead shorts. */
#include <math.h>

#include "checks/wiring/device.h"
#include "checks/wiring/corrosion.h"
#include "checks/wiring/mains_workings.h"
#include "checks/wiring/workings.h"

#define ROW(id, key, title, kind_, worse_, say)                                                    \
    const AnswerKind wiring_answer_##id = {.discipline = "wiring",                                 \
                                           .name = key,                                            \
                                           .label = title,                                         \
                                           .kind = kind_,                                          \
                                           .worse = worse_,                                        \
                                           .help = say}

ROW(drop, "drop", "Voltage lost in circuit", Q_VOLTAGE, WORSE_MORE,
    "out and back, the conductor as warm as it gets");
ROW(current, "current", "Current in circuit", Q_CURRENT, WORSE_MORE, "in its worst situation");
ROW(volts, "volts", "Voltage at device", Q_VOLTAGE, WORSE_LESS, "while it runs");
ROW(fault, "fault-current", "Current of a dead short", Q_CURRENT, WORSE_MORE,
    "at the end where the circuit is fed; batteries new, full and warm, mains cables cold");
ROW(may_carry, "may-carry", "Current the cable may carry", Q_CURRENT, WORSE_LESS,
    "by its conductor, its insulation, the warmth where it runs and its neighbours");
ROW(guarded, "protected-at", "Fuse or breaker before the circuit", Q_CURRENT, WORSE_MORE,
    "its own, or that of the board it is fed from");
ROW(breaks, "breaks", "Current its fuse or breaker can break", Q_CURRENT, WORSE_LESS,
    "the maker's figure, else the usual one of its class");
ROW(start, "start-volts", "Voltage at motor that starts", Q_VOLTAGE, WORSE_LESS,
    "while it draws the most, the rest of the situation running");
ROW(thrust, "thrust", "Thrust of thruster, of its plate's", Q_FRACTION, WORSE_LESS,
    "that the voltage at its terminals leaves while it runs");
ROW(crank, "crank-volts", "Voltage at the starter", Q_VOLTAGE, WORSE_LESS, "while it cranks");

/* A blank stands in no id: a load tried alone is never taken for a situation of the file. */
static const char *
flow_id(Result *result, const Flow *flow)
{
    return flow->only != NULL ? result_text(result, "%s alone", flow->only->id) : flow->situation;
}

static void
give_circuits(const Wiring *wiring, const Flow *flow, Result *result)
{
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        double most_A;
        if (!(fabs(flow->cable_A[i]) > 0.0) ||
            (wiring->brief && cable_worst(wiring, i, &most_A) != flow))
            continue;
        double value, spread;
        Working *w = working_of_drop(wiring, i, flow, result, &value, &spread);
        result_give(result, &wiring_answer_drop, cable->record->id, cable->record->path,
                    flow_id(result, flow), value, spread, working_basis(w), w);
        Working *c = result_working(result, "Current in this circuit");
        working_given(c, "I", "current in it", fabs(flow->cable_A[i]), Q_CURRENT, 0.0, BASIS_STATED,
                      &source_network);
        result_give(result, &wiring_answer_current, cable->record->id, cable->record->path,
                    flow_id(result, flow), fabs(flow->cable_A[i]), 0.0, working_basis(w), c);
    }
}

static bool
lower_elsewhere(const Wiring *wiring, const Flow *flow, size_t place)
{
    for (guint k = 0; k < wiring->flows->len; k++) {
        const Flow *other = wiring_flow(wiring, k);
        if (other->outcome == NETWORK_SOLVED && other->running[place] &&
            flow_volts(other, place) < flow_volts(flow, place))
            return true;
    }
    return false;
}

static void
give_thrust(const Wiring *wiring, const Flow *flow, size_t i, Result *result)
{
    const Place *place = wiring_place(wiring, i);
    double share, spread;
    Working *w = working_of_thrust(wiring, i, flow, result, &share, &spread);
    if (isfinite(share))
        result_give(result, &wiring_answer_thrust, place->id, place->record->path,
                    flow_id(result, flow), share, spread, working_basis(w), w);
}

static void
give_starts(const Wiring *wiring, Result *result)
{
    for (guint k = 0; k < wiring->starts->len; k++) {
        const Flow *flow = g_ptr_array_index(wiring->starts, k);
        const Place *motor = wiring_place(wiring, flow->starts);
        if (flow->outcome != NETWORK_SOLVED)
            continue;
        double volts = flow_volts(flow, flow->starts);
        Working *w = result_working(result, "Voltage at the motor as it starts");
        working_from_boat(w, "I_start", motor->load, "inrush");
        working_given(w, "U", "voltage between its two terminals, at rest a resistance", volts,
                      Q_VOLTAGE, 0.0, BASIS_STATED, &source_network);
        result_give(result, &wiring_answer_start, motor->id, motor->record->path,
                    flow_id(result, flow), volts, 0.0, working_basis(w), w);
    }
}

static void
give_volts(const Wiring *wiring, const Flow *flow, Result *result)
{
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        if (!flow->running[i] || !place->direct || !isfinite(place_current_A(place)) ||
            (wiring->brief && lower_elsewhere(wiring, flow, i)))
            continue;
        Working *w = result_working(result, "Voltage at the device");
        working_given(w, "U", "voltage between its two terminals", flow_volts(flow, i), Q_VOLTAGE,
                      0.0, BASIS_STATED, &source_network);
        result_give(result, &wiring_answer_volts, place->id, place->record->path,
                    flow_id(result, flow), flow_volts(flow, i), 0.0, BASIS_STATED, w);
        if (place_is_thruster(place))
            give_thrust(wiring, flow, i, result);
        if (place_is_starter(place))
            result_give(result, &wiring_answer_crank, place->id, place->record->path,
                        flow_id(result, flow), flow_volts(flow, i), 0.0, BASIS_STATED, w);
    }
}

static void
give_faults(const Wiring *wiring, Result *result)
{
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        double amperes = wiring->fault_A[cable->from];
        if (!isfinite(amperes))
            continue;
        Working *w = result_working(result, "A dead short where the circuit is fed");
        working_given(w, "I_k", "all banks into 0 ohm there", amperes, Q_CURRENT, 0.0,
                      BASIS_ASSUMED, &source_network);
        result_give(result, &wiring_answer_fault, cable->record->id, cable->record->path, NULL,
                    amperes, NAN, BASIS_ASSUMED, w);
    }
}

static void
give_may_carry(const Cable *cable, void (*steps)(Working *, const Cable *), Result *result)
{
    if (!isfinite(cable->ampacity.allowed_A))
        return;
    Working *w = result_working(result, "What the cable may carry");
    steps(w, cable);
    result_give(result, &wiring_answer_may_carry, cable->record->id, cable->record->path, NULL,
                cable->ampacity.allowed_A, 0.0, working_basis(w), w);
}

static void
give_guarded(const Cable *cable, const Record *protect, Result *result)
{
    const Protection *typed = protect != NULL ? protect->data : NULL;
    if (typed == NULL || typed->kind == PROTECT_NONE || !isfinite(typed->rating_A))
        return;
    Working *w = result_working(result, "What cuts the current off");
    working_from_boat(w, "I_n", protect, "rating");
    result_give(result, &wiring_answer_guarded, cable->record->id, cable->record->path, NULL,
                typed->rating_A, 0.0, working_basis(w), w);
}

static void
give_breaks(const Wiring *wiring, const Cable *cable, Result *result)
{
    const Protection *typed = cable_device(cable);
    Source source;
    double amperes = typed != NULL ? protection_breaks_A(wiring, typed, &source) : NAN;
    if (!isfinite(amperes))
        return;
    Working *w = result_working(result, "What the fuse or breaker can break");
    working_given(w, "I_cn", "greatest current it breaks", amperes, Q_CURRENT, 0.0, BASIS_STATED,
                  &source);
    result_give(result, &wiring_answer_breaks, cable->record->id, cable->record->path, NULL,
                amperes, 0.0, working_basis(w), w);
}

void
wiring_give_answers(const Wiring *wiring, Result *result)
{
    for (guint i = 0; i < wiring->flows->len; i++) {
        const Flow *flow = wiring_flow(wiring, i);
        if (flow->outcome != NETWORK_SOLVED)
            continue;
        give_circuits(wiring, flow, result);
        give_volts(wiring, flow, result);
    }
    give_faults(wiring, result);
    give_starts(wiring, result);
    for (guint i = 0; i < wiring->cables->len && !wiring->brief; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        give_may_carry(cable, steps_of_ampacity, result);
        give_guarded(cable, cable_protection(wiring, cable), result);
        give_breaks(wiring, cable, result);
    }
    corrosion_give_answer(wiring, result);
    for (guint i = 0; i < wiring->mains->len && !wiring->brief; i++) {
        const Cable *cable = mains_cable(wiring, i);
        const MainsFlow *flow = mains_alone(wiring, i);
        give_may_carry(cable, steps_of_fixed_ampacity, result);
        give_guarded(cable, flow != NULL ? mains_breaker(wiring, flow, i) : NULL, result);
        give_breaks(wiring, cable, result);
    }
    mains_give_answers(wiring, result);
}
