/* Calculators of small-craft, freeboard and fishing-boat rules. Invariant: refused outside the lengths the rule is for. */
#include <math.h>

#include "calc/afloat/hull.h"
#include "physics/afloat/freeboard_inland.h"
#include "physics/afloat/freeboard_uk.h"
#include "physics/afloat/gm_fishing.h"
#include "physics/afloat/roll_period.h"
#include "physics/afloat/smallcraft.h"

static const char *const category_words[] = {"a", "b", "c", "d", NULL};
static const char *const ocean_words[] = {"a", "b", NULL};
static const Input craft_inputs[] = {IN_NUMBER("hull_length", "m"),
                                     IN_WORD("category", category_words)};
static const Output craft_outputs[] = {
    OUT_NUMBER("offset_heel_limit", "rad"), OUT_NUMBER("downflooding_height", "m"),
    OUT_NUMBER("downflooding_angle", "rad"), OUT_NUMBER("wind_speed", "m/s")};
static const Method *const craft_methods[] = {&smallcraft_heel_method, &smallcraft_height_method,
                                              NULL};

static void
run_craft(const CalcArguments *in, CalcResults *out)
{
    SmallcraftLimits limits;
    Validity validity =
        smallcraft_limits(argument_number(in, "hull_length"),
                          (DesignCategory) argument_choice(in, "category"), &limits);
    if (validity == REFUSED)
        results_refuse(out, "the rule is for hull lengths up to 24 m");
    results_limit(out, validity);
    results_set(out, "offset_heel_limit", limits.offset_heel_rad);
    results_set(out, "downflooding_height", limits.opening_height_m);
    results_set(out, "downflooding_angle", limits.flooding_rad);
    results_set(out, "wind_speed", limits.wind_m_per_s);
}

const Calculator calculator_smallcraft_iso12217 = {
    .name = "smallcraft-iso12217",
    .question = "small-craft limits by length and design category (figures mostly from memory)",
    .sheet = "float.md 5.4",
    CALCULATOR_BODY(craft_inputs, craft_outputs),
    .methods = craft_methods,
    .run = run_craft,
};

static const Input craft_wind_inputs[] = {
    IN_WORD("category", ocean_words),   IN_NUMBER("lateral_area", "m2"),
    IN_NUMBER("waterline_length", "m"), IN_NUMBER("draught", "m"),
    IN_NUMBER("volume", "m3"),          IN_NUMBER("gz_max_angle", "rad"),
};
static const Output craft_wind_outputs[] = {
    OUT_NUMBER("wind_moment", "N m"), OUT_NUMBER("roll_angle", "rad"),
    OUT_NUMBER("righting_moment_required", "N m"), OUT_NUMBER("gz_required", "m")};
static const Method *const craft_wind_methods[] = {&smallcraft_moment_method, NULL};

static void
run_craft_wind(const CalcArguments *in, CalcResults *out)
{
    SmallcraftWind wind;
    if (smallcraft_wind(argument_choice(in, "category") == 0 ? CATEGORY_A : CATEGORY_B,
                        argument_number(in, "lateral_area"),
                        argument_number(in, "waterline_length"), argument_number(in, "draught"),
                        argument_number(in, "volume"), argument_number(in, "gz_max_angle"),
                        &wind) == REFUSED) {
        results_refuse(out, "all inputs must be positive");
        return;
    }
    results_set(out, "wind_moment", wind.moment_Nm);
    results_set(out, "roll_angle", wind.roll_rad);
    results_set(out, "righting_moment_required", wind.righting_Nm);
    results_set(out, "gz_required", wind.gz_m);
}

const Calculator calculator_smallcraft_wind_iso12217 = {
    .name = "smallcraft-wind-iso12217",
    .question = "small-craft wind and wave requirements, categories A and B (from memory)",
    .sheet = "float.md 5.4",
    CALCULATOR_BODY(craft_wind_inputs, craft_wind_outputs),
    .methods = craft_wind_methods,
    .run = run_craft_wind,
};

static const char *const deck_words[] = {"flush", "stepped", "open", NULL};
static const Input uk_inputs[] = {IN_NUMBER("length", "m"),
                                  IN_WORD("deck", deck_words, .standard = "flush")};
static const Output freeboard_outputs[] = {OUT_NUMBER("freeboard", "m")};
static const Method *const uk_methods[] = {&freeboard_uk_method, &freeboard_uk_open_method, NULL};

static void
run_uk(const CalcArguments *in, CalcResults *out)
{
    double freeboard;
    if (freeboard_uk(argument_number(in, "length"), (DeckKind) argument_choice(in, "deck"),
                     &freeboard) == REFUSED)
        results_refuse(out, "the length must be positive");
    results_set(out, "freeboard", freeboard);
}

const Calculator calculator_freeboard_uk = {
    .name = "freeboard-uk",
    .question = "freeboard or clear side asked by the UK small-vessel codes",
    .sheet = "float.md 5.5",
    CALCULATOR_BODY(uk_inputs, freeboard_outputs),
    .methods = uk_methods,
    .run = run_uk,
};

static const char *const place_words[] = {"aft", "mid", "fore", NULL};
static const Column house_columns[] = {{.name = "place", .words = place_words},
                                       {.name = "length", .unit = "m"},
                                       {.name = "breadth", .unit = "m"},
                                       {.name = "height", .unit = "m"}};
static const Input inland_inputs[] = {
    IN_NUMBER("length", "m"),
    IN_NUMBER("beam", "m"),
    IN_TABLE("superstructures", house_columns, .otherwise = "none"),
    IN_NUMBER("sheer_fwd", "m", .standard = "0 m"),
    IN_NUMBER("sheer_aft", "m", .standard = "0 m"),
    IN_NUMBER("sheer_fwd_x", "m", .standard = "0 m"),
    IN_NUMBER("sheer_aft_x", "m", .standard = "0 m"),
};
static const Output inland_outputs[] = {OUT_NUMBER("alpha", "1"),
                                        OUT_NUMBER("beta_fwd", "1"),
                                        OUT_NUMBER("beta_aft", "1"),
                                        OUT_NUMBER("sheer_fwd_effective", "m"),
                                        OUT_NUMBER("sheer_aft_effective", "m"),
                                        OUT_NUMBER("freeboard", "m")};
static const Method *const inland_methods[] = {&freeboard_inland_plain_method,
                                               &freeboard_inland_method, NULL};

static void
run_inland(const CalcArguments *in, CalcResults *out)
{
    size_t n = argument_rows(in, "superstructures");
    Superstructure *house = g_new(Superstructure, n + 1);
    for (size_t i = 0; i < n; i++)
        house[i] =
            (Superstructure){(HousePlace) argument_column_choice(in, "superstructures", "place")[i],
                             argument_column(in, "superstructures", "length")[i],
                             argument_column(in, "superstructures", "breadth")[i],
                             argument_column(in, "superstructures", "height")[i]};
    InlandFreeboard f;
    Validity validity = freeboard_inland(
        argument_number(in, "length"), argument_number(in, "beam"), n, house,
        argument_number(in, "sheer_fwd"), argument_number(in, "sheer_aft"),
        argument_number(in, "sheer_fwd_x"), argument_number(in, "sheer_aft_x"), &f);
    g_free(house);
    if (validity == REFUSED) {
        results_refuse(out,
                       "length, beam and superstructures must be positive, sheers not negative");
        return;
    }
    results_limit(out, validity);
    results_set(out, "alpha", f.alpha);
    results_set(out, "beta_fwd", f.beta_fwd);
    results_set(out, "beta_aft", f.beta_aft);
    results_set(out, "sheer_fwd_effective", f.sheer_fwd_m);
    results_set(out, "sheer_aft_effective", f.sheer_aft_m);
    results_set(out, "freeboard", f.freeboard_m);
}

const Calculator calculator_freeboard_inland_eu = {
    .name = "freeboard-inland-eu",
    .question = "freeboard of an inland vessel with sheer and superstructures, zone 3",
    .sheet = "float.md 5.6",
    CALCULATOR_BODY(inland_inputs, inland_outputs),
    .methods = inland_methods,
    .run = run_inland,
};

static const Input fishing_inputs[] = {IN_NUMBER("length", "m"), IN_NUMBER("beam", "m"),
                                       IN_NUMBER("depth", "m"), IN_NUMBER("freeboard", "m"),
                                       IN_NUMBER("superstructure_length", "m", .standard = "0 m")};
static const Output fishing_outputs[] = {OUT_NUMBER("gm_min", "m")};
static const Method *const fishing_methods[] = {&gm_fishing_method, NULL};

static void
run_fishing(const CalcArguments *in, CalcResults *out)
{
    double gm;
    Validity validity = gm_fishing(argument_number(in, "length"), argument_number(in, "beam"),
                                   argument_number(in, "depth"), argument_number(in, "freeboard"),
                                   argument_number(in, "superstructure_length"), &gm);
    if (validity == REFUSED)
        results_refuse(
            out,
            "length, beam and depth must be positive, freeboard and superstructure not negative");
    results_limit(out, validity);
    results_set(out, "gm_min", gm);
}

const Calculator calculator_gm_min_fishing = {
    .name = "gm-min-fishing",
    .question = "approximate least GM of a decked boat below 30 m",
    .sheet = "float.md 5.8",
    CALCULATOR_BODY(fishing_inputs, fishing_outputs),
    .methods = fishing_methods,
    .run = run_fishing,
};

static const char *const roll_words[] = {"regression", "factor", NULL};
static const Input roll_inputs[] = {
    IN_NUMBER("beam", "m"),
    IN_WORD("method", roll_words, .standard = "regression"),
    IN_NUMBER("draught", "m", .otherwise = "none"),
    IN_NUMBER("waterline_length", "m", .otherwise = "none"),
    IN_NUMBER("factor", "1", .otherwise = "none"),
    IN_NUMBER("gm", "m", .otherwise = "none"),
    IN_NUMBER("period", "s", .otherwise = "none"),
};
static const Output roll_outputs[] = {OUT_NUMBER("coefficient", "1"),
                                      OUT_NUMBER("period_from_gm", "s"),
                                      OUT_NUMBER("gm_from_period", "m")};
static const Method *const roll_methods[] = {&roll_coefficient_method, &roll_period_method,
                                             &roll_gm_method, NULL};

static void
run_roll(const CalcArguments *in, CalcResults *out)
{
    double beam = argument_number(in, "beam"), gm = argument_number(in, "gm"),
           period = argument_number(in, "period");
    double c = argument_choice(in, "method") == 0
                   ? roll_coefficient(beam, argument_number(in, "draught"),
                                      argument_number(in, "waterline_length"))
                   : 0.5 * argument_number(in, "factor");
    if (!(c > 0.0) || !(beam > 0.0))
        results_refuse(out, "the beam must be positive; regression needs draught and "
                            "waterline_length, factor needs factor");
    if (gm <= 0.0 || period <= 0.0)
        results_refuse(out, "gm and period must be positive");
    results_set(out, "coefficient", c);
    results_set(out, "period_from_gm", roll_period_s(c, beam, gm));
    results_set(out, "gm_from_period", roll_gm_m(c, beam, period));
}

const Calculator calculator_roll_period = {
    .name = "roll-period",
    .question = "roll period from GM or GM from a timed roll",
    .sheet = "float.md 8",
    CALCULATOR_BODY(roll_inputs, roll_outputs),
    .methods = roll_methods,
    .run = run_roll,
};
