/* The figures that pictures are drawn from: the boat solved finely, then set out as plain data of result/picture. */
#pragma once

#include "checks/solve.h"
#include "result/work/forecast.h"

typedef struct Figure Figure;

/* The boat solved once, for any number of pictures. Several threads may take figures from it at once: what is reckoned finer for
 * some pictures is reckoned when the first of them is asked for. The boat must outlive the set, and the set its figures. */
typedef struct FigureSet FigureSet;
FigureSet *figure_set_new(const SolveInput *input);
/* As solve, and what it put together is kept for pictures; the result must outlive the set. */
Result *solve_with_figures(const SolveInput *input, FigureSet **set);
void figure_set_free(FigureSet *set);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(FigureSet, figure_set_free)

/* As figure_new, from a set. */
Figure *figure_from(FigureSet *set, const char *picture, const char *record, char **why_not);
/* Pictures of the work that show when: a study makes the forecast. */
bool figure_needs_forecast(const char *picture);
/* One of them; forecast must outlive it. */
Figure *figure_from_forecast(FigureSet *set, const char *picture, const WorkForecast *forecast,
                             char **why_not);
/* The things of which a picture shows one, in the order of the file: const Record *, borrowed from the boat. Empty for other
 * pictures. g_ptr_array_unref. */
GPtrArray *figure_records(FigureSet *set, const char *picture);

/* picture is a name of draw/pictures.def; record the id of the one thing it is to show, NULL: the worst. NULL and *why_not (a
 * sentence, g_free) when the boat does not give it. The boat must outlive the figure. */
Figure *figure_new(const char *picture, const char *record, const SolveInput *input,
                   char **why_not);
void figure_free(Figure *figure);
const void *figure_data(const Figure *figure); /* the struct that belongs to the picture */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Figure, figure_free)
