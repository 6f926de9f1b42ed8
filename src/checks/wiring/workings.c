/* Workings of the wiring: loops, drops, ampacity.
 * Invariant: every given bears the path of what was typed, so that a doubt can say what settles it. */
#include "checks/wiring/workings.h"

#include <math.h>

#include "physics/wiring/ampacity.h"
#include "physics/wiring/cable_drop.h"
#include "physics/wiring/conductor.h"
#include "physics/wiring/pm_thruster.h"

/* A table states the most a conductor may have; a meter reads as well. Judgement of this project. */
#define MODEL_SPREAD_FRAC 0.02

const Source source_network = {
    "nodal analysis of the whole network in that situation, positive and negative conductors apart",
    STANDING_DERIVED};
static const Source warmth = {
    "docs/methods/wires.md 1.1: self-heating by the square of the current", STANDING_DERIVED};

void
given_by_word(Working *w, const Record *record, const char *key, const char *symbol,
              const char *label, double value, QuantityKind kind, const Source *source)
{
    const FieldState *state = record_state(record, key);
    working_given(w, symbol, label, value, kind, 0.0, state->basis, source);
    working_path_of(w, record, key);
}

void
steps_of_ampacity(Working *w, const Cable *cable)
{
    const Ampacity *ampacity = &cable->ampacity;
    working_from_boat(w, "S", cable->record, "area");
    working_from_boat(w, "theta_max", cable->record, "insulation");
    working_from_boat(w, "n", cable->record, "bundle");
    working_given(w, "I_table", "the lesser of both tables for that conductor and insulation",
                  ampacity->table_A, Q_CURRENT, 0.0, BASIS_STATED, &ampacity->source);
    given_by_word(w, cable->record, "runs", "f_place", "for the warmth where it runs",
                  ampacity->place_factor, Q_FRACTION, &ampacity->source);
    working_given(w, "f_bundle", "for its neighbours", ampacity->bundle_factor, Q_FRACTION, 0.0,
                  BASIS_STATED, &ampacity->source);
    working_reckon(w, "I_z", "current it may carry", "I_table * f_place * f_bundle",
                   ampacity->allowed_A, Q_CURRENT, 0.0, &ampacity->source);
}

void
steps_of_run(Working *w, const Cable *cable, const Flow *flow, size_t i)
{
    LoadedCable loaded = cable_loaded(cable, cable->ampacity.allowed_A, cable->ampacity.ambient_K);
    working_given(w, "r", "resistance per length of one conductor at that temperature",
                  loaded.ohm_per_m, Q_RESISTANCE_PER_LENGTH, 0.0, BASIS_STATED,
                  &cable->resistance_source);
    working_given(w, "theta_ref", "around it", loaded.reference_K, Q_TEMPERATURE, 0.0, BASIS_STATED,
                  NULL);
    working_equals(w, "tau", "how long its copper takes to warm", cable_time_constant_s(&loaded),
                   Q_TIME, 0.0, &cable_time_constant_method);
    working_given(w, "I_0", "current that lasts, the brief load off", fabs(flow->lasting_A[i]),
                  Q_CURRENT, 0.0, BASIS_STATED, &source_network);
    working_given(w, "t", "the longest it runs at a stretch", flow->short_s, Q_TIME, 0.0,
                  BASIS_STATED, NULL);
    working_equals(w, "I_run", "current it may carry that long", cable_allowed_A(cable, flow, i),
                   Q_CURRENT, 0.0, &cable_run_method);
}

double
loop_spread_ohm(const Cable *cable, double metal_K)
{
    double cable_part = cable_ohm(cable, metal_K) - cable->typed->contacts_ohm;
    double length = record_state(cable->record, "one-way")->spread / cable->typed->one_way_m;
    double area = record_state(cable->record, "area")->spread / cable->typed->area_m2;
    double contacts = record_state(cable->record, "contacts")->spread;
    return hypot(hypot(cable_part * length, cable_part * area), contacts);
}

void
steps_of_loop(Working *w, const Cable *cable, double metal_K)
{
    if (cable->by_reading) {
        working_from_boat(w, "U_read", cable->measured, "voltage");
        working_from_boat(w, "I_read", cable->measured, "current");
        working_reckon(w, "R", "resistance of cable and joints, as measured", "U_read / I_read",
                       cable_ohm(cable, metal_K), Q_RESISTANCE, 0.0, NULL);
        return;
    }
    working_from_boat(w, "l", cable->record, "one-way");
    working_from_boat(w, "S", cable->record, "area");
    given_by_word(w, cable->record, "wires", "ways", "conductors in the path", cable_ways(cable),
                  Q_COUNT, NULL);
    working_followed_is(w, true); /* out and back is what a cable is, unless said otherwise */
    working_given(w, "r_20", "resistance per length at 20 degC, tinned and flexible unless said",
                  cable->ohm_per_m, Q_RESISTANCE_PER_LENGTH, 0.0, BASIS_STATED,
                  &cable->resistance_source);
    if (cable->resistance_validity == REFUSED)
        working_validity_is(w, REFUSED);
    working_given(w, "theta", "temperature of the metal", metal_K, Q_TEMPERATURE, 0.0, BASIS_STATED,
                  &warmth);
    working_from_boat(w, "R_c", cable->record, "contacts");
    double spread = loop_spread_ohm(cable, metal_K);
    working_reckon(w, "R", "resistance, warm, contacts included",
                   "ways * l * r_20 * (1 + 0.00393 * (theta - 293.15)) + R_c",
                   cable_ohm(cable, metal_K), Q_RESISTANCE, spread,
                   &conductor_resistance_method.source);
}

Working *
working_of_drop(const Wiring *wiring, size_t i, const Flow *flow, Result *result, double *value,
                double *spread)
{
    const Cable *cable = wiring_cable(wiring, i);
    double metal_K = flow->metal_K[i], amperes = fabs(flow->cable_A[i]);
    Working *w = result_working(result, "Voltage lost in this cable");
    steps_of_loop(w, cable, metal_K);
    *value = amperes * cable_ohm(cable, metal_K);
    *spread = hypot(MODEL_SPREAD_FRAC * *value,
                    cable->by_reading ? 0.0 : amperes * loop_spread_ohm(cable, metal_K));
    working_given(w, "I", "current in it", amperes, Q_CURRENT, 0.0, BASIS_STATED, &source_network);
    working_reckon(w, "dU", "voltage lost", "I * R", *value, Q_VOLTAGE, *spread,
                   &cable_drop_method.source);
    return w;
}

Working *
working_of_thrust(const Wiring *wiring, size_t i, const Flow *flow, Result *result, double *share,
                  double *spread)
{
    static const Source motor = {"5 mohm of 12.6 V at 277 A, docs/methods/wires.md check W-M2; no "
                                 "plate says it",
                                 STANDING_PRACTICE};
    const double armature_spread = 0.05;
    const Place *place = wiring_place(wiring, i);
    double volts = flow_volts(flow, i), nominal = place_load_V(place), u = volts / nominal;
    *share = pm_thruster_share(u, THRUSTER_ARMATURE);
    double by_armature = fabs(pm_thruster_share(u, THRUSTER_ARMATURE + armature_spread) - *share);
    double by_volts = fabs(pm_thruster_share(u * (1.0 + MODEL_SPREAD_FRAC), THRUSTER_ARMATURE) -
                           *share); /* of the voltage */
    *spread = hypot(by_armature, by_volts);
    Working *w = result_working(result, "Thrust that the voltage leaves");
    working_given(w, "U", "voltage between its two terminals while it runs", volts, Q_VOLTAGE,
                  MODEL_SPREAD_FRAC * volts, BASIS_STATED, &source_network);
    working_given(w, "U_n", "voltage of its plate", nominal, Q_VOLTAGE, 0.0, BASIS_STATED, NULL);
    working_given(w, "r", "share of that which its armature takes", THRUSTER_ARMATURE, Q_FRACTION,
                  armature_spread, BASIS_STATED, &motor);
    working_reckon(w, "u", "of the plate's voltage", "U / U_n", u, Q_FRACTION, 0.0, NULL);
    working_equals(w, "share", "thrust, and current, of those at the plate's voltage", *share,
                   Q_FRACTION, *spread, &pm_thruster_share_method);
    return w;
}

const Cable *
steps_of_starter_loop(const Wiring *wiring, const Place *place, Working *w, double *loop_ohm,
                      double *spread_ohm, Result *result)
{
    const Cable *worst = NULL;
    g_autoptr(GString) sum = g_string_new(NULL);
    *loop_ohm = *spread_ohm = 0.0;
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        if (wiring_place(wiring, cable->to) != place && wiring_place(wiring, cable->from) != place)
            continue;
        double ohm = cable_ohm(cable, COLD_METAL_K);
        double spread = cable->by_reading ? 0.02 * ohm : loop_spread_ohm(cable, COLD_METAL_K);
        *loop_ohm += ohm;
        *spread_ohm = hypot(*spread_ohm, spread);
        const char *symbol = result_text(result, "R_%u", i + 1);
        working_given(w, symbol, result_name(result, cable->record->path), ohm, Q_RESISTANCE,
                      spread, BASIS_STATED, &cable->resistance_source);
        working_path_is(w, result_text(result, "%s.area", cable->record->path));
        g_string_append_printf(sum, "%s%s", sum->len > 0 ? " + " : "", symbol);
        if (worst == NULL || ohm > cable_ohm(worst, COLD_METAL_K))
            worst = cable;
    }
    if (worst != NULL)
        working_reckon(w, "R_loop", "out and back, contacts included", sum->str, *loop_ohm,
                       Q_RESISTANCE, *spread_ohm, NULL);
    return worst;
}

Rule
wiring_rule(const Wiring *wiring, const char *id, Result *result)
{
    return rule_find(wiring->boat, wiring->catalog, id, result);
}

void
lever_thicker(Result *result, Finding *f, const Cable *cable)
{
    finding_lever(result, f, result_text(result, "%s.area", cable->record->path),
                  LEVER_NEXT_SIZE_UP, NAN, NAN);
}
