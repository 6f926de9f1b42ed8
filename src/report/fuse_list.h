/* The fuse list: each board's fuses and breakers in their order, spares to carry, and a legend for its door. */
#pragma once

#include "report/cables.h"

/* asked->today is the date on it; the same input gives the same bytes. */
GBytes *write_fuse_list(const Result *result, const Asked *asked, UnitsChoice units,
                        GError **error);
/* A row a device. */
void write_fuses_csv(const Result *result, UnitsChoice units, GString *out);
