/* Trials to do on the quay: a paper with what should be read, room for what was, and when not to. */
#pragma once

#include "report/report.h"
#include "result/study/trial.h"

GBytes *write_trials_paper(const Result *result, const Asked *asked, UnitsChoice units,
                           const Trials *trials, GError **error);
/* What is typed into the boat file afterwards, one line each, with ______ where a hand writes; g_free. */
char *trial_lines(const Trial *trial);
