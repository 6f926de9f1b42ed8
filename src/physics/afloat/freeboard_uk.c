/* UK freeboards. Invariant: never below the 7 m figure, never above the 18 m one. */
#include "physics/afloat/freeboard_uk.h"

#include "physics/domain.h"

#define CODE "UK small commercial vessel codes; docs/methods/float.md 5.5"
#define FORMULA "F = F_7 + (F_18 - F_7) * min(1, max(0, (L - 7) / 11))"
const Method freeboard_uk_method = {"Freeboard by length", FORMULA, {CODE, STANDING_READ}};
const Method freeboard_uk_open_method = {
    "Clear height of side of an open boat, by length",
    FORMULA,
    {CODE " (the figure at 18 m as remembered)", STANDING_MEMORY}};

Validity
freeboard_uk(double length_m, DeckKind deck, double *freeboard_m)
{
    static const double ends[][2] = {
        [DECK_FLUSH] = {0.30, 0.75}, [DECK_STEPPED] = {0.20, 0.40}, [DECK_OPEN] = {0.40, 0.80}};
    *freeboard_m = NAN;
    if (!is_positive(length_m))
        return REFUSED;
    double share = fmin(1.0, fmax(0.0, (length_m - 7.0) / 11.0));
    *freeboard_m = ends[deck][0] + share * (ends[deck][1] - ends[deck][0]);
    return VALID;
}
