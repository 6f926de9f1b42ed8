/* Filling the pictures of the afloat discipline. */
#pragma once

#include "checks/afloat/answers.h"

typedef struct {
    GPtrArray *blocks; /* everything the picture points at */
    Afloat *afloat;
    const char *stage; /* in words */
} FigureStore;

void *figure_block(FigureStore *store, gsize size); /* zeroed */
const char *figure_text(FigureStore *store, const char *format, ...) G_GNUC_PRINTF(2, 3);
const char *figure_case_words(FigureStore *store, const Case *c);
const char *figure_caption(FigureStore *store, const Case *c);
/* The uncrowded case in which the lowest opening stands lowest, else the governing one; NULL when she does not float. */
const Case *figure_case(const Afloat *afloat);

/* Each gives the picture's struct, or NULL when the boat does not. */
void *figure_arrangement(FigureStore *store);
void *figure_righting_lever(FigureStore *store);
void *figure_weight_plan(FigureStore *store);
void *figure_heeled_section(FigureStore *store);
void *figure_hydrostatic_curves(FigureStore *store);
void *figure_sectional_areas(FigureStore *store);
void *figure_cross_curves(FigureStore *store);
