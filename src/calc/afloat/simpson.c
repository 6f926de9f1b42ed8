/* Calculators by Simpson's rule. Invariant: ordinates that do not fit the rule are refused, never trimmed. */
#include "physics/afloat/simpson.h"

#include "calc/afloat/hull.h"

static const char bad_ordinates[] = "an odd number of ordinates, at least three, is needed: "
                                    "positions rising, intervals equal in pairs, none negative";

static const Input plane_inputs[] = {IN_LIST("positions", "m"), IN_LIST("half_breadths", "m"),
                                     IN_WATER, IN_DENSITY};
static const Output plane_outputs[] = {OUT_NUMBER("area", "m2"), OUT_NUMBER("lcf", "m"),
                                       OUT_NUMBER("inertia_t", "m4"), OUT_NUMBER("inertia_l", "m4"),
                                       OUT_NUMBER("tpc", "kg/m")};
static const Method *const methods[] = {&simpson_method, NULL};

static void
run_plane(const CalcArguments *in, CalcResults *out)
{
    size_t n, m;
    const double *x = argument_list(in, "positions", &n),
                 *y = argument_list(in, "half_breadths", &m);
    SimpsonPlane plane;
    if (n != m || simpson_waterplane(n, x, y, &plane) == REFUSED) {
        results_refuse(out, bad_ordinates);
        return;
    }
    results_set(out, "area", plane.area_m2);
    results_set(out, "lcf", plane.lcf_m);
    results_set(out, "inertia_t", plane.inertia_t_m4);
    results_set(out, "inertia_l", plane.inertia_l_m4);
    results_set(out, "tpc", water_density(in, out) * plane.area_m2);
}

const Calculator calculator_waterplane_simpson = {
    .name = "waterplane-simpson",
    .question = "area, centre and inertias of a water plane from measured half-breadths",
    .sheet = "float.md 2.5, check values M",
    CALCULATOR_BODY(plane_inputs, plane_outputs),
    .methods = methods,
    .run = run_plane,
};

static const Input volume_inputs[] = {IN_LIST("positions", "m"), IN_LIST("areas", "m2")};
static const Output volume_outputs[] = {OUT_NUMBER("volume", "m3"), OUT_NUMBER("lcb", "m")};

static void
run_volume(const CalcArguments *in, CalcResults *out)
{
    size_t n, m;
    const double *x = argument_list(in, "positions", &n), *area = argument_list(in, "areas", &m);
    double volume, lcb;
    if (n != m || simpson_volume(n, x, area, &volume, &lcb) == REFUSED) {
        results_refuse(out, bad_ordinates);
        return;
    }
    results_set(out, "volume", volume);
    results_set(out, "lcb", lcb);
}

const Calculator calculator_volume_simpson = {
    .name = "volume-simpson",
    .question = "volume and centre of buoyancy from sectional areas",
    .sheet = "float.md 2.4, check values M",
    CALCULATOR_BODY(volume_inputs, volume_outputs),
    .methods = methods,
    .run = run_volume,
};
