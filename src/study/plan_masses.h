/* What one plan weighs more than another, item by item. */
#pragma once

#include "result/study/compare.h"
#include "study/inputs.h"

/* PlanMass, heaviest change first; texts belong to the boats. An item that only moved is there twice: taken and put. */
GArray *plan_mass_changes(const SolveInput *from, const SolveInput *to);
