/* Sum of masses with their uncertainty. Invariant: an error is passed on as a signed contribution,
 * so that items which err together add before anything is squared. */
#include "physics/afloat/ledger.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#define SHEET "docs/methods/float.md 1"
const Method ledger_mass_method = {"Sum of the masses", "M = sum(m)", {SHEET, STANDING_DERIVED}};
const Method ledger_centre_method = {
    "Centre of gravity", "x_G = sum(m * x) / M", {SHEET, STANDING_DERIVED}};
const Method ledger_mass_spread_method = {
    "Spread of the sum, items independent", "s_M = sqrt(sum(s_m^2))", {SHEET, STANDING_DERIVED}};
const Method ledger_centre_spread_method = {
    "Spread of the centre of gravity, items independent",
    "s_G = sqrt(sum((x - x_G)^2 * s_m^2 + m^2 * s_x^2)) / abs(M)",
    {SHEET, STANDING_DERIVED}};

static bool
usable(size_t n, const LedgerItem item[])
{
    for (size_t i = 0; i < n; i++) {
        const LedgerItem *it = &item[i];
        const double value[] = {it->mass_kg, it->x_m, it->y_m, it->z_m};
        const double spread[] = {it->mass_spread_kg, it->x_spread_m, it->y_spread_m,
                                 it->z_spread_m};
        for (size_t k = 0; k < 4; k++)
            if (!(fabs(value[k]) < 1e15) || !(spread[k] >= 0.0 && spread[k] < 1e15))
                return false;
    }
    return true;
}

/* Items that err together err by the same share: what was weighed too light was also removed too
 * light. */
static double
mass_error(const LedgerItem *it)
{
    return it->group > 0 ? copysign(it->mass_spread_kg, it->mass_kg) : it->mass_spread_kg;
}

static int
by_group(const void *a, const void *b)
{
    const LedgerItem *const *p = a, *const *q = b;
    if ((*p)->group != (*q)->group)
        return (*p)->group < (*q)->group ? -1 : 1;
    return *p < *q ? -1 : *p > *q;
}

typedef enum { ALONG, ACROSS, UP } Axis;

static double
place(const LedgerItem *it, Axis axis, double *spread)
{
    const double at[] = {it->x_m, it->y_m, it->z_m};
    const double s[] = {it->x_spread_m, it->y_spread_m, it->z_spread_m};
    *spread = s[axis];
    return at[axis];
}

/* Variance of one coordinate of the centre, its covariance with the mass, and the items' parts of
 * it. sorted[] runs by group; group 0 stands first and each of its items is a group of its own. */
static double
centre_variance(size_t n, const LedgerItem *const sorted[], const LedgerItem *base, Axis axis,
                double centre, double mass, double *covariance, double *share)
{
    double variance = 0.0;
    *covariance = 0.0;
    for (size_t i = 0; i < n;) {
        size_t end = i + 1;
        while (sorted[i]->group > 0 && end < n && sorted[end]->group == sorted[i]->group)
            end++;
        double masses = 0.0, moments = 0.0, absolute = 0.0, s;
        for (size_t k = i; k < end; k++) {
            double c = (place(sorted[k], axis, &s) - centre) * mass_error(sorted[k]) / mass;
            masses += mass_error(sorted[k]);
            moments += c;
            absolute += fabs(c);
        }
        for (size_t k = i; k < end; k++) {
            double c = (place(sorted[k], axis, &s) - centre) * mass_error(sorted[k]) / mass;
            double own = sorted[k]->mass_kg * s / mass;
            double part =
                own * own + (absolute > 0.0 ? moments * moments * fabs(c) / absolute : 0.0);
            variance += part;
            if (share != NULL)
                share[sorted[k] - base] = part;
        }
        *covariance += masses * moments;
        i = end;
    }
    for (size_t i = 0; share != NULL && i < n; i++)
        share[i] = variance > 0.0 ? share[i] / variance : 0.0;
    return variance;
}

static double
mass_variance(size_t n, const LedgerItem *const sorted[])
{
    double variance = 0.0;
    for (size_t i = 0; i < n;) {
        size_t end = i;
        double sum = 0.0;
        do
            sum += mass_error(sorted[end++]);
        while (sorted[i]->group > 0 && end < n && sorted[end]->group == sorted[i]->group);
        variance += sum * sum;
        i = end;
    }
    return variance;
}

Validity
ledger_sum(size_t n, const LedgerItem item[], LedgerSum *sum, double *lcg_share, double *tcg_share,
           double *vcg_share)
{
    *sum = (LedgerSum){NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    double *share[] = {lcg_share, tcg_share, vcg_share};
    for (size_t k = 0; k < 3; k++)
        for (size_t i = 0; share[k] != NULL && i < n; i++)
            share[k][i] = NAN;
    if (n == 0 || !usable(n, item))
        return REFUSED;
    double m = 0.0, mx = 0.0, my = 0.0, mz = 0.0;
    for (size_t i = 0; i < n; i++) {
        m += item[i].mass_kg;
        mx += item[i].mass_kg * item[i].x_m;
        my += item[i].mass_kg * item[i].y_m;
        mz += item[i].mass_kg * item[i].z_m;
    }
    if (!(m > 0.0))
        return REFUSED;

    const LedgerItem **sorted = malloc(n * sizeof *sorted);
    if (sorted == NULL)
        abort();
    for (size_t i = 0; i < n; i++)
        sorted[i] = &item[i];
    qsort(sorted, n, sizeof *sorted, by_group);
    sum->mass_kg = m;
    sum->lcg_m = mx / m;
    sum->tcg_m = my / m;
    sum->vcg_m = mz / m;
    sum->mass_spread_kg = sqrt(mass_variance(n, sorted));
    sum->lcg_spread_m = sqrt(centre_variance(n, sorted, item, ALONG, sum->lcg_m, m,
                                             &sum->mass_lcg_covariance, lcg_share));
    sum->tcg_spread_m = sqrt(centre_variance(n, sorted, item, ACROSS, sum->tcg_m, m,
                                             &sum->mass_tcg_covariance, tcg_share));
    sum->vcg_spread_m = sqrt(
        centre_variance(n, sorted, item, UP, sum->vcg_m, m, &sum->mass_vcg_covariance, vcg_share));
    free(sorted);
    return VALID;
}
