/* A quantity as typed: number, unit, spread, and on what it rests.
 *
 *     [about] [N x] NUMBER UNIT [± or +/- NUMBER UNIT|%] [(BASIS[, note])]
 *
 * NUMBER is 4.5, 3/8, 1 1/2 or feet and inches (5 ft 6 in, 5 ft, 66 in). `unknown` is a gap. */
#pragma once

#include <stdbool.h>

#include "base/kind.h"

/* From the most to the least settled. */
typedef enum {
    BASIS_MEASURED,
    BASIS_PLATE, /* maker's label on the thing */
    BASIS_MAKER,
    BASIS_STATED, /* a plain number */
    BASIS_SELLER,
    BASIS_BY_EYE, /* about */
    BASIS_ASSUMED /* a default nobody stated */
} Basis;

typedef struct {
    double value;  /* SI; for N x the sum */
    double spread; /* SI, half-width that holds 95 %; NAN when no ± was typed */
    Basis basis;
    bool unknown;   /* the word unknown stood there: value and spread are NAN */
    unsigned count; /* the N of N x, else 1 */
} Quantity;

/* SI, low <= likely <= high; all NAN where `unknown` stood. */
typedef struct {
    double low, likely, high;
} ThreePoint;

/* SI, low < high; both NAN where `unknown` stood. spread is that of either end, NAN when none was typed. */
typedef struct {
    double low, high;
    Basis basis;
    double spread;
} Range;

const char *basis_word(Basis basis); /* "measured", ..., "by-eye", "assumed" */
bool basis_find(const char *word, Basis *basis);
Basis basis_worse(Basis a, Basis b); /* the less settled */

/* Each returns false and sets *problem (g_free) on a text it cannot take; *out is then untouched.
 * A finite result is guaranteed on success (save for unknown). A comma inside a number is refused
 * with a question; quantity_parse_lenient takes it where it cannot mean thousands (1,5 m).
 *
 * Kinds without a unit (number, count, money) take none; a share takes 40 % or 0.4; money per time
 * is 310 per month. A % behind ± is of the value, but of the whole where the value was typed in %.
 * Of three points and ranges only the last number must bear the unit. */
bool quantity_parse(const char *text, QuantityKind kind, Quantity *out, char **problem);
bool quantity_parse_lenient(const char *text, QuantityKind kind, Quantity *out, char **problem);
bool three_point_parse(const char *text, QuantityKind kind, ThreePoint *out, char **problem);
bool range_parse(const char *text, QuantityKind kind, Range *out, char **problem);

/* As quantity_parse for a unit given as text (calculators); "1" takes pure numbers and shares. */
bool quantity_parse_as(const char *text, const char *si, Quantity *out, char **problem);

/* The text of a quantity, place or range with another basis: "95 kg ± 5 kg (seller, by phone)" on the
 * plate is "95 kg ± 5 kg (plate, by phone)", by eye "about ...", stated without brackets where there
 * is no note. Number, unit, N x, spread and note stay. NULL where the text bears no basis: words,
 * three points, `unknown`. g_free. */
char *quantity_text_rebased(const char *typed, Basis basis);

/* Spread where none was typed (DESIGN: mass measured 2 %, plate or maker 6 %, stated or seller 14 %,
 * by-eye 40 %; other quantities by-eye 20 %, seller 10 %, else 0). Places have their own rule:
 * measured 0.1 m, else 0.3 m. */
double quantity_usual_spread(QuantityKind kind, Basis basis, double value);
double place_usual_spread(Basis basis);
