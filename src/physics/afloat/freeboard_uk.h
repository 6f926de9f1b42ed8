/* Freeboard or clear height of side asked by the UK small commercial vessel codes.
 *
 *     F = F_7 + (F_18 - F_7) (L - 7)/11, end values held outside 7 to 18 m
 *
 * Given    length_m > 0
 * Gives    freeboard_m: flush deck 0.30 to 0.75, stepped or raised deck 0.20 to 0.40, open boat
 * 0.40 to 0.80 Returns  VALID or REFUSED Source   UK small-vessel codes (read; the 0.80 of open
 * boats from memory); docs/methods/float.md 5.5 Checked  freeboard-uk in tests/cases/float.csv */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef enum { DECK_FLUSH, DECK_STEPPED, DECK_OPEN } DeckKind;

Validity freeboard_uk(double length_m, DeckKind deck, double *freeboard_m);

extern const Method freeboard_uk_method, freeboard_uk_open_method;
