/* What a picture is filled from, and what it owns. */
#pragma once

#include "checks/check.h"
#include "result/work/forecast.h"

typedef struct {
    GPtrArray *blocks; /* everything the picture points at */
    const Afloat *afloat;
    const Wiring *wiring;         /* of the wiring's pictures, else NULL */
    const Result *answered;       /* its answers and findings */
    const WorkPlan *work;         /* of pictures of the work, else NULL */
    const WorkForecast *forecast; /* of those that need one, else NULL */
    const Record *record;         /* the one thing that is asked for, or NULL */
    const char *stage;            /* in words */
    const char *
        why_not; /* a sentence: why there is no picture, or NULL: her shape and weights do not give it */
} FigureStore;

void *figure_block(FigureStore *store, gsize size); /* zeroed */
/* A situation of the boat file in the owner's words; else its id with blanks. */
const char *figure_situation(FigureStore *store, const Boat *boat, const char *id);
const char *figure_text(FigureStore *store, const char *format, ...) G_GNUC_PRINTF(2, 3);
