/* Calculators of the floating position and of openings. Invariant: a position that is not stable is refused. */
#include <math.h>

#include "calc/afloat/hull.h"
#include "physics/afloat/lever.h"
#include "physics/afloat/profile.h"
#include "physics/afloat/rest.h"

static const Input floating_inputs[] = {
    IN_HULL,
    IN_NUMBER("displacement", "kg"),
    IN_NUMBER("lcg", "m"),
    IN_NUMBER("vcg", "m"),
    IN_NUMBER("tcg", "m", .standard = "0 m"),
    IN_TANKS,
    IN_NUMBER("x_aft", "m", .otherwise = "first-station"),
    IN_NUMBER("x_fwd", "m", .otherwise = "last-station"),
    IN_WATER,
    IN_DENSITY,
};
static const Output floating_outputs[] = {
    OUT_REST,
};
static const Method *const floating_methods[] = {&rest_volume_method,
                                                 &rest_trim_method,
                                                 &rest_heel_method,
                                                 &bm_method,
                                                 &free_surface_method,
                                                 &gm_method,
                                                 NULL};

static const char *
why_not(RestOutcome outcome)
{
    switch (outcome) {
    case REST_SINKS:
        return "the whole closed body displaces less than the load: she sinks";
    case REST_UNSTABLE:
        return "there is no stable position within 90 degrees of upright";
    case REST_PITCHES:
        return "she is not stable lengthwise";
    case REST_NO_PLANE:
        return "the load is no positive mass at a place within reach, or no water plane is left";
    case REST_FOUND:
        break;
    }
    return "no position of rest was found";
}

static void
run_floating(const CalcArguments *in, CalcResults *out)
{
    Hull hull;
    Tank *tank;
    size_t tanks;
    double density = water_density(in, out);
    if (!hull_read(in, out, &hull))
        return;
    if (tanks_read(in, out, &tank, &tanks)) {
        Load load = {argument_number(in, "displacement"),
                     argument_number(in, "lcg"),
                     argument_number(in, "tcg"),
                     argument_number(in, "vcg"),
                     tanks,
                     tank};
        Rest rest;
        if (rest_find(&hull.body, &load, density, &rest) == REFUSED)
            results_refuse(out, why_not(rest.outcome));
        else
            rest_results(in, out, &hull, &rest);
        g_free(tank);
    }
    hull_clear(&hull);
}

const Calculator calculator_floating_position = {
    .name = "floating-position",
    .question = "draughts, trim and heel at which a loaded boat comes to rest, liquids in tanks "
                "free to move",
    .sheet = "float.md 2.6, 2.7, 3",
    CALCULATOR_BODY(floating_inputs, floating_outputs),
    .methods = floating_methods,
    .run = run_floating,
};

static const Column opening_columns[] = {
    {.name = "x", .unit = "m"}, {.name = "y", .unit = "m"}, {.name = "z", .unit = "m"}};
static const char *const side_words[] = {"starboard", "port", "none", NULL};
static const Input opening_inputs[] = {
    IN_HULL,
    IN_NUMBER("displacement", "kg"),
    IN_NUMBER("lcg", "m"),
    IN_NUMBER("vcg", "m"),
    IN_TABLE("openings", opening_columns),
    IN_NUMBER("tcg", "m", .standard = "0 m"),
    IN_WATER,
    IN_DENSITY,
};
static const Output opening_outputs[] = {OUT_NUMBERS("height", "m"), OUT_NUMBERS("angle", "rad"),
                                         OUT_WORDS("side", side_words),
                                         OUT_NUMBER("downflooding_angle", "rad")};

enum { SIDE_STEPS = 91 };

typedef struct {
    LeverCurve curve;
    double cells[4][SIDE_STEPS];
} SideCurve;

static void
follow(const Body *body, const Load *load, double density, double from_deg, SideCurve *side)
{
    side->curve =
        (LeverCurve){SIDE_STEPS, side->cells[0], side->cells[1], side->cells[2], side->cells[3]};
    for (int i = 0; i < SIDE_STEPS; i++)
        side->cells[0][i] = (from_deg + i) * (M_PI / 180.0);
    lever_curve(body, load, density, true, 0.0, &side->curve);
}

static void
set_openings(const CalcArguments *in, CalcResults *out, const Body *body, const Load *load,
             double density)
{
    size_t n = argument_rows(in, "openings");
    const double *x = argument_column(in, "openings", "x"),
                 *y = argument_column(in, "openings", "y");
    const double *z = argument_column(in, "openings", "z");
    Rest rest;
    if (rest_find(body, load, density, &rest) == REFUSED) {
        results_refuse(out, why_not(rest.outcome));
        return;
    }
    g_autofree SideCurve *sides = g_new(SideCurve, 2);
    follow(body, load, density, 0.0, &sides[0]);
    follow(body, load, density, -90.0, &sides[1]);
    double least = NAN;
    for (size_t i = 0; i < n; i++) {
        int side;
        double angle = point_floods_rad(body, load, density, &sides[0].curve, &sides[1].curve, x[i],
                                        y[i], z[i], 0.5 * M_PI, &side);
        results_set_at(out, "height", i, attitude_height_m(&rest.at, x[i], y[i], z[i]));
        results_set_at(out, "angle", i, angle);
        results_word_at(out, "side", i, side_words[side > 0 ? 0 : side < 0 ? 1 : 2]);
        least = fmin(least, angle);
    }
    results_set(out, "downflooding_angle", least);
}

static void
run_openings(const CalcArguments *in, CalcResults *out)
{
    Hull hull;
    double density = water_density(in, out);
    if (!hull_read(in, out, &hull))
        return;
    Load load = {argument_number(in, "displacement"),
                 argument_number(in, "lcg"),
                 argument_number(in, "tcg"),
                 argument_number(in, "vcg"),
                 0,
                 NULL};
    set_openings(in, out, &hull.body, &load, density);
    hull_clear(&hull);
}

const Calculator calculator_openings = {
    .name = "openings",
    .question =
        "height of openings above the water at rest, and the heel at which each comes under",
    .sheet = "float.md 4",
    CALCULATOR_BODY(opening_inputs, opening_outputs),
    .run = run_openings,
};
