/* A picture of a loaded boat, with the forecast made for it where it needs one. */
#pragma once

#include "app/load.h"
#include "checks/figures.h"
#include "draw/draw.h"

/* As figure_from. *forecast (NULL where none is needed) is the caller's and must outlive the figure. */
Figure *loaded_figure(const Loaded *loaded, FigureSet *set, const PictureInfo *info,
                      const char *record, WorkForecast **forecast, char **why_not);
