/* A studied doubt as JSON: answers with their spread and what brings it, verdicts, and what to measure next. */
#pragma once

#include "report/json_out.h"
#include "report/report.h"
#include "result/study/doubt.h"

void write_doubt_json(const Result *result, const Doubt *doubt, const Asked *asked, GString *out);
/* The member "next": what to measure next. */
void json_next(Json *json, const Doubt *doubt);
