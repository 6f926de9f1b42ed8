/* The first line and the headings of what study reports. */
#pragma once

#include "report/report.h"

void study_head(const Result *result, const Asked *asked, const Style *style, GString *out);
void study_heading(const char *text, const Style *style, GString *out);
/* A line of details below an entry. */
void study_detail(const char *text, int indent, const Style *style, GString *out);
/* "about 20 minutes", "about 3 hours", "a day"; g_free. */
char *minutes_words(double minutes);
/* The finding's sentence, else its id with blanks; g_free. */
char *finding_words(const Result *result, const char *id, UnitsChoice units);
