/* Calculators of intact and wind criteria. Invariant: no verdict is given where the curve was not. */
#include <math.h>

#include "calc/afloat/hull.h"
#include "physics/afloat/intact.h"
#include "physics/afloat/pontoon.h"
#include "physics/afloat/weather.h"
#include "physics/afloat/wind_height.h"

static const char *const yes_no[] = {"yes", "no", NULL};
static const char *const rule_words[] = {"general", "beamy", NULL};
static const char *const limit_words[] = {"area-30",    "area-40", "area-30-40",   "lever",
                                          "peak-angle", "gm",      "area-to-peak", NULL};
static const Input intact_inputs[] = {
    IN_NUMBER("area_30", "m rad"),
    IN_NUMBER("area_40", "m rad"),
    IN_NUMBER("area_30_40", "m rad"),
    IN_NUMBER("gz_30", "m"),
    IN_NUMBER("gz_max_angle", "rad"),
    IN_NUMBER("gm", "m"),
    IN_WORD("criterion", rule_words, .standard = "general"),
    IN_NUMBER("area_to_peak", "m rad", .otherwise = "none"),
};
static const Output intact_outputs[] = {
    OUT_NUMBER("least_ratio", "1"), OUT_WORD("governing", limit_words), OUT_WORD("meets", yes_no),
    OUT_NUMBER("area_to_peak_required", "m rad")};
static const Method *const intact_methods[] = {&intact_ratio_method, &intact_area_peak_method,
                                               NULL};

static void
run_intact(const CalcArguments *in, CalcResults *out)
{
    IntactCurve curve = {.area_30 = argument_number(in, "area_30"),
                         .area_40 = argument_number(in, "area_40"),
                         .area_30_40 = argument_number(in, "area_30_40"),
                         .area_peak = argument_number(in, "area_to_peak"),
                         .gz_30_m = argument_number(in, "gz_30"),
                         .peak_rad = argument_number(in, "gz_max_angle"),
                         .gm_m = argument_number(in, "gm")};
    IntactRule rule = argument_choice(in, "criterion") == 0 ? INTACT_GENERAL : INTACT_BEAMY;
    IntactResult result;
    Validity validity = intact_criteria(rule, &curve, &result);
    if (validity == REFUSED) {
        results_refuse(out, "the beamy rule needs the area to the peak");
        return;
    }
    results_limit(out, validity);
    results_set(out, "least_ratio", result.least);
    results_word(out, "governing", intact_word(result.governing));
    results_word(out, "meets", yes_no[result.meets ? 0 : 1]);
    results_set(out, "area_to_peak_required", result.area_peak_required);
}

const Calculator calculator_intact_criteria = {
    .name = "intact-criteria",
    .question = "whether a lever curve meets the general intact rules, and which limit governs",
    .sheet = "float.md 5.1",
    CALCULATOR_BODY(intact_inputs, intact_outputs),
    .methods = intact_methods,
    .run = run_intact,
};

static const char *const bilge_words[] = {"round", "sharp", "keels", NULL};
static const Column curve_columns[] = {{.name = "heel", .unit = "rad"},
                                       {.name = "gz", .unit = "m"}};
static const Input weather_inputs[] = {
    IN_NUMBER("displacement", "kg"),
    IN_NUMBER("lateral_area", "m2"),
    IN_NUMBER("lateral_lever", "m"),
    IN_NUMBER("waterline_length", "m"),
    IN_NUMBER("beam", "m"),
    IN_NUMBER("draught", "m"),
    IN_NUMBER("block_coefficient", "1"),
    IN_NUMBER("vcg", "m"),
    IN_NUMBER("gm", "m"),
    IN_WORD("bilge", bilge_words, .standard = "sharp"),
    IN_NUMBER("bilge_keel_area", "m2", .standard = "0 m2"),
    IN_TABLE("curve", curve_columns, .otherwise = "none"),
    IN_NUMBER("downflooding_angle", "rad", .standard = "90 deg"),
    IN_NUMBER("pressure", "Pa", .standard = "504 Pa"),
};
static const Output weather_outputs[] = {
    OUT_NUMBER("wind_lever_steady", "m"),
    OUT_NUMBER("wind_lever_gust", "m"),
    OUT_NUMBER("coefficient", "1"),
    OUT_NUMBER("roll_period", "s"),
    OUT_NUMBER("x1", "1"),
    OUT_NUMBER("x2", "1"),
    OUT_NUMBER("k", "1"),
    OUT_NUMBER("s", "1"),
    OUT_NUMBER("r", "1"),
    OUT_NUMBER("roll_angle", "rad"),
    OUT_NUMBER("steady_heel", "rad"),
    OUT_NUMBER("gust_heel", "rad"),
    OUT_NUMBER("gust_heel_2", "rad"),
    OUT_NUMBER("area_a", "m rad"),
    OUT_NUMBER("area_b", "m rad"),
    OUT_NUMBER("ratio", "1"),
    OUT_WORD("meets", yes_no),
};
static const Method *const weather_methods[] = {&weather_lever_method, &weather_gust_method,
                                                &weather_r_method,     &weather_roll_method,
                                                &weather_ratio_method, NULL};

static void
set_weather(CalcResults *out, const Weather *w, bool judged)
{
    results_set(out, "wind_lever_steady", w->steady_m);
    results_set(out, "wind_lever_gust", w->gust_m);
    results_set(out, "coefficient", w->coefficient);
    results_set(out, "roll_period", w->period_s);
    results_set(out, "x1", w->x1);
    results_set(out, "x2", w->x2);
    results_set(out, "k", w->k);
    results_set(out, "s", w->s);
    results_set(out, "r", w->r);
    results_set(out, "roll_angle", w->roll_rad);
    results_set(out, "steady_heel", w->steady_heel_rad);
    results_set(out, "gust_heel", w->gust_heel_rad);
    results_set(out, "gust_heel_2", w->gust_heel_2_rad);
    results_set(out, "area_a", w->area_a);
    results_set(out, "area_b", w->area_b);
    results_set(out, "ratio", w->ratio);
    if (judged)
        results_word(out, "meets", yes_no[w->meets ? 0 : 1]);
}

static void
run_weather(const CalcArguments *in, CalcResults *out)
{
    size_t n = argument_rows(in, "curve");
    WeatherCase given = {.mass_kg = argument_number(in, "displacement"),
                         .area_m2 = argument_number(in, "lateral_area"),
                         .lever_m = argument_number(in, "lateral_lever"),
                         .lwl_m = argument_number(in, "waterline_length"),
                         .beam_m = argument_number(in, "beam"),
                         .draught_m = argument_number(in, "draught"),
                         .block = argument_number(in, "block_coefficient"),
                         .vcg_m = argument_number(in, "vcg"),
                         .gm_m = argument_number(in, "gm"),
                         .bilge = (Bilge) argument_choice(in, "bilge"),
                         .keel_area_m2 = argument_number(in, "bilge_keel_area"),
                         .n = n,
                         .heel_rad = n > 0 ? argument_column(in, "curve", "heel") : NULL,
                         .gz_m = n > 0 ? argument_column(in, "curve", "gz") : NULL,
                         .flooding_rad = argument_number(in, "downflooding_angle"),
                         .pressure_Pa = argument_number(in, "pressure")};
    Weather weather;
    Validity validity = weather_criterion(&given, &weather);
    if (validity == REFUSED) {
        results_refuse(out, "GM and sizes must be positive, the curve must start at 0 deg, rise "
                            "above the gust lever and "
                            "reach as far to windward as she rolls");
        return;
    }
    results_limit(out, validity);
    set_weather(out, &weather, n > 0);
}

const Calculator calculator_weather_criterion = {
    .name = "weather-criterion",
    .question = "severe wind and rolling: roll angle, wind levers, areas a and b",
    .sheet = "float.md 5.2",
    CALCULATOR_BODY(weather_inputs, weather_outputs),
    .methods = weather_methods,
    .run = run_weather,
};

static const char *const shelter_words[] = {"protected", "other", NULL};
static const Column area_columns[] = {{.name = "area", .unit = "m2"},
                                      {.name = "height", .unit = "m"},
                                      {.name = "lever", .unit = "m"}};
static const Input wind_inputs[] = {IN_TABLE("areas", area_columns),
                                    IN_NUMBER("displacement", "kg"),
                                    IN_WORD("waters", shelter_words, .standard = "other")};
static const Output wind_outputs[] = {OUT_NUMBERS("wind_speed", "m/s"),
                                      OUT_NUMBER("wind_lever", "m")};
static const Method *const wind_methods[] = {&wind_speed_method, &wind_lever_method, NULL};

static WindArea *
read_areas(const CalcArguments *in, size_t n)
{
    WindArea *area = g_new(WindArea, n);
    for (size_t i = 0; i < n; i++)
        area[i] = (WindArea){argument_column(in, "areas", "area")[i],
                             argument_column(in, "areas", "height")[i],
                             argument_column(in, "areas", "lever")[i]};
    return area;
}

static void
run_wind(const CalcArguments *in, CalcResults *out)
{
    size_t n = argument_rows(in, "areas");
    WindArea *area = read_areas(in, n);
    double *speed = g_new(double, n), lever;
    bool sheltered = argument_choice(in, "waters") == 0;
    if (wind_lever(n, area, argument_number(in, "displacement"), sheltered, speed, &lever) ==
        REFUSED)
        results_refuse(out,
                       "areas must not be negative, heights and displacement must be positive");
    for (size_t i = 0; i < n; i++)
        results_set_at(out, "wind_speed", i, speed[i]);
    results_set(out, "wind_lever", lever);
    g_free(area);
    g_free(speed);
}

const Calculator calculator_wind_lever_46cfr = {
    .name = "wind-lever-46cfr",
    .question = "heeling lever of a wind that grows with height",
    .sheet = "float.md 5.2",
    CALCULATOR_BODY(wind_inputs, wind_outputs),
    .methods = wind_methods,
    .run = run_wind,
};

static const Input pontoon_inputs[] = {
    IN_NUMBER("length", "m"),        IN_NUMBER("beam", "m"),
    IN_NUMBER("freeboard", "m"),     IN_NUMBER("lateral_area", "m2"),
    IN_NUMBER("lateral_lever", "m"), IN_NUMBER("displacement", "kg")};
static const Output pontoon_outputs[] = {
    OUT_NUMBER("area_to_peak_required", "m rad"), OUT_NUMBER("range_required", "rad"),
    OUT_NUMBER("wind_lever", "m"), OUT_NUMBER("heel_allowed", "rad")};
static const Method *const pontoon_methods[] = {&pontoon_lever_method, &pontoon_heel_method, NULL};

static void
run_pontoon(const CalcArguments *in, CalcResults *out)
{
    Pontoon p;
    if (pontoon_criterion(argument_number(in, "length"), argument_number(in, "beam"),
                          argument_number(in, "freeboard"), argument_number(in, "lateral_area"),
                          argument_number(in, "lateral_lever"), argument_number(in, "displacement"),
                          &p) == REFUSED) {
        results_refuse(out, "all inputs must be positive");
        return;
    }
    results_set(out, "area_to_peak_required", p.area_peak);
    results_set(out, "range_required", p.range_rad);
    results_set(out, "wind_lever", p.wind_lever_m);
    results_set(out, "heel_allowed", p.heel_allowed_rad);
}

const Calculator calculator_pontoon_criterion = {
    .name = "pontoon-criterion",
    .question = "what an unmanned flat pontoon must show",
    .sheet = "float.md 5.3",
    CALCULATOR_BODY(pontoon_inputs, pontoon_outputs),
    .methods = pontoon_methods,
    .run = run_pontoon,
};
