/* Cost with one possible mishap on top: a mixture of two normal costs.
 *
 *     F(x) = (1 - p) Phi((x - mu)/s) + p Phi((x - mu - m)/sqrt(s^2 + v))
 *     mean = mu + p m   variance = s^2 + p v + p (1 - p) m^2
 *
 * Given    base_mean, base_sd > 0; chance 0 to 1; impact_mean, impact_sd >= 0; budget, or NAN: none
 * Gives    moments, percentiles as roots of F, the 80 % point a normal cost would have, the chance to keep to the budget
 * Returns  VALID; REFUSED outside the ranges above
 * Source   derived; docs/methods/work.md 4
 * Checked  risk-event in tests/cases/work.csv; tests/physics/test_money.c */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double base_mean, base_sd, chance, impact_mean, impact_sd;
} RiskEvent;

typedef struct {
    double mean, sd, p50, p80, p90, p80_normal, chance_budget;
} RiskCost;

Validity risk_event(const RiskEvent *event, double budget, RiskCost *out);

extern const Method risk_event_mean_method, risk_event_sd_method, risk_event_spread_method;
