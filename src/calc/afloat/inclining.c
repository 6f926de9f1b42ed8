/* Calculators of inclining tests. Invariant: as many deflections as moments. */
#include <math.h>

#include "calc/afloat/hull.h"
#include "physics/afloat/inclining.h"

static const Input incline_inputs[] = {
    IN_NUMBER("displacement", "kg"),
    IN_LIST("moments", "kg m"),
    IN_LIST("deflections", "m"),
    IN_NUMBER("pendulum_length", "m"),
    IN_LIST("deflections_2", "m", .otherwise = "none"),
    IN_NUMBER("pendulum_length_2", "m", .otherwise = "none"),
    IN_NUMBER("km", "m", .otherwise = "none"),
    IN_NUMBER("free_surface_moment", "kg m", .standard = "0 kg m"),
};
static const Output incline_outputs[] = {
    OUT_NUMBER("gm", "m"),        OUT_NUMBER("gm_1", "m"),     OUT_NUMBER("gm_2", "m"),
    OUT_NUMBER("gm_spread", "m"), OUT_NUMBER("slope", "kg m"), OUT_NUMBER("intercept", "kg m"),
    OUT_NUMBER("vcg_solid", "m")};
static const Method *const incline_methods[] = {&inclining_line_method, &inclining_gm_method,
                                                &inclining_vcg_method, NULL};

static const char *
why_not(const CalcArguments *in, size_t n, size_t first, size_t second)
{
    if (first != n || (argument_given(in, "deflections_2") && second != n))
        return "every moment needs its deflection: the lists differ in length";
    if (argument_given(in, "deflections_2") && !argument_given(in, "pendulum_length_2"))
        return "the second pendulum needs its length";
    return NULL;
}

static void
run_incline(const CalcArguments *in, CalcResults *out)
{
    size_t n, first, second = 0;
    const double *moment = argument_list(in, "moments", &n);
    const double *one = argument_list(in, "deflections", &first), *two = NULL;
    if (argument_given(in, "deflections_2"))
        two = argument_list(in, "deflections_2", &second);
    const char *fault = why_not(in, n, first, second);
    if (fault != NULL) {
        results_refuse(out, fault);
        return;
    }
    const Pendulum pendulum[2] = {{argument_number(in, "pendulum_length"), 0.0, one},
                                  {argument_number(in, "pendulum_length_2"), 0.0, two}};
    const InclineTerms terms = {.mass_kg = argument_number(in, "displacement"),
                                .km_m = argument_number(in, "km"),
                                .free_surface_kgm = argument_number(in, "free_surface_moment")};
    Inclining test;
    Validity validity = inclining(n, moment, pendulum, &terms, &test, NULL);
    if (validity == REFUSED) {
        results_refuse(out, "at least three readings at different heels are needed, the boat "
                            "leaning to the side of the moment; displacement and pendulum lengths "
                            "must be positive");
        return;
    }
    results_limit(out, validity);
    results_set(out, "gm", test.gm_m);
    results_set(out, "gm_1", test.gm_1_m);
    results_set(out, "gm_2", test.gm_2_m);
    results_set(out, "gm_spread", test.slope_error_kgm / terms.mass_kg);
    results_set(out, "slope", test.slope_kgm);
    results_set(out, "intercept", test.intercept_kgm);
    results_set(out, "vcg_solid", test.vcg_solid_m);
}

const Calculator calculator_inclining = {
    .name = "inclining",
    .question = "GM and KG from a set of weight moves, with the scatter of the readings",
    .sheet = "float.md 6",
    CALCULATOR_BODY(incline_inputs, incline_outputs),
    .methods = incline_methods,
    .run = run_incline,
};

static const Input single_inputs[] = {
    IN_NUMBER("mass", "kg"),           IN_NUMBER("distance", "m"),
    IN_NUMBER("displacement", "kg"),   IN_NUMBER("deflection", "m"),
    IN_NUMBER("pendulum_length", "m"), IN_NUMBER("km", "m", .otherwise = "none"),
};
static const Output single_outputs[] = {OUT_NUMBER("heel", "rad"), OUT_NUMBER("gm", "m"),
                                        OUT_NUMBER("gm_small_angle", "m"), OUT_NUMBER("vcg", "m")};
static const Method *const single_methods[] = {&inclining_single_method, &inclining_small_method,
                                               NULL};

static void
run_single(const CalcArguments *in, CalcResults *out)
{
    InclineSingle test;
    Validity validity =
        inclining_single(argument_number(in, "mass"), argument_number(in, "distance"),
                         argument_number(in, "displacement"), argument_number(in, "deflection"),
                         argument_number(in, "pendulum_length"), argument_number(in, "km"), &test);
    if (validity == REFUSED) {
        results_refuse(out, "the boat must lean to the side the mass was moved to; displacement "
                            "and pendulum length must be positive");
        return;
    }
    results_limit(out, validity);
    results_set(out, "heel", test.heel_rad);
    results_set(out, "gm", test.gm_m);
    results_set(out, "gm_small_angle", test.gm_small_angle_m);
    results_set(out, "vcg", test.vcg_m);
}

const Calculator calculator_inclining_single = {
    .name = "inclining-single",
    .question = "GM from one moved mass and one deflection",
    .sheet = "float.md 6, 5.5",
    CALCULATOR_BODY(single_inputs, single_outputs),
    .methods = single_methods,
    .run = run_single,
};
