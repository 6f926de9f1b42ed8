/* The conductor schedule: what is cut, laid, crimped and ticked off, and what is bought on reels. */
#pragma once

#include "report/cables.h"

/* asked->today is the date on it; the same input gives the same bytes. */
GBytes *write_conductor_schedule(const Result *result, const Asked *asked, UnitsChoice units,
                                 GError **error);
/* A row a conductor: two of a pair, three of a mains cable. */
void write_conductors_csv(const Result *result, UnitsChoice units, GString *out);
