/* Figures of a loaded boat: those of the work need a study first. */
#include "app/loaded_figure.h"

#include "study/work_forecast.h"

Figure *
loaded_figure(const Loaded *loaded, FigureSet *set, const PictureInfo *info, const char *record,
              WorkForecast **forecast, char **why_not)
{
    *forecast = NULL;
    if (!figure_needs_forecast(info->name))
        return figure_from(set, info->name, record, why_not);
    PlanText text = loaded_text(loaded);
    *forecast = work_forecast_find(&loaded->input, &text, &(ForecastAsked){.brief = true}, NULL);
    return figure_from_forecast(set, info->name, *forecast, why_not);
}
