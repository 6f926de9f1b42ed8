/* Invented figures for every picture: a plain one, a crowded one, one with gaps and one with hostile texts. No real boat. */
#pragma once

#include "draw/draw.h"

typedef enum { FIGURE_PLAIN, FIGURE_CROWDED, FIGURE_GAPS, FIGURE_HOSTILE, FIGURES } FigureKind;

/* The struct that belongs to the picture's name; freed at the end of the process. */
const void *figure_of(const char *picture, FigureKind kind);
