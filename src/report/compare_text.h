/* Plans side by side, for the terminal. */
#pragma once

#include "report/report.h"
#include "result/study/compare.h"

/* result: of the base plan, for the owner's words. */
void write_compare_text(const Result *result, const Comparison *comparison, const Asked *asked,
                        const Style *style, GString *out);
