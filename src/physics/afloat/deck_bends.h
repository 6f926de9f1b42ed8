/* Where along a stretch of deck a straight line from place to place is no longer exact: its ends, the hull's stations,
 * and where the deck edge passes one of the heights given.
 *
 * Given    x_aft_m < x_fwd_m; n heights, NAN and infinite ones are never passed
 * Gives    places, growing, at least both ends; free with free() */
#pragma once

#include <stddef.h>

#include "physics/afloat/body.h"

double *deck_bends(const Loft *hull, double x_aft_m, double x_fwd_m, size_t n,
                   const double height_m[], size_t *kept);
