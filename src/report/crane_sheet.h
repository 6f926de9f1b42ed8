/* For the crane driver and the yard, before she is lifted. */
#pragma once

#include "report/report.h"

#include <glib.h>

#include "result/picture/arrangement.h"

/* Mass with its upper figure, centre, slings and what they bear, size, draughts, what must be off the boat. arrangement may
 * be NULL: then there is no picture. What the result does not hold is said to be not reckoned. A4, as a PDF; the same
 * input gives the same bytes. NULL with *error. */
GBytes *write_crane_sheet(const Result *result, const Asked *asked, UnitsChoice units,
                          const ArrangementPicture *arrangement, GError **error);
