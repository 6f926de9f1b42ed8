/* Dominance. Invariant: what dominates in the first order does so in the convex order. */
#include "physics/work/dominance.h"

#include "physics/domain.h"

#define SHEET "docs/methods/work.md 5"
const Method dominance_first_method = {"Better whatever the deadline",
                                       "dF = min(F_a - F_b)",
                                       {"definition as remembered; " SHEET, STANDING_MEMORY}};
const Method dominance_convex_method = {
    "Better for everyone who dislikes lateness",
    "dE = max(E(max(A - t, 0)) - E(max(B - t, 0)))",
    {"increasing convex order as remembered; " SHEET, STANDING_MEMORY}};

/* At one value: how much likelier A is not above it, and how much further B lies above it on average. */
typedef struct {
    double nearer, further;
} Gap;

static Gap
gap_at(size_t n, const double value[], const double chance_a[], const double chance_b[], size_t at)
{
    Gap gap = {0.0, 0.0};
    for (size_t i = 0; i < n; i++) {
        double more = chance_a[i] - chance_b[i];
        if (i <= at)
            gap.nearer += more;
        else
            gap.further -= more * (value[i] - value[at]);
    }
    return gap;
}

static Better
verdict(double least, double most)
{
    bool a = least >= -DOMINANCE_SLACK, b = most <= DOMINANCE_SLACK;
    if (a && b)
        return BETTER_BOTH;
    return a ? BETTER_A : b ? BETTER_B : BETTER_NEITHER;
}

Validity
dominance(size_t n, const double value[], const double chance_a[], const double chance_b[],
          Dominance *out)
{
    *out = (Dominance){BETTER_NEITHER, BETTER_NEITHER, NAN, NAN};
    bool rises = n > 0;
    for (size_t i = 0; i < n; i++)
        rises = rises && is_number(value[i]) && (i == 0 || value[i] > value[i - 1]);
    if (!rises || !is_distribution(n, chance_a) || !is_distribution(n, chance_b))
        return REFUSED;
    Gap least = {INFINITY, INFINITY}, most = {-INFINITY, -INFINITY};
    out->mean_a = out->mean_b = 0.0;
    for (size_t i = 0; i < n; i++) {
        Gap gap = gap_at(n, value, chance_a, chance_b, i);
        /* Behind the last value both are certain; what is missing there is rounding of the chances. */
        if (i + 1 < n) {
            least.nearer = fmin(least.nearer, gap.nearer);
            most.nearer = fmax(most.nearer, gap.nearer);
        }
        least.further = fmin(least.further, gap.further);
        most.further = fmax(most.further, gap.further);
        out->mean_a += chance_a[i] * value[i];
        out->mean_b += chance_b[i] * value[i];
    }
    out->first_order = verdict(least.nearer, most.nearer);
    out->convex_order = verdict(least.further, most.further);
    return VALID;
}
