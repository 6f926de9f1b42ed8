/* Lever for another centre of gravity. Invariant: nothing changes when the centre does not. */
#include "physics/afloat/lever_shift.h"

#include <math.h>

const Method lever_shift_method = {
    "Lever for another centre of gravity",
    "GZ_2 = GZ_1 - (KG_2 - KG_1) * sin(heel) + (y_2 - y_1) * cos(heel)",
    {"Barrass and Derrett, Ship Stability for Masters and Mates, 5th ed., p. 168; "
     "docs/methods/float.md 2.8",
     STANDING_READ}};

double
lever_shift_m(double gz_m, double heel_rad, double vcg_old_m, double vcg_new_m, double tcg_old_m,
              double tcg_new_m)
{
    return gz_m - (vcg_new_m - vcg_old_m) * sin(heel_rad) + (tcg_new_m - tcg_old_m) * cos(heel_rad);
}
