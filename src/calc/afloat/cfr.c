/* Calculators of 46 CFR. Invariant: lengths, areas and masses must be positive, else refused. */
#include "physics/afloat/cfr.h"

#include <math.h>

#include "calc/afloat/hull.h"

static const char all_positive[] = "sizes and masses must be positive";

static const char *const waters_words[] = {"exposed", "partially-protected", "protected", NULL};
static const Input wind_inputs[] = {
    IN_NUMBER("length", "m"),
    IN_NUMBER("lateral_area", "m2"),
    IN_NUMBER("lateral_lever", "m"),
    IN_NUMBER("displacement", "kg"),
    IN_NUMBER("freeboard", "m"),
    IN_NUMBER("beam", "m"),
    IN_WORD("waters", waters_words, .standard = "exposed"),
};
static const Output wind_outputs[] = {OUT_NUMBER("pressure", "kg/m2"),
                                      OUT_NUMBER("heel_allowed", "rad"),
                                      OUT_NUMBER("gm_required", "m")};
static const Method *const wind_methods[] = {&wind_pressure_method, &wind_gm_method, NULL};

static void
run_wind(const CalcArguments *in, CalcResults *out)
{
    WindGm w;
    if (wind_gm(argument_number(in, "length"), argument_number(in, "lateral_area"),
                argument_number(in, "lateral_lever"), argument_number(in, "displacement"),
                argument_number(in, "freeboard"), argument_number(in, "beam"),
                (CfrWaters) argument_choice(in, "waters"), &w) == REFUSED)
        results_refuse(out, all_positive);
    results_set(out, "pressure", w.pressure_kg_per_m2);
    results_set(out, "heel_allowed", w.heel_rad);
    results_set(out, "gm_required", w.gm_m);
}

const Calculator calculator_wind_gm_46cfr = {
    .name = "wind-gm-46cfr",
    .question = "GM asked against wind, 170.170",
    .sheet = "float.md 5.7",
    CALCULATOR_BODY(wind_inputs, wind_outputs),
    .methods = wind_methods,
    .run = run_wind,
};

static const Input passenger_inputs[] = {IN_NUMBER("passenger_mass", "kg"),
                                         IN_NUMBER("displacement", "kg"), IN_NUMBER("offset", "m"),
                                         IN_NUMBER("deck_edge_angle", "rad", .standard = "90 deg")};
static const Output passenger_outputs[] = {OUT_NUMBER("heel_allowed", "rad"),
                                           OUT_NUMBER("gm_required", "m")};
static const Method *const passenger_methods[] = {&passenger_gm_method, NULL};

static void
run_passenger(const CalcArguments *in, CalcResults *out)
{
    double heel, gm;
    if (passenger_gm(argument_number(in, "passenger_mass"), argument_number(in, "displacement"),
                     argument_number(in, "offset"), argument_number(in, "deck_edge_angle"), &heel,
                     &gm) == REFUSED)
        results_refuse(out, all_positive);
    results_set(out, "heel_allowed", heel);
    results_set(out, "gm_required", gm);
}

const Calculator calculator_passenger_gm_46cfr = {
    .name = "passenger-gm-46cfr",
    .question = "GM asked against people crowding to one side, 171.050",
    .sheet = "float.md 5.7",
    CALCULATOR_BODY(passenger_inputs, passenger_outputs),
    .methods = passenger_methods,
    .run = run_passenger,
};

static const Input proof_inputs[] = {
    IN_NUMBER("passenger_mass", "kg"),
    IN_NUMBER("deck_beam", "m"),
    IN_NUMBER("lateral_area", "m2"),
    IN_NUMBER("lateral_lever", "m"),
    IN_NUMBER("freeboard", "m"),
    IN_WORD("waters", waters_words, .standard = "exposed"),
    IN_NUMBER("deck_length", "m", .otherwise = "none"),
    IN_NUMBER("cockpit_length", "m", .standard = "0 m"),
};
static const Output proof_outputs[] = {
    OUT_NUMBER("passenger_moment", "kg m"), OUT_NUMBER("wind_moment", "kg m"),
    OUT_NUMBER("moment", "kg m"), OUT_NUMBER("immersion_allowed", "m")};
static const Method *const proof_methods[] = {&passenger_moment_method, &wind_moment_method,
                                              &immersion_method, NULL};

static void
run_proof(const CalcArguments *in, CalcResults *out)
{
    ProofTest p;
    if (proof_test(argument_number(in, "passenger_mass"), argument_number(in, "deck_beam"),
                   argument_number(in, "lateral_area"), argument_number(in, "lateral_lever"),
                   argument_number(in, "freeboard"), (CfrWaters) argument_choice(in, "waters"),
                   argument_number(in, "deck_length"), argument_number(in, "cockpit_length"),
                   &p) == REFUSED)
        results_refuse(out, "sizes must be positive; with a cockpit the length of the deck is "
                            "needed, and is the longer");
    results_set(out, "passenger_moment", p.passenger_kgm);
    results_set(out, "wind_moment", p.wind_kgm);
    results_set(out, "moment", p.moment_kgm);
    results_set(out, "immersion_allowed", p.immersion_m);
}

const Calculator calculator_proof_test_46cfr = {
    .name = "proof-test-46cfr",
    .question =
        "heeling moment of the simplified proof test and the side that may go under, 178.330",
    .sheet = "float.md 5.7",
    CALCULATOR_BODY(proof_inputs, proof_outputs),
    .methods = proof_methods,
    .run = run_proof,
};

static const Input hook_inputs[] = {IN_NUMBER("displacement", "kg"), IN_NUMBER("gm", "m"),
                                    IN_NUMBER("freeboard", "m"), IN_NUMBER("beam", "m")};
static const Output hook_outputs[] = {OUT_NUMBER("moment", "kg m")};
static const Method *const hook_methods[] = {&hook_moment_method, NULL};

static void
run_hook(const CalcArguments *in, CalcResults *out)
{
    double moment = hook_moment_kgm(argument_number(in, "displacement"), argument_number(in, "gm"),
                                    argument_number(in, "freeboard"), argument_number(in, "beam"));
    if (isnan(moment))
        results_refuse(out, all_positive);
    results_set(out, "moment", moment);
}

const Calculator calculator_hook_moment_46cfr = {
    .name = "hook-moment-46cfr",
    .question = "hook moment above which a lifting check is due, 173.005",
    .sheet = "float.md 5.7",
    CALCULATOR_BODY(hook_inputs, hook_outputs),
    .methods = hook_methods,
    .run = run_hook,
};
