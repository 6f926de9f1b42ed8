/* The shortest schedule with limited people and equipment, with proof: a good one by search, then the proof that none is shorter.
 *
 * Given    a project of up to RCPSP_EXACT_TASKS tasks whose durations and lags are whole numbers of a common tick (whole seconds
 *          at least)
 * Gives    list[n] in the order of the starts, start_h[n]; proven
 * Returns  the makespan; not proven when the effort ran out, there are too many tasks or no common tick
 * Source   destructive bounds (Klein and Scholl 1999, memory); rcpsp_window, rcpsp_refute; docs/methods/work.md 2
 * Checked  the proven optima of all 96 projects of tests/cases/psplib/j30.csv: tests/physics/test_rcpsp_exact.c */
#pragma once

#include "physics/work/rcpsp.h"

enum { RCPSP_EXACT_TASKS = 64 };

/* states: how many states of the search may be looked at in all; 0: ten million, fewer where ticks are fine. */
double rcpsp_exact(Rcpsp *project, size_t states, size_t list[], double start_h[], bool *proven);
