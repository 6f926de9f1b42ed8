/* Life of a forecast.
 *
 * Invariant: every array and text of a forecast is freed with it. */
#include "result/work/forecast.h"

WorkForecast *
work_forecast_new(const WorkPlan *plan)
{
    WorkForecast *forecast = g_new0(WorkForecast, 1);
    forecast->plan = plan;
    forecast->blocks = g_ptr_array_new_with_free_func(g_free);
    forecast->texts = g_string_chunk_new(4096);
    return forecast;
}

void
work_forecast_free(WorkForecast *forecast)
{
    if (forecast == NULL)
        return;
    work_plan_free(forecast->own);
    g_ptr_array_unref(forecast->blocks);
    g_string_chunk_free(forecast->texts);
    g_free(forecast);
}

void *
work_forecast_block(WorkForecast *forecast, size_t n, size_t size)
{
    void *block = g_malloc0_n(MAX(n, 1), size);
    g_ptr_array_add(forecast->blocks, block);
    return block;
}

const char *
work_forecast_text(WorkForecast *forecast, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    g_autofree char *text = g_strdup_vprintf(format, args);
    va_end(args);
    return g_string_chunk_insert_const(forecast->texts, text);
}
