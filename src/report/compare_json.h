/* Plans side by side, as JSON. */
#pragma once

#include "report/report.h"
#include "result/study/compare.h"

void write_compare_json(const Result *result, const Comparison *comparison, const Asked *asked,
                        GString *out);
