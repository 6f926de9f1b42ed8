/* The working of an answer or a finding, like a worked example in a handbook. */
#pragma once

#include "report/report.h"

/* false, and nothing written: neither an answer nor a finding bears the name. */
bool write_why_text(const Result *result, const char *name, const Style *style, GString *out);
/* The nearest name there is, or NULL. */
const char *nearest_result_name(const Result *result, const char *name);
