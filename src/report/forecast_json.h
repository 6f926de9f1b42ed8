/* A forecast of the work as JSON. Days as 2027-09-14, money in the boat's currency, chances 0 to 1. */
#pragma once

#include "report/json_out.h"
#include "result/work/forecast.h"

/* The member "forecast" of a report. */
void json_forecast(Json *json, const WorkForecast *forecast);
/* The member "chances": each option in time or not, its last day to begin, its costs. */
void json_last_days(Json *json, const WorkForecast *forecast);
/* The member "helps": what was tried to be done in time, the most gained first. */
void json_helps(Json *json, const WorkForecast *forecast);
