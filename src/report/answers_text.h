/* Answers as a table: name in words, value and spread, how sure, how it is called. */
#pragma once

#include "report/report.h"

/* n 0: all of them. Names that do not exist are left out: the caller has asked result_answer_find.
 */
void write_answers_text(const Result *result, size_t n, const char *const names[],
                        const Style *style, GString *out);
/* Only the governing ones, as check prints them. */
void write_governing_text(const Result *result, const Style *style, GString *out);
