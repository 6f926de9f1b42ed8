/* Kinds of quantity: what a number measures, hence which units it may be typed and shown in. */
#pragma once

#include <stddef.h>

typedef enum {
#define KIND(name, word, si, metric, imperial) Q_##name,
#include "base/kinds.def"
#undef KIND
    Q_N_KINDS
} QuantityKind;

typedef enum { UNITS_METRIC, UNITS_IMPERIAL } UnitsChoice;

/* Kind of the difference of two values: a temperature or a date has a zero of its own, what lies between two has not.
 * A date is a Julian day number (base/date.h). */
QuantityKind kind_difference(QuantityKind kind);
const char *kind_word(QuantityKind kind); /* "length" */
const char *kind_si(QuantityKind kind);   /* "m": the unit of every stored value */
const char *kind_shown(QuantityKind kind, UnitsChoice units); /* "ft"; "" for a pure number */
