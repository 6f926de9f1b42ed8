/* Ranks. Invariant: ranks sum to n (n + 1)/2. */
#include "physics/work/rank_correlation.h"

#include <math.h>

#include "physics/memory.h"

typedef struct {
    double value;
    size_t at;
} Valued;

static int
by_value(const void *a, const void *b)
{
    const Valued *x = a, *y = b;
    return (x->value > y->value) - (x->value < y->value);
}

void
rank_of(size_t n, const double value[], double rank[])
{
    Valued *sorted = fresh(n, sizeof *sorted);
    for (size_t i = 0; i < n; i++)
        sorted[i] = (Valued){value[i], i};
    qsort(sorted, n, sizeof *sorted, by_value);
    for (size_t i = 0, end; i < n; i = end) {
        for (end = i + 1; end < n && sorted[end].value == sorted[i].value;)
            end++;
        for (size_t k = i; k < end; k++)
            rank[sorted[k].at] = 0.5 * (double) (i + 1 + end);
    }
    free(sorted);
}

double
rank_correlation(size_t n, const double rank_a[], const double rank_b[])
{
    double mean = 0.5 * (double) (n + 1), aa = 0.0, bb = 0.0, ab = 0.0;
    for (size_t i = 0; i < n; i++) {
        double a = rank_a[i] - mean, b = rank_b[i] - mean;
        aa += a * a;
        bb += b * b;
        ab += a * b;
    }
    return aa > 0.0 && bb > 0.0 ? ab / sqrt(aa * bb) : 0.0;
}
