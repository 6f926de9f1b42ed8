/* Lever of the keel point (KN) against displacement, one curve a heel: GZ = KN - KG sin(heel). */
#pragma once

#include "result/picture/parts.h"

typedef struct {
    const char *caption;
    size_t heels, masses;
    const double *heel_rad; /* [heels], ascending, to starboard */
    const double *mass_kg;  /* [masses], ascending */
    const double *kn_m;     /* [heels * masses], heel by heel; NAN where there is none */
    double present_mass_kg, present_kg_m; /* kg_m: height of G above z = 0 */
} CrossCurvesPicture;
