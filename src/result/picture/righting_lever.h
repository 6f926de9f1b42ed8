/* The curve of righting levers with what is read from it, and the wind where a rule asks for it. */
#pragma once

#include "result/picture/parts.h"

typedef struct {
    const char *caption, *situation;
    size_t n;
    /* [n], heel ascending, - to port, + to starboard. The lever is positive when it turns her to
     * port: a boat that rights herself has gz > 0 at heel > 0 and gz < 0 at heel < 0. gz NAN: none
     * found. */
    const double *heel_rad, *gz_m;
    const double *gz_spread_m; /* [n] or NULL: drawn as a band */
    double list_rad;           /* where she rests */
    double gm_m;               /* slope at rest: drawn as the tangent to one radian */
    double max_rad, max_m; /* greatest lever on the worse side; max_rad carries that side's sign */
    double vanishing_rad;  /* signed like max_rad; NAN: past the end of the curve */
    double flooding_rad;   /* signed; NAN: none within the curve */
    const char *flooding_path, *flooding_name; /* the opening that goes under first */
    double deck_edge_rad;                      /* signed; NAN: not wanted */
    bool areas; /* shade to 30 deg, and from there to 40 deg or to flooding, on the worse side */
    double area_30, area_30_40;        /* m rad; NAN: not said */
    double wind_steady_m, wind_gust_m; /* levers of the weather criterion; NAN: it does not apply */
    double roll_back_rad;              /* signed: where the roll to windward ends; NAN: none */
} RightingLeverPicture;
