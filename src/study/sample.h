/* Numbers that a study draws: one from each slice of a distribution. */
#pragma once

#include "physics/dice.h"

/* Fills value[n] with standard normal numbers, one from each of n equal slices, in random order (Latin hypercube). */
void normal_slices(Dice *dice, size_t n, double value[]);
