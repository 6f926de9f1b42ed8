/* Random numbers: the same for the same seed, on every machine. */
#pragma once

#include <stddef.h>
#include <stdint.h>

typedef struct {
    uint64_t state; /* any seed will do */
} Dice;

/* Dice that belong to one trial and one key (a task, for instance): the same luck whatever else is drawn, and in any order. */
Dice dice_of(uint64_t seed, size_t trial, uint64_t key);
double dice_share(Dice *dice); /* in (0, 1) */
/* A whole number from 0 to n - 1; n > 0. */
size_t dice_below(Dice *dice, size_t n);
/* Value below which a share of the standard normal distribution lies; share in (0, 1).
 * Source  Wichura, AS 241, Applied Statistics 37 (1988), PPND7: 1 part in 10^7. */
double normal_at(double share);
/* A standard normal number. */
double dice_normal(Dice *dice);
