/* Scenarios. Invariant: the option of least expected cost has the least expected regret. */
#include "physics/work/scenarios.h"

#include "physics/domain.h"

#define SHEET "docs/methods/work.md 5"
const Method scenario_expected_method = {
    "Expected cost", "C = sum(p * c)", {"definition; " SHEET, STANDING_DERIVED}};
const Method scenario_regret_method = {"Regret, and what knowing the scenario is worth",
                                       "EVPI = min(C) - sum(p * min(c))",
                                       {"Savage's regret as remembered; " SHEET, STANDING_MEMORY}};

static double
least_cost(size_t options, size_t scenarios, const double cost[], size_t scenario)
{
    double least = INFINITY;
    for (size_t o = 0; o < options; o++)
        least = fmin(least, cost[o * scenarios + scenario]);
    return least;
}

Validity
scenario_choice(size_t options, size_t scenarios, const double cost[], const double chance[],
                ScenarioOption found[], ScenarioChoice *choice)
{
    *choice = (ScenarioChoice){0, 0, NAN};
    if (options == 0 || !is_distribution(scenarios, chance))
        return REFUSED;
    for (size_t k = 0; k < options * scenarios; k++)
        if (!is_number(cost[k]))
            return REFUSED;
    for (size_t o = 0; o < options; o++)
        found[o] = (ScenarioOption){0.0, 0.0, 0.0};
    for (size_t s = 0; s < scenarios; s++) {
        double least = least_cost(options, scenarios, cost, s);
        for (size_t o = 0; o < options; o++) {
            double c = cost[o * scenarios + s];
            found[o].expected += chance[s] * c;
            found[o].expected_regret += chance[s] * (c - least);
            found[o].max_regret = fmax(found[o].max_regret, c - least);
        }
    }
    for (size_t o = 1; o < options; o++) {
        if (found[o].expected < found[choice->best].expected)
            choice->best = o;
        if (found[o].max_regret < found[choice->least_regret].max_regret)
            choice->least_regret = o;
    }
    choice->perfect_information = found[choice->best].expected_regret;
    return VALID;
}
