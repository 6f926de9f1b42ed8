/* Calculators of humid air, and of painting in it. */
#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "physics/warmth/humid_air.h"

static const char *const set_words[] = {"wmo", "iso", NULL}; /* as AirSet */

/* --- humid-air ----------------------------------------------------------------------------------------------------- */

static const Input air_inputs[] = {
    IN_NUMBER("temperature", "K"),
    IN_NUMBER("humidity", "1", .otherwise = "none"),
    IN_NUMBER("dew_point", "K", .otherwise = "none"),
    IN_WORD("set", set_words, .standard = "wmo"),
    IN_NUMBER("pressure", "Pa", .standard = "101325 Pa"),
};
static const Output air_outputs[] = {OUT_NUMBER("saturation_pressure", "Pa"),
                                     OUT_NUMBER("saturation_water", "Pa"),
                                     OUT_NUMBER("saturation_ice", "Pa"),
                                     OUT_NUMBER("vapour_pressure", "Pa"),
                                     OUT_NUMBER("humidity", "1"),
                                     OUT_NUMBER("dew_point", "K"),
                                     OUT_NUMBER("frost_point", "K"),
                                     OUT_NUMBER("vapour_density", "kg/m3"),
                                     OUT_NUMBER("mixing_ratio", "1")};
static const Method *const air_methods[] = {&humid_air_wmo_method, &humid_air_iso_method,
                                            &humid_air_density_method, &humid_air_mixing_method,
                                            NULL};

static void
run_air(const CalcArguments *in, CalcResults *out)
{
    HumidAir air;
    if (argument_given(in, "humidity") && argument_given(in, "dew_point")) {
        results_error(out, "give humidity or dew_point, not both");
        return;
    }
    Validity validity =
        humid_air((AirSet) argument_choice(in, "set"), argument_number(in, "temperature"),
                  argument_number(in, "humidity"), argument_number(in, "dew_point"),
                  argument_number(in, "pressure"), &air);
    if (validity == REFUSED)
        results_refuse(out, "humidity lies within 0 to 1, the dew point is not above the "
                            "temperature, the pressure is above that of the vapour");
    results_limit(out, validity);
    results_set(out, "saturation_pressure", air.saturation_Pa);
    results_set(out, "saturation_water", air.saturation_water_Pa);
    results_set(out, "saturation_ice", air.saturation_ice_Pa);
    results_set(out, "vapour_pressure", air.vapour_Pa);
    results_set(out, "humidity", air.humidity);
    results_set(out, "dew_point", air.dew_point_K);
    results_set(out, "frost_point", air.frost_point_K);
    results_set(out, "vapour_density", air.vapour_kg_per_m3);
    results_set(out, "mixing_ratio", air.mixing_ratio);
}

const Calculator calculator_humid_air = {
    .name = "humid-air",
    .question = "dew point, vapour pressure and water content of air",
    .sheet = "energy.md 8.1",
    CALCULATOR_BODY(air_inputs, air_outputs),
    .methods = air_methods,
    .run = run_air,
};

/* --- paint-window -------------------------------------------------------------------------------------------------- */

static const char *const allowed_words[] = {"no", "yes", NULL};
static const Input paint_inputs[] = {
    IN_NUMBER("steel", "K"),
    IN_NUMBER("air", "K", .otherwise = "none"),
    IN_NUMBER("humidity", "1", .otherwise = "none"),
    IN_NUMBER("dew_point", "K", .otherwise = "from air"),
    IN_WORD("set", set_words, .standard = "wmo"),
};
static const Output paint_outputs[] = {OUT_NUMBER("dew_point", "K"), OUT_NUMBER("gap", "K"),
                                       OUT_NUMBER("steel_humidity", "1"),
                                       OUT_WORD("allowed", allowed_words)};
static const Method *const paint_methods[] = {&paint_gap_method, &paint_humidity_method, NULL};

static void
run_paint(const CalcArguments *in, CalcResults *out)
{
    bool air = argument_given(in, "air") && argument_given(in, "humidity");
    PaintWindow window;
    if (!air && !argument_given(in, "dew_point")) {
        results_error(out, "give air and humidity, or dew_point");
        return;
    }
    Validity validity =
        paint_window((AirSet) argument_choice(in, "set"), argument_number(in, "steel"),
                     argument_number(in, "air"), argument_number(in, "humidity"),
                     argument_number(in, "dew_point"), &window);
    if (validity == REFUSED)
        results_refuse(out, "temperatures of the weather and a humidity within 0 to 1 are "
                            "expected, above 0 where the dew point comes from it");
    results_limit(out, validity);
    results_set(out, "dew_point", window.dew_point_K);
    results_set(out, "gap", window.gap_K);
    results_set(out, "steel_humidity", window.steel_humidity);
    if (air)
        results_word(out, "allowed", allowed_words[window.allowed]);
}

const Calculator calculator_paint_window = {
    .name = "paint-window",
    .question = "may steel be painted now: dew-point gap and humidity at the surface",
    .sheet = "energy.md 9",
    CALCULATOR_BODY(paint_inputs, paint_outputs),
    .methods = paint_methods,
    .run = run_paint,
};
