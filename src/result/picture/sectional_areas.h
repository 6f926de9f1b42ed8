/* Under-water section area along the length, at the water line she lies at. */
#pragma once

#include "result/picture/parts.h"

typedef struct {
    const char *caption, *situation;
    size_t n;
    const double *x_m, *area_m2; /* [n], aft to forward */
    double lcb_m, lcg_m;
    double waterline_aft_m, waterline_fwd_m;
    double volume_m3; /* area under the curve */
} SectionalAreasPicture;
