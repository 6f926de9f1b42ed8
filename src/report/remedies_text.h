/* What clears each danger and fault, and what else that changes. */
#pragma once

#include "report/report.h"
#include "result/study/remedy.h"

void write_remedies_text(const Result *result, const Remedies *remedies, const Asked *asked,
                         const Style *style, GString *out);
/* "raise engine vent by 0.52 m, to 1.64 m"; g_free. */
char *remedy_words(const Result *result, const Remedy *remedy, UnitsChoice units);
/* What else it takes, as a sentence or more: of another voltage, all that must be made for it; NULL: nothing but itself. g_free. */
char *remedy_takes_words(const Result *result, const Remedy *remedy);
