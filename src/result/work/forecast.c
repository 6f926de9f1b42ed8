/* Life of a forecast.
 *
 * Invariant: every array and text of a forecast is freed with it. */
#include "result/work/forecast.h"

WorkForecast *
work_forecast_new(const WorkPlan *plan)
{
    WorkForecast *forecast = g_new0(WorkForecast, 1);
    forecast->plan = plan;
    forecast->kept = work_kept_new();
    return forecast;
}

void
work_forecast_free(WorkForecast *forecast)
{
    if (forecast == NULL)
        return;
    work_plan_free(forecast->own);
    work_kept_clear(&forecast->kept);
    g_free(forecast);
}

void *
work_forecast_block(WorkForecast *forecast, size_t n, size_t size)
{
    return work_kept_block(&forecast->kept, n, size);
}

const char *
work_forecast_text(WorkForecast *forecast, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    const char *text = work_kept_text(&forecast->kept, format, args);
    va_end(args);
    return text;
}
