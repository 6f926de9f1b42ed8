/* Freeboards or draughts as they were read, against the plane of water that fits them. */
#pragma once

#include "result/picture/parts.h"

typedef struct {
    Spot at;           /* the point it was measured from */
    double measured_m; /* a freeboard, or a draught */
    double misfit_m;   /* the point's height above the water: measured less fitted */
    bool left_out;     /* of the fit, as a blunder */
} ReadingMark;

typedef struct {
    const char *caption;
    const char *path, *name; /* of the survey: "measured.freeboards-april" */
    bool draughts;
    SideOutline hull;
    Lie lie; /* the fitted plane */
    size_t readings;
    const ReadingMark *reading; /* [readings], in the file's order */
    double spread_m;            /* what each reading stays within, 95 %; NAN: not said */
    double rms_m;               /* of those that count */
} ReadingsPicture;
