/* Least squares by orthogonal columns. Invariant: the columns of the work array are orthonormal as
 * far as they have been taken. */
#include "physics/least_squares.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdlib.h>

enum { MOST = LEAST_SQUARES_MOST };

/* Takes column k of q out of column `from` of target, which has `step` columns. */
static double
take_out(size_t n, const double *q, size_t terms, size_t k, double *target, size_t step,
         size_t from)
{
    double share = 0.0;
    for (size_t i = 0; i < n; i++)
        share += q[i * terms + k] * target[i * step + from];
    for (size_t i = 0; i < n; i++)
        target[i * step + from] -= share * q[i * terms + k];
    return share;
}

static double
length_of(size_t n, const double *q, size_t terms, size_t k)
{
    double sum = 0.0;
    for (size_t i = 0; i < n; i++)
        sum += q[i * terms + k] * q[i * terms + k];
    return sqrt(sum);
}

static bool
make_orthogonal(size_t n, size_t terms, double *q, double r[MOST][MOST])
{
    for (size_t k = 0; k < terms; k++) {
        double before = length_of(n, q, terms, k);
        for (int twice = 0; twice < 2; twice++)
            for (size_t j = 0; j < k; j++)
                r[j][k] += take_out(n, q, terms, j, q, terms, k);
        r[k][k] = length_of(n, q, terms, k);
        if (!(r[k][k] > 1e-7 * before) || !isfinite(r[k][k]))
            return false;
        for (size_t i = 0; i < n; i++)
            q[i * terms + k] /= r[k][k];
    }
    return true;
}

/* Inverse of the triangle, then its product with its own transpose. */
static void
invert(size_t terms, double r[MOST][MOST], double inverse[MOST][MOST])
{
    double t[MOST][MOST] = {{0}};
    for (size_t k = 0; k < terms; k++) {
        t[k][k] = 1.0 / r[k][k];
        for (size_t i = k; i-- > 0;) {
            for (size_t j = i + 1; j <= k; j++)
                t[i][k] -= r[i][j] * t[j][k];
            t[i][k] /= r[i][i];
        }
    }
    for (size_t i = 0; i < terms; i++)
        for (size_t k = 0; k < terms; k++)
            for (size_t j = i > k ? i : k; j < terms; j++)
                inverse[i][k] += t[i][j] * t[k][j];
}

static bool
solve(size_t n, size_t terms, double *q, double *left, LeastSquares *out)
{
    double r[MOST][MOST] = {{0}}, share[MOST] = {0};
    if (!make_orthogonal(n, terms, q, r))
        return false;
    for (int twice = 0; twice < 2; twice++)
        for (size_t k = 0; k < terms; k++)
            share[k] += take_out(n, q, terms, k, left, 1, 0);
    for (size_t k = terms; k-- > 0;) {
        out->value[k] = share[k];
        for (size_t j = k + 1; j < terms; j++)
            out->value[k] -= r[k][j] * out->value[j];
        out->value[k] /= r[k][k];
    }
    invert(terms, r, out->inverse);
    for (size_t i = 0; i < n; i++)
        out->sum_squares += left[i] * left[i];
    return isfinite(out->sum_squares);
}

bool
least_squares(size_t n, size_t terms, const double row[], const double aim[], LeastSquares *out,
              double *residual, double *leverage)
{
    *out = (LeastSquares){.terms = terms, .freedom = n - terms};
    if (terms == 0 || terms > MOST || n < terms)
        return false;
    double *q = malloc(n * terms * sizeof *q), *left = malloc(n * sizeof *left);
    bool good = q != NULL && left != NULL;
    if (good) {
        for (size_t i = 0; i < n * terms; i++)
            q[i] = row[i];
        for (size_t i = 0; i < n; i++)
            left[i] = aim[i];
        good = solve(n, terms, q, left, out);
    }
    for (size_t i = 0; good && i < n; i++) {
        double held = 0.0;
        for (size_t k = 0; k < terms; k++)
            held += q[i * terms + k] * q[i * terms + k];
        if (leverage != NULL)
            leverage[i] = fmin(held, 1.0);
        if (residual != NULL)
            residual[i] = left[i];
    }
    free(q);
    free(left);
    return good;
}

double
student_95(size_t freedom)
{
    return freedom > 0 ? gsl_cdf_tdist_Pinv(0.975, (double) freedom) : NAN;
}

double
largest_by_chance(size_t n, size_t freedom)
{
    double tail = 0.025 / (double) n;
    return freedom > 0 ? gsl_cdf_tdist_Qinv(tail, (double) freedom) : gsl_cdf_ugaussian_Qinv(tail);
}
