/* Chance of each haul-out slot, and the finish that follows.
 *
 *     chance k = F(slot k) - F(slot k - 1), the last slot taking all that is left;  finish = slot + ashore
 *
 * Given    the end of the work before the haul-out, normal or lognormal with this mean and sd > 0; slots that rise; ashore_h >= 0
 * Gives    chance[n]; beyond: the chance that even the last slot is missed; mean and sd of the finish
 * Returns  EXTRAPOLATED when more than 1 % miss the last slot; REFUSED outside the ranges
 * Source   derived; docs/methods/work.md 3.5
 * Checked  haul-slots in tests/cases/work.csv; tests/physics/test_risk.c: by simulation of a plan */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double beyond, mean_finish_h, sd_finish_h;
} HaulFinish;

Validity haul_slot(bool lognormal, double mean_h, double sd_h, size_t n, const double slot_h[],
                   double ashore_h, double chance[], HaulFinish *finish);

extern const Method haul_slot_method;
