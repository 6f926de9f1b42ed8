/* Filling the pictures of the afloat discipline. */
#pragma once

#include "checks/afloat/answers.h"
#include "checks/figure_store.h"
#include "result/picture/parts.h"

const char *figure_case_words(FigureStore *store, const Case *c);
const char *figure_caption(FigureStore *store, const Case *c);
/* The uncrowded case in which the lowest opening stands lowest, else the governing one; NULL when she does not float. */
const Case *figure_case(const Afloat *afloat);

/* Parts that several pictures share. */
Lie figure_lie(const Case *c);
HalfSection figure_section(FigureStore *store, double x_m); /* of the joined hull */
SideOutline figure_outline(FigureStore *store);
/* The deck from above, half of it, aft to forward; 0 points where the hull is not known. */
void figure_deck(FigureStore *store, size_t *n, const double **x_m, const double **y_m);
const char *figure_words(FigureStore *store, const Record *record,
                         const char *what); /* what, or its id in words */
Block figure_box(const char *path, const char *name, const Range *along, const Range *across,
                 const Range *height);
const Block *figure_houses(FigureStore *store, size_t *n);
const OpeningMark *figure_openings(FigureStore *store, const Case *c, size_t *n);

/* Each gives the picture's struct, or NULL when the boat does not. */
void *figure_arrangement(FigureStore *store);
void *figure_righting_lever(FigureStore *store);
void *figure_weight_plan(FigureStore *store);
void *figure_heeled_section(FigureStore *store);
void *figure_hydrostatic_curves(FigureStore *store);
void *figure_sectional_areas(FigureStore *store);
void *figure_cross_curves(FigureStore *store);
void *figure_stations(FigureStore *store);
void *figure_readings(FigureStore *store);
void *figure_slings(FigureStore *store);
void *figure_flooded_profile(FigureStore *store);
void *figure_plans(FigureStore *store);
