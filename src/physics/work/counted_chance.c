/* Wilson interval. Invariant: 0 <= low <= k/N <= high <= 1. */
#include "physics/work/counted_chance.h"

#include <math.h>

void
counted_chance(size_t met, size_t trials, double score, double *low, double *high)
{
    *low = *high = NAN;
    if (trials == 0 || met > trials)
        return;
    double N = (double) trials, p = (double) met / N, z2 = score * score;
    double middle = (p + z2 / (2.0 * N)) / (1.0 + z2 / N);
    double half = score / (1.0 + z2 / N) * sqrt(p * (1.0 - p) / N + z2 / (4.0 * N * N));
    *low = met == 0 ? 0.0 : fmax(0.0, middle - half);
    *high = met == trials ? 1.0 : fmin(1.0, middle + half);
}
