/* Influence of one task. Invariant: no figure is a quotient by 0. */
#include "physics/work/influence.h"

#include <gsl/gsl_statistics_double.h>
#include <math.h>

#include "physics/memory.h"
#include "physics/work/rank_correlation.h"

#define SHEET                                                                                      \
    {                                                                                              \
        "Vanhoucke, schedule risk analysis; docs/methods/work.md 1.6", STANDING_SECONDARY          \
    }
const Method influence_significance_method = {"Significance",
                                              "SI = mean(d / (d + s) * T) / mean(T)", SHEET};
const Method influence_sensitivity_method = {"Schedule sensitivity", "SSI = CI * sd(d) / sd(T)",
                                             SHEET};

static const double no_slack_h = 1e-9;

double
influence_criticality(size_t n, const double slack_h[])
{
    size_t met = 0;
    for (size_t t = 0; t < n; t++)
        met += slack_h[t] <= no_slack_h;
    return n > 0 ? (double) met / (double) n : 0.0;
}

double
influence_significance(size_t n, const double duration_h[], const double slack_h[],
                       const double finish_h[])
{
    double sum = 0.0, all = 0.0;
    for (size_t t = 0; t < n; t++) {
        double room = duration_h[t] + slack_h[t];
        sum += (room > 0.0 ? duration_h[t] / room : 1.0) * finish_h[t];
        all += finish_h[t];
    }
    return all > 0.0 ? sum / all : 0.0;
}

static double
spread(size_t n, const double value[])
{
    return n > 1 ? gsl_stats_sd(value, 1, n) : 0.0;
}

double
influence_sensitivity(size_t n, double criticality, const double duration_h[],
                      const double finish_h[])
{
    double whole = spread(n, finish_h);
    return whole > 0.0 ? criticality * spread(n, duration_h) / whole : 0.0;
}

double
influence_pearson(size_t n, const double duration_h[], const double finish_h[])
{
    double own = spread(n, duration_h), whole = spread(n, finish_h);
    if (!(own > 0.0 && whole > 0.0))
        return 0.0;
    return gsl_stats_covariance(duration_h, 1, finish_h, 1, n) / (own * whole);
}

double
influence_spearman(size_t n, const double duration_h[], const double finish_h[])
{
    double *own = fresh(n, sizeof(double)), *whole = fresh(n, sizeof(double));
    rank_of(n, duration_h, own);
    rank_of(n, finish_h, whole);
    double found = rank_correlation(n, own, whole);
    free(own);
    free(whole);
    return found;
}

static int
sign(double x)
{
    return (x > 0.0) - (x < 0.0);
}

double
influence_kendall(size_t n, const double duration_h[], const double finish_h[])
{
    double same_way = 0.0, own = 0.0, whole = 0.0;
    for (size_t i = 1; i < n; i++)
        for (size_t j = 0; j < i; j++) {
            int a = sign(duration_h[i] - duration_h[j]), b = sign(finish_h[i] - finish_h[j]);
            same_way += a * b;
            own += a != 0;
            whole += b != 0;
        }
    return own > 0.0 && whole > 0.0 ? same_way / sqrt(own * whole) : 0.0;
}
