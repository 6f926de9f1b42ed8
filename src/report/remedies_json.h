/* Remedies as JSON: findings with their remedies, and what was tried and rejected. */
#pragma once

#include "report/json_out.h"
#include "report/report.h"
#include "result/study/remedy.h"

void write_remedies_json(const Result *result, const Remedies *remedies, const Asked *asked,
                         GString *out);
/* The member `remedies` of a finding: a list, empty where of is NULL. */
void json_remedies(Json *json, const Result *result, const RemediesOf *of);
