/* Sum of masses with their uncertainty; first order.
 *
 * Spreads are passed through linearly: give two standard deviations and two come back. Items with
 * the same group (> 0) err together (their masses by the same share); items of group 0 are
 * independent. Source   docs/methods/float.md 1 */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double mass_kg, mass_spread_kg; /* negative mass: removed */
    double x_m, x_spread_m, y_m, y_spread_m, z_m, z_spread_m;
    int group; /* masses of one group are fully correlated; 0: independent */
} LedgerItem;

typedef struct {
    double mass_kg, lcg_m, tcg_m, vcg_m;
    double mass_spread_kg, lcg_spread_m, tcg_spread_m, vcg_spread_m;
    double mass_lcg_covariance, mass_tcg_covariance, mass_vcg_covariance; /* in spreads: kg m */
} LedgerSum;

/* share_x and so on may be NULL, else [n]: part of the variance an item brings (a group's part is
 * split among its items by their own contribution). REFUSED when the total is not positive or a
 * spread is negative. */
Validity ledger_sum(size_t n, const LedgerItem item[], LedgerSum *sum, double *lcg_share,
                    double *tcg_share, double *vcg_share);

extern const Method ledger_mass_method, ledger_centre_method, ledger_mass_spread_method,
    ledger_centre_spread_method;
