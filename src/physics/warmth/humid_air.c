/* Humid air. Invariant: by one set the dew point of saturated air is its temperature. */
#include "physics/warmth/humid_air.h"

#include "physics/domain.h"

#define SHEET "docs/methods/energy.md 8.1"
const Method humid_air_wmo_method = {"Vapour pressure of saturated air",
                                     "e = 611.2 * exp(17.62 * t / (243.12 + t))",
                                     {"WMO-No. 8 Annex 4.B; " SHEET, STANDING_SECONDARY}};
const Method humid_air_iso_method = {"Vapour pressure of saturated air",
                                     "e = 610.5 * exp(17.269 * t / (237.3 + t))",
                                     {"ISO 13788; " SHEET, STANDING_SECONDARY}};
const Method humid_air_density_method = {
    "Water in a volume of air", "v = e / (461.5 * T)", {"gas law; " SHEET, STANDING_DERIVED}};
const Method humid_air_mixing_method = {
    "Water to a mass of dry air", "w = 0.622 * e / (p - e)", {"gas law; " SHEET, STANDING_DERIVED}};
const Method paint_gap_method = {
    "Gap between steel and dew point",
    "dT = T_s - T_d",
    {"ISO 8502-4, ISO 12944-7, IMO MSC.215(82); docs/methods/energy.md 9", STANDING_SECONDARY}};
const Method paint_humidity_method = {"Humidity in the film of air at the steel",
                                      "RH_s = e / e_s",
                                      {"definition; docs/methods/energy.md 9", STANDING_DERIVED}};

#define FREEZING_K 273.15

typedef struct {
    double e_0, a, t_0; /* e = e_0 exp(a t/(t_0 + t)) */
} Magnus;

static const Magnus over_water[] = {
    [AIR_SET_WMO] = {611.2, 17.62, 243.12}, [AIR_SET_ISO] = {610.5, 17.269, 237.3}};
static const Magnus over_ice[] = {
    [AIR_SET_WMO] = {611.2, 22.46, 272.62}, [AIR_SET_ISO] = {610.5, 21.875, 265.5}};

static double
saturation(const Magnus *m, double temperature_K)
{
    double t = temperature_K - FREEZING_K;
    return m->e_0 * exp(m->a * t / (m->t_0 + t));
}

static double
saturated_at_K(const Magnus *m, double vapour_Pa)
{
    double l = log(vapour_Pa / m->e_0);
    return vapour_Pa > 0.0 ? FREEZING_K + m->t_0 * l / (m->a - l) : NAN;
}

double
saturation_water_Pa(AirSet set, double temperature_K)
{
    return saturation(&over_water[set], temperature_K);
}

double
saturation_ice_Pa(AirSet set, double temperature_K)
{
    return saturation(&over_ice[set], temperature_K);
}

double
saturation_surface_Pa(AirSet set, double temperature_K)
{
    return saturation(temperature_K >= FREEZING_K ? &over_water[set] : &over_ice[set],
                      temperature_K);
}

/* What a humidity of 1 is in this set. */
static double
saturation_counted_Pa(AirSet set, double temperature_K)
{
    return set == AIR_SET_WMO ? saturation_water_Pa(set, temperature_K)
                              : saturation_surface_Pa(set, temperature_K);
}

double
air_vapour_Pa(AirSet set, double temperature_K, double humidity)
{
    return humidity * saturation_counted_Pa(set, temperature_K);
}

double
air_frost_point_K(AirSet set, double vapour_Pa)
{
    return vapour_Pa < over_ice[set].e_0 ? saturated_at_K(&over_ice[set], vapour_Pa) : NAN;
}

double
air_dew_point_K(AirSet set, double vapour_Pa)
{
    if (set == AIR_SET_ISO && vapour_Pa < over_ice[set].e_0)
        return air_frost_point_K(set, vapour_Pa);
    return saturated_at_K(&over_water[set], vapour_Pa);
}

static bool
is_air_K(double temperature_K)
{
    return is_within(temperature_K, FREEZING_K - 100.0, FREEZING_K + 150.0);
}

static Validity
reach(double temperature_K)
{
    return is_within(temperature_K, FREEZING_K - 45.0, FREEZING_K + 60.0) ? VALID : EXTRAPOLATED;
}

Validity
humid_air(AirSet set, double temperature_K, double humidity, double dew_point_K, double pressure_Pa,
          HumidAir *out)
{
    *out = (HumidAir){NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    bool wet = !isnan(humidity), dewy = !isnan(dew_point_K);
    if (!is_air_K(temperature_K) || (wet && !is_within(humidity, 0.0, 1.0)) ||
        (dewy && !(is_air_K(dew_point_K) && dew_point_K <= temperature_K)) ||
        !is_positive(pressure_Pa) || (wet && dewy))
        return REFUSED;
    double counted = saturation_counted_Pa(set, temperature_K);
    double e = wet ? humidity * counted : dewy ? saturation_counted_Pa(set, dew_point_K) : NAN;
    if (e >= pressure_Pa)
        return REFUSED;
    *out = (HumidAir){.saturation_Pa = saturation_surface_Pa(set, temperature_K),
                      .saturation_water_Pa = saturation_water_Pa(set, temperature_K),
                      .saturation_ice_Pa = saturation_ice_Pa(set, temperature_K),
                      .vapour_Pa = e,
                      .humidity = wet ? humidity : e / counted,
                      .dew_point_K = dewy ? dew_point_K : air_dew_point_K(set, e),
                      .frost_point_K = air_frost_point_K(set, e),
                      .vapour_kg_per_m3 = e / (461.5 * temperature_K),
                      .mixing_ratio = 0.622 * e / (pressure_Pa - e)};
    return reach(temperature_K);
}

Validity
paint_window(AirSet set, double steel_K, double air_K, double humidity, double dew_point_K,
             PaintWindow *out)
{
    *out = (PaintWindow){NAN, NAN, NAN, false};
    bool by_air = isnan(dew_point_K);
    if (!is_air_K(steel_K) || (!isnan(humidity) && !is_within(humidity, 0.0, 1.0)) ||
        (!isnan(air_K) && !is_air_K(air_K)) || (by_air && (isnan(air_K) || !(humidity > 0.0))) ||
        (!by_air && !is_air_K(dew_point_K)))
        return REFUSED;
    double e =
        by_air ? air_vapour_Pa(set, air_K, humidity) : saturation_counted_Pa(set, dew_point_K);
    out->dew_point_K = by_air ? air_dew_point_K(set, e) : dew_point_K;
    out->gap_K = steel_K - out->dew_point_K;
    out->steel_humidity = e / saturation_surface_Pa(set, steel_K);
    out->allowed = out->gap_K >= PAINT_GAP_K - 1e-9 && humidity <= PAINT_HUMIDITY + 1e-9;
    return validity_worse(reach(steel_K), by_air ? reach(air_K) : reach(dew_point_K));
}
