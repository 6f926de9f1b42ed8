/* Small-craft limits by hull length and design category (ISO 12217-1 as remembered: verify in the
 * standard).
 *
 *     phi_O = 10 + (24 - L_H)^3 / 600 deg    h_D = L_H/17 (A, B, C) or L_H/20 (D) within bounds
 *
 * Given    hull_length_m > 0, at most 24
 * Gives    greatest heel under the worst crowding, least height of openings, least down-flooding
 * angle, calculation wind Returns  VALID; EXTRAPOLATED below 6 m; REFUSED above 24 m Source
 * docs/methods/float.md 5.4: memory, partly confirmed by one filled public worksheet Checked
 * smallcraft-iso12217 in tests/cases/float.csv */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef enum { CATEGORY_A, CATEGORY_B, CATEGORY_C, CATEGORY_D } DesignCategory;

typedef struct {
    double offset_heel_rad, opening_height_m, flooding_rad, wind_m_per_s;
} SmallcraftLimits;

Validity smallcraft_limits(double hull_length_m, DesignCategory category, SmallcraftLimits *limits);

/* Wind and waves, categories A and B.
 *
 *     M_w = 0.3 A (A/L_WL + T_M) v^2    roll = 25 (A) or 20 (B) + 20/V_D deg
 *     RM >= 25 (A) or 7 (B) kN m and GZ >= 0.2 m at 30 deg; a peak before 30 deg: RM >= 750/peak or
 * 210/peak, GZ >= 6/peak
 *
 * Given    lateral_m2, lwl_m, draught_m, volume_m3, peak_rad > 0
 * Gives    moment asked at 30 deg, or at the peak when it comes before, N m
 * Returns  VALID; REFUSED outside the ranges and for categories C and D
 * Source   docs/methods/float.md 5.4, memory
 * Checked  smallcraft-wind-iso12217 in tests/cases/float.csv */
typedef struct {
    double moment_Nm, roll_rad, righting_Nm, gz_m;
} SmallcraftWind;

Validity smallcraft_wind(DesignCategory category, double lateral_m2, double lwl_m, double draught_m,
                         double volume_m3, double peak_rad, SmallcraftWind *wind);

extern const Method smallcraft_heel_method, smallcraft_height_method, smallcraft_moment_method;
extern const Source smallcraft_source;
