/* A normal finish against a deadline.
 *
 *     chance = Phi((D - mu)/s)   E(T - D)+ = s L((D - mu)/s)   L(k) = phi(k) - k Phi(-k)
 *
 * Source   unit normal loss, derived; docs/methods/work.md 1.7, 4
 * Checked  lateness in tests/cases/work.csv */
#pragma once

#include "base/source.h"
#include "base/validity.h"

/* L(k), the unit normal loss: how far a standard normal number lies beyond k on average. */
double unit_normal_loss(double k);

/* sd_h > 0. Gives chance and expected lateness, h; REFUSED else. */
Validity lateness_expected(double mean_h, double sd_h, double deadline_h, double *chance,
                           double *late_h);
/* The time met with this confidence (between 0 and 1); sd_h > 0. */
Validity lateness_finish(double mean_h, double sd_h, double confidence, double *finish_h);

extern const Method lateness_chance_method, lateness_expected_method;
