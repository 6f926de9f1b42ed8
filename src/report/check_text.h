/* A result for the terminal: four questions first, findings worst first, the answers, the cautions.
 */
#pragma once

#include "report/report.h"

void write_check_text(const Result *result, const Asked *asked, const Style *style, GString *out);

/* The two cautions that stand under every report. */
extern const char check_no_survey[], check_not_listed[];
extern const char check_no_approval[]; /* in place of the first, where it is of her wiring alone */
