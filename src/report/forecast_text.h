/* A forecast of the work for the terminal: what next, when done, what helps, what it costs. */
#pragma once

#include "report/report.h"
#include "result/work/forecast.h"

void write_forecast_text(const WorkForecast *forecast, const Style *style, GString *out);
/* What would help most, under its heading. */
void write_helps_text(const WorkForecast *forecast, const Style *style, GString *out);
/* Each option: in time or not, the last day to begin it, its costs; under its heading. */
void write_last_days_text(const WorkForecast *forecast, const Style *style, GString *out);
