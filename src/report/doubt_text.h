/* How sure the answers are, which verdicts could turn, and what to measure next. */
#pragma once

#include "report/report.h"
#include "result/study/doubt.h"

void write_doubt_text(const Result *result, const Doubt *doubt, const Asked *asked,
                      const Style *style, GString *out);
/* What to measure next, under its heading. */
void write_next_text(const Result *result, const Doubt *doubt, const Style *style, GString *out);
