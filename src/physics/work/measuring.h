/* What it is worth to know more before a choice.
 *
 *     two options, difference D normal(mu, s): EVPI = s L(|mu|/s), the same with the spread of a part, or with
 *     s_pre = s_i^2/sqrt(s_i^2 + t^2/n) for n readings with noise t
 *     inspect, act or leave: Bayes' rule on the costs of acting, of a bad one left alone, and of the test
 *
 * Given    sd, part_sd >= 0 or NAN: not known, part_sd <= sd; noise >= 0 or NAN: no reading; readings >= 1, whole
 *          chance_bad, detects, clears 0 to 1; act_cost, bad_cost > 0; test_cost >= 0
 * Gives    values in the unit of the mean; NAN for what was not asked or cannot be
 * Returns  VALID; REFUSED outside the ranges above
 * Source   value of information as in decision analysis, from memory; docs/methods/work.md 6.6
 * Checked  measure-value and inspection-value in tests/cases/work.csv; tests/physics/test_measuring.c: 0 <= EVSI <= EVPPI <= EVPI */
#pragma once

#include <stdbool.h>

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double mean, sd, part_sd, noise, readings, cost;
} Measuring;

typedef struct {
    double perfect, part, preposterior_sd, sample, net;
} MeasureValue;

Validity measure_value(const Measuring *measuring, MeasureValue *out);

typedef struct {
    double chance_bad, act_cost, bad_cost, detects, clears, test_cost;
} Inspection;

typedef struct {
    bool act;
    double cost_now, leave_cost, break_even, perfect;
    double chance_alarm, bad_after_alarm, bad_after_clear, test_value, net;
} InspectionValue;

Validity inspection_value(const Inspection *inspection, InspectionValue *out);

extern const Method measure_value_method, measure_sample_method, inspection_break_even_method,
    inspection_bayes_method;
