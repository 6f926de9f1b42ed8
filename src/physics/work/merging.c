/* The latest of several normal finishes. */
#include "physics/work/merging.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>

#include "physics/domain.h"
#include "physics/gauss.h"
#include "physics/memory.h"

const Method merging_chance_method = {"Chance that all paths are done",
                                      "P = product(phi_cdf((D - mu_k) / s_k))",
                                      {"docs/methods/work.md 1.3", STANDING_DERIVED}};
const Method clark_mean_method = {"Mean of the later of two",
                                  "mu = m_1 * phi_cdf(A) + m_2 * phi_cdf(-A) + theta * phi(A)",
                                  {"Clark 1961; docs/methods/work.md 1.3", STANDING_MEMORY}};

double
merging_chance(size_t n, const double mean_h[], const double sd_h[], double deadline_h)
{
    double chance = 1.0;
    for (size_t k = 0; k < n; k++)
        chance *= gsl_cdf_ugaussian_P((deadline_h - mean_h[k]) / sd_h[k]);
    return chance;
}

size_t
merging_longest(size_t n, const double mean_h[], const double sd_h[])
{
    size_t best = 0;
    for (size_t k = 1; k < n; k++)
        if (mean_h[k] > mean_h[best] || (mean_h[k] == mean_h[best] && sd_h[k] > sd_h[best]))
            best = k;
    return best;
}

/* Beyond this many spreads a path is done, or not yet. */
enum { FAR = 9 };

static int
rising(const void *a, const void *b)
{
    const double *p = a, *q = b;
    return (*p > *q) - (*p < *q);
}

/* Instants a spread apart around every path, sorted, none closer than half the least spread; returns how many. */
static size_t
instants(size_t n, const double mean_h[], const double sd_h[], double low, double at_h[])
{
    size_t all = 0, kept = 0;
    double least_sd = INFINITY;
    for (size_t k = 0; k < n; k++) {
        least_sd = fmin(least_sd, sd_h[k]);
        for (int j = -FAR; j <= FAR; j++)
            if (mean_h[k] + j * sd_h[k] >= low)
                at_h[all++] = mean_h[k] + j * sd_h[k];
    }
    qsort(at_h, all, sizeof at_h[0], rising);
    for (size_t i = 0; i < all; i++)
        if (kept == 0 || i + 1 == all || at_h[i] - at_h[kept - 1] >= 0.5 * least_sd)
            at_h[kept++] = at_h[i];
    return kept;
}

/* E(T - low) and E((T - low)^2) from the distribution alone: integrals of 1 - F and of 2 (x - low)(1 - F). */
static void
moments(size_t n, const double mean_h[], const double sd_h[], double from_h, double to_h,
        double low, double *first, double *square)
{
    for (size_t i = 0; i < gauss_16.n; i++) {
        double x = from_h + gauss_16.at[i] * (to_h - from_h);
        double late =
            gauss_16.weight[i] * (to_h - from_h) * (1.0 - merging_chance(n, mean_h, sd_h, x));
        *first += late;
        *square += 2.0 * (x - low) * late;
    }
}

Validity
merging_paths(size_t n, const double mean_h[], const double sd_h[], double *latest_mean_h,
              double *latest_sd_h)
{
    *latest_mean_h = *latest_sd_h = NAN;
    if (n == 0)
        return REFUSED;
    double low = -INFINITY, first = 0.0, square = 0.0;
    for (size_t k = 0; k < n; k++) {
        if (!is_number(mean_h[k]) || !is_positive(sd_h[k]))
            return REFUSED;
        low = fmax(low, mean_h[k] - FAR * sd_h[k]); /* that path at least is later */
    }
    double *at_h = fresh(n * (2 * FAR + 1), sizeof(double));
    size_t steps = instants(n, mean_h, sd_h, low, at_h);
    for (size_t i = 0; i + 1 < steps; i++)
        moments(n, mean_h, sd_h, at_h[i], at_h[i + 1], low, &first, &square);
    free(at_h);
    *latest_mean_h = low + first;
    *latest_sd_h = sqrt(fmax(0.0, square - first * first));
    return VALID;
}

Validity
clark_maximum(const double mean_h[2], const double sd_h[2], double correlation,
              ClarkMaximum *latest)
{
    *latest = (ClarkMaximum){NAN, NAN, NAN};
    double m1 = mean_h[0], m2 = mean_h[1], s1 = sd_h[0], s2 = sd_h[1], r = correlation;
    if (!is_number(m1) || !is_number(m2) || !is_not_negative(s1) || !is_not_negative(s2) ||
        !is_within(r, -1.0, 1.0))
        return REFUSED;
    double theta2 = s1 * s1 + s2 * s2 - 2.0 * r * s1 * s2;
    if (!(theta2 > 1e-24 * (s1 * s1 + s2 * s2)))
        return REFUSED;
    double theta = sqrt(theta2), a = (m1 - m2) / theta, density = gsl_ran_ugaussian_pdf(a);
    double first = gsl_cdf_ugaussian_P(a), second = gsl_cdf_ugaussian_Q(a);
    double mean = m1 * first + m2 * second + theta * density;
    /* The second moment about the greater mean: large dates must not swallow small spreads. */
    double c = fmax(m1, m2), d1 = m1 - c, d2 = m2 - c;
    double square =
        (d1 * d1 + s1 * s1) * first + (d2 * d2 + s2 * s2) * second + (d1 + d2) * theta * density;
    *latest = (ClarkMaximum){mean, sqrt(fmax(0.0, square - (mean - c) * (mean - c))), first};
    return VALID;
}
