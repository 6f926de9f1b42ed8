/* Random numbers of a study: the same for the same seed, on every machine. */
#pragma once

#include <glib.h>

typedef struct {
    guint64 state;
} Dice;

double dice_share(Dice *dice); /* in (0, 1) */
/* Value below which a share of the standard normal distribution lies; share in (0, 1).
 * Source  Wichura, AS 241, Applied Statistics 37 (1988), PPND7: 1 part in 10^7. */
double normal_at(double share);
/* Fills value[n] with standard normal numbers, one from each of n equal slices, in random order (Latin hypercube). */
void normal_slices(Dice *dice, size_t n, double value[]);
