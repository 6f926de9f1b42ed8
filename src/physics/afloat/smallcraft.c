/* Small craft. Invariant: every figure here is from memory and says so. */
#include "physics/afloat/smallcraft.h"

#include "physics/domain.h"

#define CODE "ISO 12217-1 as remembered, verify in the standard; docs/methods/float.md 5.4"
const Source smallcraft_source = {CODE, STANDING_MEMORY};
const Method smallcraft_heel_method = {"Heel allowed under the worst crowding",
                                       "phi_O = (10 + (24 - L_H)^3 / 600) * 0.017453292519943295",
                                       {CODE, STANDING_MEMORY}};
const Method smallcraft_height_method = {
    "Height asked of openings", "h_D = min(h_max, max(h_min, L_H / k))", {CODE, STANDING_MEMORY}};
const Method smallcraft_moment_method = {"Heeling moment of the wind",
                                         "M_w = 0.3 * A * (A / L_WL + T_M) * v^2",
                                         {CODE, STANDING_MEMORY}};

static const struct {
    double divisor, low_m, high_m; /* height of openings */
    double margin_deg, least_deg;  /* down-flooding angle over the offset heel */
    double wind_m_per_s;
} row[] = {
    [CATEGORY_A] = {17.0, 0.50, 1.41, 25.0, 30.0, 28.0},
    [CATEGORY_B] = {17.0, 0.40, 1.41, 15.0, 25.0, 21.0},
    [CATEGORY_C] = {17.0, 0.30, 0.75, 5.0, 20.0, 17.0},
    [CATEGORY_D] = {20.0, 0.20, 0.40, 0.0, 0.0, 13.0},
};

Validity
smallcraft_limits(double hull_length_m, DesignCategory category, SmallcraftLimits *limits)
{
    *limits = (SmallcraftLimits){NAN, NAN, NAN, NAN};
    if (!is_positive(hull_length_m) || hull_length_m > 24.0)
        return REFUSED;
    double offset = 10.0 + pow(24.0 - hull_length_m, 3.0) / 600.0;
    *limits = (SmallcraftLimits){
        .offset_heel_rad = degrees(offset),
        .opening_height_m = fmin(row[category].high_m,
                                 fmax(row[category].low_m, hull_length_m / row[category].divisor)),
        .flooding_rad = degrees(fmax(offset + row[category].margin_deg, row[category].least_deg)),
        .wind_m_per_s = row[category].wind_m_per_s};
    return hull_length_m < 6.0 ? EXTRAPOLATED : VALID;
}

Validity
smallcraft_wind(DesignCategory category, double lateral_m2, double lwl_m, double draught_m,
                double volume_m3, double peak_rad, SmallcraftWind *wind)
{
    *wind = (SmallcraftWind){NAN, NAN, NAN, NAN};
    if ((category != CATEGORY_A && category != CATEGORY_B) || !is_positive(lateral_m2) ||
        !is_positive(lwl_m) || !is_positive(draught_m) || !is_positive(volume_m3) ||
        !is_positive(peak_rad))
        return REFUSED;
    bool ocean = category == CATEGORY_A;
    double v = row[category].wind_m_per_s, peak = peak_rad / degrees(1.0);
    bool early = peak < 30.0;
    *wind =
        (SmallcraftWind){.moment_Nm = 0.3 * lateral_m2 * (lateral_m2 / lwl_m + draught_m) * v * v,
                         .roll_rad = degrees((ocean ? 25.0 : 20.0) + 20.0 / volume_m3),
                         .righting_Nm = 1000.0 * (early   ? (ocean ? 750.0 : 210.0) / peak
                                                  : ocean ? 25.0
                                                          : 7.0),
                         .gz_m = early ? 6.0 / peak : 0.2};
    return VALID;
}
