/* A result as JSON: SI values with their units, NAN as null, the shortest digits that read back the
 * same. */
#pragma once

#include "report/report.h"

void write_check_json(const Result *result, const Asked *asked, GString *out);
/* n 0: all. The object of answers, by name. */
void write_answers_json(const Result *result, size_t n, const char *const names[], GString *out);
/* false, and nothing written: neither an answer nor a finding bears the name. */
bool write_why_json(const Result *result, const char *name, GString *out);
