/* The figures that pictures are drawn from: the boat solved finely, then set out as plain data of result/picture. */
#pragma once

#include "checks/solve.h"

typedef struct Figure Figure;

/* The boat solved once, for any number of pictures. Nothing in it changes once it is made: several threads may take figures
 * from it at once. The boat must outlive the set, and the set its figures. */
typedef struct FigureSet FigureSet;
FigureSet *figure_set_new(const SolveInput *input);
void figure_set_free(FigureSet *set);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(FigureSet, figure_set_free)

/* As figure_new, from a set. */
Figure *figure_from(const FigureSet *set, const char *picture, char **why_not);

/* picture is a name of draw/pictures.def. NULL and *why_not (a sentence, g_free) when the boat does not give it. The boat must
 * outlive the figure. */
Figure *figure_new(const char *picture, const SolveInput *input, char **why_not);
void figure_free(Figure *figure);
const void *figure_data(const Figure *figure); /* the struct that belongs to the picture */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Figure, figure_free)
