/* Shapes in the misfits of an inclining test. Invariant: a shape is judged by what it adds to the
 * straight line, never by what the line can take up itself. */
#include "physics/afloat/inclining_pattern.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include "physics/domain.h"
#include "physics/least_squares.h"

const Method inclining_pattern_method = {"Moments with one term beyond the straight line",
                                         "M = a + b * t + c * q",
                                         {"docs/methods/float.md 6", STANDING_DERIVED}};

typedef struct {
    size_t n;
    const double *moment, *tangent;
    double *line; /* [2 n] rows 1, t */
    double *row;  /* [3 n] rows 1, t, q */
    double *q;    /* [n] */
    double *left; /* [n] q less what the line takes up of it */
    double largest_moment, largest_tangent, scatter;
} Test;

/* side: -1 or 1, for what happens on one side only. */
static double
term(const Test *test, InclineShape shape, double side, size_t i)
{
    double t = test->tangent[i] / test->largest_tangent;
    double move = i > 0 ? test->moment[i] - test->moment[i - 1] : 0.0;
    switch (shape) {
    case INCLINE_ONE_SIDED:
        return fmax(0.0, side * t) * fmax(0.0, side * t);
    case INCLINE_BENDS:
        return t * t * t;
    case INCLINE_LAGS:
        return (move > 0.0) - (move < 0.0);
    default:
        return (double) i / (double) (test->n - 1);
    }
}

static void
try_shape(Test *test, InclineShape shape, double side, double *probability, double *size_frac)
{
    LeastSquares of_q, full;
    double beyond = 0.0;
    *probability = *size_frac = NAN;
    for (size_t i = 0; i < test->n; i++) {
        test->q[i] = term(test, shape, side, i);
        test->row[3 * i] = 1.0;
        test->row[3 * i + 1] = test->tangent[i];
        test->row[3 * i + 2] = test->q[i];
    }
    if (!least_squares(test->n, 2, test->line, test->q, &of_q, test->left, NULL) ||
        !least_squares(test->n, 3, test->row, test->moment, &full, NULL, NULL))
        return;
    for (size_t i = 0; i < test->n; i++)
        beyond = fmax(beyond, fabs(test->left[i]));
    double s2 = full.sum_squares / (double) full.freedom;
    double error = sqrt(fmax(s2, test->scatter * test->scatter) * full.inverse[2][2]);
    *size_frac = fabs(full.value[2]) * beyond / test->largest_moment;
    *probability = 2.0 * gsl_cdf_tdist_Q(fabs(full.value[2]) / error, (double) full.freedom);
}

/* The likelier of two sides, at twice its probability: two were tried. */
static void
try_both_sides(Test *test, InclinePattern *out)
{
    for (int side = -1; side <= 1; side += 2) {
        double probability, size;
        try_shape(test, INCLINE_ONE_SIDED, (double) side, &probability, &size);
        probability = fmin(1.0, 2.0 * probability);
        if (!(probability >= out->probability[INCLINE_ONE_SIDED]) && isfinite(size)) {
            out->probability[INCLINE_ONE_SIDED] = probability;
            out->size_frac[INCLINE_ONE_SIDED] = size;
            out->side = side;
        }
    }
}

static bool
largest(Test *test)
{
    double mean = 0.0;
    for (size_t i = 0; i < test->n; i++) {
        if (!is_number(test->moment[i]) || !(fabs(test->tangent[i]) < 2.0))
            return false;
        mean += test->moment[i] / (double) test->n;
    }
    for (size_t i = 0; i < test->n; i++) {
        test->line[2 * i] = 1.0;
        test->line[2 * i + 1] = test->tangent[i];
        test->largest_moment = fmax(test->largest_moment, fabs(test->moment[i] - mean));
        test->largest_tangent = fmax(test->largest_tangent, fabs(test->tangent[i]));
    }
    /* Below this a misfit is rounding of what was typed, not a reading. */
    test->scatter = 1e-9 * test->largest_moment;
    return test->largest_moment > 0.0 && test->largest_tangent > 0.0;
}

Validity
inclining_pattern(size_t n, const double moment_kgm[], const double tangent[], InclinePattern *out)
{
    *out = (InclinePattern){.likeliest = INCLINE_STRAIGHT};
    for (size_t k = 1; k < INCLINE_PATTERNS; k++)
        out->probability[k] = out->size_frac[k] = NAN;
    if (n < 6 || n > 10000)
        return REFUSED;
    double *work = malloc(7 * n * sizeof *work);
    if (work == NULL)
        return REFUSED;
    Test test = {.n = n,
                 .moment = moment_kgm,
                 .tangent = tangent,
                 .line = work,
                 .row = work + 2 * n,
                 .q = work + 5 * n,
                 .left = work + 6 * n};
    bool any = false;
    if (largest(&test))
        for (size_t k = 1; k < INCLINE_PATTERNS; k++) {
            if (k == INCLINE_ONE_SIDED)
                try_both_sides(&test, out);
            else
                try_shape(&test, (InclineShape) k, 0.0, &out->probability[k], &out->size_frac[k]);
            any = any || isfinite(out->probability[k]);
        }
    free(work);
    double least = 0.01;
    for (size_t k = 1; k < INCLINE_PATTERNS; k++)
        if (out->probability[k] < least && out->size_frac[k] > 0.01) {
            least = out->probability[k];
            out->likeliest = (InclineShape) k;
        }
    return any ? VALID : REFUSED;
}
