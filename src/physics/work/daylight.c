/* Sunrise and sunset. Invariant: sunrise <= sunset wherever both are given. */
#include "physics/work/daylight.h"

#include <math.h>

#include "physics/domain.h"
#include "physics/work/dates.h"

#define SHEET                                                                                      \
    {                                                                                              \
        "solar position after Meeus, low precision; docs/methods/work.md 7.3", STANDING_MEMORY     \
    }
const Method daylight_hour_angle_method = {
    "Hour angle of sunrise", "cos(H) = cos(z) / (cos(phi) * cos(delta)) - tan(phi) * tan(delta)",
    SHEET};
const Method daylight_usable_method = {"Hours of work that are light",
                                       "h = max(0, min(sunset, closes) - max(sunrise, opens))",
                                       {"docs/methods/work.md 7.1", STANDING_DERIVED}};

typedef struct {
    double declination_rad, equation_min; /* sundial less clock */
} SunPlace;

static SunPlace
sun_at(double julian)
{
    double T = (julian - 2451545.0) / 36525.0;
    double L0 = degrees(280.46646 + 36000.76983 * T + 0.0003032 * T * T);
    double M = degrees(357.52911 + 35999.05029 * T - 0.0001537 * T * T);
    double e = 0.016708634 - 0.000042037 * T - 0.0000001267 * T * T;
    double C = (1.914602 - 0.004817 * T - 0.000014 * T * T) * sin(M) +
               (0.019993 - 0.000101 * T) * sin(2.0 * M) + 0.000289 * sin(3.0 * M);
    double Om = degrees(125.04 - 1934.136 * T);
    double lambda = L0 + degrees(C - 0.00569 - 0.00478 * sin(Om));
    double seconds = 21.448 - 46.815 * T - 0.00059 * T * T + 0.001813 * T * T * T;
    double eps = degrees(23.0 + (26.0 + seconds / 60.0) / 60.0 + 0.00256 * cos(Om));
    double y = tan(eps / 2.0) * tan(eps / 2.0);
    double E = y * sin(2.0 * L0) - 2.0 * e * sin(M) + 4.0 * e * y * sin(M) * cos(2.0 * L0) -
               0.5 * y * y * sin(4.0 * L0) - 1.25 * e * e * sin(2.0 * M);
    return (SunPlace){asin(sin(eps) * sin(lambda)), 4.0 * E * 180.0 / M_PI};
}

typedef struct {
    long day;
    double latitude_rad, longitude_rad, zone_h;
} Spot;

/* Hour at which the sun's centre stands at this zenith distance, before noon (side = 1) or after (-1); NAN when it does not, and
 * *cosine then says on which side of it the sun stays. */
static double
crossing(const Spot *at, double zenith_rad, double side, double *cosine)
{
    double hour = 12.0;
    for (int round = 0; round < 4; round++) {
        SunPlace sun = sun_at((double) at->day - 0.5 + (hour - at->zone_h) / 24.0);
        *cosine = cos(zenith_rad) / (cos(at->latitude_rad) * cos(sun.declination_rad)) -
                  tan(at->latitude_rad) * tan(sun.declination_rad);
        if (!(fabs(*cosine) <= 1.0))
            return NAN;
        double angle_deg = side * acos(*cosine) * 180.0 / M_PI;
        double longitude_deg = at->longitude_rad * 180.0 / M_PI;
        hour = (720.0 - 4.0 * (longitude_deg + angle_deg) - sun.equation_min) / 60.0 + at->zone_h;
    }
    return hour;
}

static bool
in_range(const Spot *at)
{
    return at->day >= (long) date_day((Date){1900, 1, 1}) &&
           at->day <= (long) date_day((Date){2100, 12, 31}) &&
           fabs(at->latitude_rad) < degrees(90.0) - 1e-9 && fabs(at->longitude_rad) <= 2.0 * M_PI &&
           fabs(at->zone_h) <= 24.0;
}

Validity
daylight_of(long day, double latitude_rad, double longitude_rad, double zone_h, Daylight *light)
{
    const Spot at = {day, latitude_rad, longitude_rad, zone_h};
    double limb = degrees(90.833), twilight = degrees(96.0), rise, set, ignored;
    *light = (Daylight){SUN_RISES, NAN, NAN, NAN, NAN, NAN};
    if (!in_range(&at))
        return REFUSED;
    light->sunrise_h = crossing(&at, limb, 1.0, &rise);
    light->sunset_h = crossing(&at, limb, -1.0, &set);
    light->dawn_h = crossing(&at, twilight, 1.0, &ignored);
    light->dusk_h = crossing(&at, twilight, -1.0, &ignored);
    light->day_length_h = light->sunset_h - light->sunrise_h;
    if (isnan(light->day_length_h)) {
        light->sun = fmin(rise, set) < -1.0 ? SUN_ALWAYS_UP : SUN_NEVER_UP;
        light->sunrise_h = light->sunset_h = NAN;
        light->day_length_h = light->sun == SUN_ALWAYS_UP ? 24.0 : 0.0;
    }
    return VALID;
}

double
daylight_usable_h(const Daylight *light, double opens_h, double closes_h)
{
    if (light->sun == SUN_NEVER_UP)
        return 0.0;
    bool up = light->sun == SUN_ALWAYS_UP;
    double from = up ? opens_h : fmax(light->sunrise_h, opens_h);
    double to = up ? closes_h : fmin(light->sunset_h, closes_h);
    return fmax(0.0, to - from);
}
