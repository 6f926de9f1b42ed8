/* Slices. Invariant: the same dice give the same numbers. */
#include "study/sample.h"

void
normal_slices(Dice *dice, size_t n, double value[])
{
    for (size_t i = 0; i < n; i++)
        value[i] = normal_at(((double) i + dice_share(dice)) / (double) n);
    for (size_t i = n; i > 1; i--) {
        size_t k = dice_below(dice, i);
        double held = value[i - 1];
        value[i - 1] = value[k];
        value[k] = held;
    }
}
