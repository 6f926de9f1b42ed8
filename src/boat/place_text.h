/* A place written as its owner would write it, for a thing that is moved on the page. */
#pragma once

#include "boat/boat.h"

/* The text that puts an along, across or height of a record at value_m (body axes: forward, to
 * port, up), to 1 cm or 1/4 in, in the manner it is written in now:
 *
 *     from the same mark     0.60 m aft of engine-bulkhead; past the mark: forward of
 *     in the same unit       4.20 m, 420 cm, 4200 mm, 13 ft 9 1/4 in
 *     from stern and base    where it bore no mark: 0.40 m aft of stern, 0.20 m below base
 *     to port or starboard   0.80 m starboard; on the centreline 0 m
 *
 * What is not in the file yet is written in boat.units. `about` stays. Any other basis and a typed
 * spread go: they were of the old place, and nobody has measured the new one. Moved by less than
 * half a millimetre it is not moved, and keeps its text whole. NULL for a field of another kind and
 * for a value that is not finite. g_free. */
char *place_text(const Boat *boat, const Record *record, const Field *field, double value_m);
