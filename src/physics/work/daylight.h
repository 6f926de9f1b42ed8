/* Sunrise, sunset and civil twilight by the clock, and the light part of the working hours.
 *
 *     cos H = cos z/(cos phi cos delta) - tan phi tan delta        z = 90.833 deg (upper limb), 96 deg (civil twilight)
 *     clock = (720 - 4 (longitude + H) - E)/60 + zone, sunset with -H; the sun's declination delta and the equation of time E at the
 *     very instant, found by iteration from noon
 *
 * Given    day as of dates.h, years 1900 to 2100; latitude_rad north positive, short of the poles; longitude_rad east positive; zone_h
 *          hours ahead of universal time
 * Gives    hours of the clock of that day; a sunset after midnight is above 24. NAN where the sun stays up or down, and for dawn and
 *          dusk where it stays twilight all night
 * Returns  REFUSED outside the ranges
 * Misses   hills, and the change to summer time: the caller knows the zone of the day
 * Source   low-precision solar position after Meeus, constants as commonly published, from memory; docs/methods/work.md 7.3
 * Checked  daylight-hours in tests/cases/work.csv (NREL report example) */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef enum { SUN_RISES, SUN_ALWAYS_UP, SUN_NEVER_UP } Sun;

typedef struct {
    Sun sun;
    double sunrise_h, sunset_h, day_length_h, dawn_h, dusk_h;
} Daylight;

Validity daylight_of(long day, double latitude_rad, double longitude_rad, double zone_h,
                     Daylight *light);
/* max(0, min(sunset, closes) - max(sunrise, opens)) */
double daylight_usable_h(const Daylight *light, double opens_h, double closes_h);

extern const Method daylight_hour_angle_method, daylight_usable_method;
