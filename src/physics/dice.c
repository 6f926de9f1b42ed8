/* Dice and the normal distribution.
 * Invariant: the same start gives the same numbers. */
#include "physics/dice.h"

#include <math.h>

/* splitmix64: Steele, Lea, Flood, OOPSLA 2014. */
static uint64_t throw(Dice * dice)
{
    uint64_t z = dice->state += UINT64_C(0x9e3779b97f4a7c15);
    z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
    return z ^ (z >> 31);
}

Dice
dice_of(uint64_t seed, size_t trial, uint64_t key)
{
    Dice dice = {key ^ (seed * UINT64_C(0xd6e8feb86659fd93))};
    dice.state += (uint64_t) trial * UINT64_C(0xa0761d6478bd642f);
    (void) throw(&dice); /* mixes neighbouring trials apart */
    return dice;
}

double
dice_share(Dice *dice)
{
    return ((double) (throw(dice) >> 12) + 0.5) / 4503599627370496.0;
}

size_t
dice_below(Dice *dice, size_t n)
{
    return (size_t) (dice_share(dice) * (double) n);
}

double
normal_at(double share)
{
    double q = share - 0.5;
    if (fabs(q) <= 0.425) {
        double r = 0.180625 - q * q;
        return q * (((59.109374720 * r + 159.29113202) * r + 50.434271938) * r + 3.3871327179) /
               (((67.187563600 * r + 78.757757664) * r + 17.895169469) * r + 1.0);
    }
    double r = sqrt(-log(q < 0.0 ? share : 1.0 - share)), z;
    if (r <= 5.0) {
        r -= 1.6;
        z = (((0.17023821103 * r + 1.3067284816) * r + 2.7568153900) * r + 1.4234372777) /
            ((0.12021132975 * r + 0.73700164250) * r + 1.0);
    } else {
        r -= 5.0;
        z = (((0.017337203997 * r + 0.42868294337) * r + 3.0812263860) * r + 6.6579051150) /
            ((0.012258202635 * r + 0.24197894225) * r + 1.0);
    }
    return q < 0.0 ? -z : z;
}

double
dice_normal(Dice *dice)
{
    return normal_at(dice_share(dice));
}
