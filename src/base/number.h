/* Numbers as shown: in the reader's units, never with more digits than the spread supports,
 * "not known" for NAN, never -0. All g_free. */
#pragma once

#include "base/kind.h"

/* "4 520 kg", "1.25 m", "3.4 deg". spread NAN or 0: at most four significant digits. */
char *number_show(double si, double spread, QuantityKind kind, UnitsChoice units);

/* The same with the spread behind it: "12 400 kg ± 700 kg". */
char *number_show_spread(double si, double spread, QuantityKind kind, UnitsChoice units);

/* Shortest decimal that reads back as the same double (JSON, files); "null" for NAN and infinities. */
char *number_exact(double value);

/* The unit that number_show picks: that of the kind, or what the trade uses at this size (12 kW). */
const char *number_unit(double si, QuantityKind kind, UnitsChoice units);
