/* Sum of rectangles. Invariant: a state of the recurrence is the set of widths still to add and the set of those taken off the
 * place; the wide one that makes the density a distribution stands last. */
#include "physics/work/rectangular_sum.h"

#include <gsl/gsl_cdf.h>

#include "physics/domain.h"
#include "physics/memory.h"

const Method rectangular_sd_method = {
    "Spread of a sum of rectangular errors",
    "s = sqrt(sum(w^2) / 3)",
    {"variance of a rectangle; docs/methods/work.md 6.2", STANDING_DERIVED}};
const Method rectangular_sum_method = {
    "Exact distribution of a sum of rectangular errors",
    "M = sum(t * M_i + (1 - t) * N_i) / (n - 1)",
    {"de Boor and Hollig 1982 as remembered; docs/methods/work.md 6.2", STANDING_MEMORY}};

typedef struct {
    size_t n;      /* widths, the wide one included */
    double *width; /* [n] */
    size_t *place; /* [2^n] of a set among the states, base 3 */
    double *sum;   /* [2^n] of a set */
    double *value; /* [3^n] */
} Spline;

static void
spline_open(Spline *s, size_t n, const double half_width[])
{
    size_t states = 1;
    *s = (Spline){.n = n + 1, .width = fresh(n + 1, sizeof(double))};
    for (size_t i = 0; i < n; i++) {
        s->width[i] = 2.0 * half_width[i];
        s->width[n] += s->width[i];
    }
    s->place = fresh((size_t) 1 << s->n, sizeof *s->place);
    s->sum = fresh((size_t) 1 << s->n, sizeof *s->sum);
    for (size_t i = 0; i < s->n; i++, states *= 3)
        for (size_t set = 0; set < (size_t) 1 << i; set++) {
            s->place[set | (size_t) 1 << i] = s->place[set] + states;
            s->sum[set | (size_t) 1 << i] = s->sum[set] + s->width[i];
        }
    s->value = fresh(states, sizeof *s->value);
}

static void
spline_close(Spline *s)
{
    free(s->width);
    free(s->place);
    free(s->sum);
    free(s->value);
}

static double
state(const Spline *s, size_t left, size_t off)
{
    return s->value[s->place[left] + 2 * s->place[off]];
}

static double
term(const Spline *s, size_t left, size_t off, double x)
{
    double whole = s->sum[left], t = x / whole, M = 0.0;
    if (!(t >= 0.0 && t < 1.0))
        return 0.0;
    if ((left & (left - 1)) == 0)
        return 1.0 / whole;
    size_t others = 0;
    for (size_t i = 0; i < s->n; i++) {
        size_t one = (size_t) 1 << i;
        if ((left & one) == 0)
            continue;
        M += t * state(s, left ^ one, off) + (1.0 - t) * state(s, left ^ one, off | one);
        others++;
    }
    return M / (double) (others - 1);
}

/* Density and distribution of sum w_i u_i at x, x within 0 to sum w. */
static void
spline_at(Spline *s, double x, double *density, double *chance)
{
    size_t all = ((size_t) 1 << s->n) - 1, wide = (size_t) 1 << (s->n - 1);
    for (size_t left = 1; left <= all; left++) {
        size_t rest = all ^ left, off = rest;
        for (;; off = (off - 1) & rest) {
            s->value[s->place[left] + 2 * s->place[off]] = term(s, left, off, x - s->sum[off]);
            if (off == 0)
                break;
        }
    }
    *density = state(s, all ^ wide, 0);
    *chance = s->width[s->n - 1] * state(s, all, 0);
}

/* Newton from the middle: below it the distribution is convex, so that no step goes too far. */
static double
lower_end(Spline *s, double share)
{
    double x = 0.5 * s->width[s->n - 1];
    for (int step = 0; step < 200; step++) {
        double density, chance;
        spline_at(s, x, &density, &chance);
        double down = (chance - share) / density;
        if (!(down > 1e-14 * s->width[s->n - 1]))
            break;
        x = fmax(x - down, 0.0);
    }
    return x;
}

static bool
widths_hold(size_t n, const double half_width[])
{
    if (n == 0 || n > RECTANGLES_MOST)
        return false;
    for (size_t i = 0; i < n; i++)
        if (!is_positive(half_width[i]))
            return false;
    return true;
}

double
rectangular_sum_chance(size_t n, const double half_width[], double x)
{
    Spline s;
    double density, chance;
    if (!widths_hold(n, half_width))
        return NAN;
    spline_open(&s, n, half_width);
    double whole = s.width[n], at = x + 0.5 * whole;
    if (at <= 0.0 || at >= whole)
        chance = at <= 0.0 ? 0.0 : 1.0;
    else
        spline_at(&s, at, &density, &chance);
    spline_close(&s);
    return chance;
}

Validity
rectangular_sum(size_t n, const double half_width[], double confidence, RectangularSum *out)
{
    *out = (RectangularSum){NAN, NAN, NAN};
    if (!widths_hold(n, half_width) || !(confidence > 0.0 && confidence < 1.0))
        return REFUSED;
    double squares = 0.0;
    for (size_t i = 0; i < n; i++)
        squares += half_width[i] * half_width[i];
    out->sd = sqrt(squares / 3.0);
    out->half_interval_normal = out->sd * gsl_cdf_ugaussian_Pinv(0.5 * (1.0 + confidence));
    Spline s;
    spline_open(&s, n, half_width);
    out->half_interval = 0.5 * s.width[n] - lower_end(&s, 0.5 * (1.0 - confidence));
    spline_close(&s);
    return VALID;
}
