/* On what a number rests, and the spread that follows where none was typed. */
#include "base/quantity.h"

#include <glib.h>
#include <math.h>

static const char *const words[] = {
    [BASIS_MEASURED] = "measured", [BASIS_PLATE] = "plate",   [BASIS_MAKER] = "maker",
    [BASIS_STATED] = "stated",     [BASIS_SELLER] = "seller", [BASIS_BY_EYE] = "by-eye",
    [BASIS_ASSUMED] = "assumed",
};

const char *
basis_word(Basis basis)
{
    g_return_val_if_fail((size_t) basis < G_N_ELEMENTS(words), "assumed");
    return words[basis];
}

bool
basis_find(const char *word, Basis *basis)
{
    for (size_t i = 0; i < G_N_ELEMENTS(words); i++) {
        if (g_str_equal(words[i], word)) {
            *basis = (Basis) i;
            return true;
        }
    }
    return false;
}

Basis
basis_worse(Basis a, Basis b)
{
    return a > b ? a : b;
}

static double
mass_share(Basis basis)
{
    switch (basis) {
    case BASIS_MEASURED:
        return 0.02;
    case BASIS_PLATE:
    case BASIS_MAKER:
        return 0.06;
    case BASIS_STATED:
    case BASIS_SELLER:
        return 0.14;
    case BASIS_BY_EYE:
        return 0.40;
    default:
        return 0.0;
    }
}

double
quantity_usual_spread(QuantityKind kind, Basis basis, double value)
{
    if (kind == Q_MASS)
        return mass_share(basis) * fabs(value);
    double share = basis == BASIS_BY_EYE ? 0.20 : basis == BASIS_SELLER ? 0.10 : 0.0;
    /* A share of the degrees as typed: of the kelvins it would be 60 degrees of any room. */
    return share * fabs(kind == Q_TEMPERATURE ? value - 273.15 : value);
}

double
place_usual_spread(Basis basis)
{
    return basis == BASIS_MEASURED ? 0.1 : 0.3;
}
