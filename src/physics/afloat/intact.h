/* General intact stability: areas, lever, place of the peak and GM against the limits of the rule.
 *
 *     ratio = value / limit; the least governs
 *
 * Given    values from a curve of levers with the free surface in it; NAN for what is not known
 *          peak_rad       heel of the greatest lever
 *          gz_30_m        greatest lever at 30 degrees or more (general only)
 *          area_peak      area to the peak, m rad (beamy only)
 *          INTACT_GENERAL 2008 IS Code Part A 2.2; INTACT_BEAMY for a peak at 15 to 30 degrees
 * Gives    item[n]        every limit that applies with its value; least, governing: the tightest
 * known one meets          every applying limit is known and met area_peak_required  m rad, beamy;
 * NAN else Returns  VALID; EXTRAPOLATED when a beamy peak lies outside 15 to 30 degrees; REFUSED
 * when nothing is known or the beamy rule lacks its area to the peak Source   46 CFR 170.173(b),
 * (c) and UK small-vessel code 11.3.6 (read); the area to the peak of (c)(5) from memory Checked
 * intact-criteria in tests/cases/float.csv */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef enum { INTACT_GENERAL, INTACT_BEAMY } IntactRule;

typedef enum {
    INTACT_AREA_30,
    INTACT_AREA_40,
    INTACT_AREA_30_40,
    INTACT_LEVER,
    INTACT_PEAK,
    INTACT_GM,
    INTACT_AREA_PEAK,
    INTACT_N_LIMITS
} IntactLimit;

typedef struct {
    double area_30, area_40, area_30_40, area_peak; /* m rad */
    double gz_30_m, peak_rad, gm_m;
} IntactCurve;

typedef struct {
    IntactLimit which;
    double value, limit, ratio;
    Source source;
} IntactItem;

typedef struct {
    size_t n;
    IntactItem item[INTACT_N_LIMITS];
    double least;
    IntactLimit governing;
    bool meets;
    double area_peak_required;
} IntactResult;

Validity intact_criteria(IntactRule rule, const IntactCurve *curve, IntactResult *result);

/* "area-30", "area-40", "area-30-40", "lever", "peak-angle", "gm", "area-to-peak". */
const char *intact_word(IntactLimit limit);

extern const Method intact_ratio_method, intact_area_peak_method;
