/* Galvanic series. Invariant: a couple is of one series. */
#include "physics/wiring/galvanic.h"

#include <string.h>

#include "physics/domain.h"

const Method galvanic_couple_method = {
    "Strength of a couple",
    "Delta_U = abs(U_1 - U_2)",
    {"docs/methods/wires-galvanic-series.csv", STANDING_SECONDARY}};

static const double potential[][2] = {
#define METAL(word, a, b) {a, b},
#include "physics/wiring/galvanic.def"
#undef METAL
};

size_t
galvanic_metal(const char *word)
{
    static const char *const words[] = {
#define METAL(name, a, b) name,
#include "physics/wiring/galvanic.def"
#undef METAL
    };
    const size_t n = sizeof words / sizeof *words;
    for (size_t i = 0; i < n; i++)
        if (strcmp(words[i], word) == 0)
            return i;
    return n;
}

double
galvanic_potential_V(size_t metal, GalvanicSeries series)
{
    return metal < sizeof potential / sizeof *potential ? potential[metal][series] : NAN;
}

Validity
galvanic_couple(size_t metal_1, size_t metal_2, GalvanicSeries series, GalvanicCouple *out)
{
    double U1 = galvanic_potential_V(metal_1, series), U2 = galvanic_potential_V(metal_2, series);
    *out = (GalvanicCouple){NAN, NAN, NAN, -1};
    if (isnan(U1) || isnan(U2))
        return REFUSED;
    int corrodes = U1 < U2 ? 0 : 1;
    *out = (GalvanicCouple){U1, U2, fabs(U1 - U2), U1 == U2 ? -1 : corrodes};
    return VALID;
}
