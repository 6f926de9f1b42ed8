/* A choice among options when what comes is one of a few scenarios.
 *
 *     expected cost = sum p c   regret = c - least c of that scenario   perfect information = least expected regret
 *
 * Given    cost[option * scenarios + scenario]; chance[scenarios], each 0 to 1, together 1 within 1e-6; at least one of both
 * Gives    per option; the first of equals as best and as least regret
 * Returns  VALID; REFUSED outside the ranges above
 * Source   Savage's regret and the value of perfect information, from memory; docs/methods/work.md 5
 * Checked  scenario-choice in tests/cases/work.csv; tests/physics/test_options.c */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double expected, max_regret, expected_regret;
} ScenarioOption;

typedef struct {
    size_t best, least_regret;
    double perfect_information;
} ScenarioChoice;

Validity scenario_choice(size_t options, size_t scenarios, const double cost[],
                         const double chance[], ScenarioOption found[], ScenarioChoice *choice);

extern const Method scenario_expected_method, scenario_regret_method;
