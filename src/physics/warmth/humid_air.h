/* Water vapour in air: what the air can hold, the dew point, and whether steel may be painted in it.
 *
 *     WMO   e_w = 611.2 exp(17.62 t/(243.12 + t))     over ice 611.2 exp(22.46 t/(272.62 + t))
 *     ISO   e_w = 610.5 exp(17.269 t/(237.3 + t))     over ice 610.5 exp(21.875 t/(265.5 + t))     t in degC
 *     vapour density = e/(461.5 T)   mixing ratio = 0.622 e/(p - e)   humidity at steel = e/e_s(T_steel)
 *
 * Surfaces are judged over water from 0 degC up and over ice below. By the WMO set humidity counts over water at every temperature and
 * the dew point is over water; by the ISO set humidity counts by the curve of surfaces and the dew point is a frost point below 0 degC. One
 * set to one reckoning.
 * Given    temperatures, K; humidity 0 to 1; dew point not above the temperature; pressure_Pa above that of the vapour
 * Gives    pressures, Pa; dew point NAN for dry air; frost point NAN from 0 degC up
 * Returns  VALID from -45 to 60 degC, EXTRAPOLATED outside; REFUSED outside the ranges above
 * Source   WMO-No. 8 Annex 4.B, ISO 13788 (forms read in quoting texts); docs/methods/energy.md 8.1
 * Checked  humid-air and paint-window in tests/cases/energy.csv; tests/physics/test_humid_air.c: there and back */
#pragma once

#include <stdbool.h>

#include "base/source.h"
#include "base/validity.h"

typedef enum { AIR_SET_WMO, AIR_SET_ISO } AirSet;

double saturation_water_Pa(AirSet set, double temperature_K);
double saturation_ice_Pa(AirSet set, double temperature_K);
double saturation_surface_Pa(AirSet set, double temperature_K);
double air_vapour_Pa(AirSet set, double temperature_K, double humidity);
double air_dew_point_K(AirSet set, double vapour_Pa);
double air_frost_point_K(AirSet set, double vapour_Pa); /* NAN from 0 degC up */

typedef struct {
    double saturation_Pa, saturation_water_Pa, saturation_ice_Pa;
    double vapour_Pa, humidity, dew_point_K, frost_point_K, vapour_kg_per_m3, mixing_ratio;
} HumidAir;

/* humidity or dew_point_K, the other NAN; both NAN: saturation only. */
Validity humid_air(AirSet set, double temperature_K, double humidity, double dew_point_K,
                   double pressure_Pa, HumidAir *out);

/* Steel may be painted from 3 K above the dew point, in air of 85 % humidity at most.
 * Source   ISO 8502-4 with ISO 12944-7, IMO MSC.215(82) (gap read in quoting texts, 85 % common practice);
 *          docs/methods/energy.md 9. The sheet of the product comes first. */
#define PAINT_GAP_K 3.0
#define PAINT_HUMIDITY 0.85

typedef struct {
    double dew_point_K, gap_K, steel_humidity;
    bool allowed;
} PaintWindow;

/* dew_point_K NAN: from air_K and humidity. `allowed` says nothing when humidity is NAN. */
Validity paint_window(AirSet set, double steel_K, double air_K, double humidity, double dew_point_K,
                      PaintWindow *out);

extern const Method humid_air_wmo_method, humid_air_iso_method, humid_air_density_method,
    humid_air_mixing_method, paint_gap_method, paint_humidity_method;
