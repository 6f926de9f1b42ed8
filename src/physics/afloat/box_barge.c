/* Box barge. Invariant: the wet area of the section is B T at every heel. */
#include "physics/afloat/box_barge.h"

#include "physics/domain.h"

#define SHEET "docs/methods/float.md 9.1"
const Method box_volume_method = {"Volume of a box", "V = L * B * T", {SHEET, STANDING_DERIVED}};
const Method box_bm_method = {
    "Metacentric radius of a box", "BM = B^2 / (12 * T)", {SHEET, STANDING_DERIVED}};
const Method box_lever_method = {"Righting lever of a box",
                                 "GZ = (z_B - KG) * sin(heel) - y_B * cos(heel)",
                                 {SHEET, STANDING_DERIVED}};

/* Centroid of the wet section, y towards the low side. */
static BoxPhase
wet_centroid(double b, double d, double draught, double t, double *y, double *z)
{
    double wet = b * draught, dry = b * (d - draught);
    if (draught + 0.5 * b * t <= d && draught >= 0.5 * b * t) {
        *y = b * b * t / (12.0 * draught);
        *z = 0.5 * draught + b * b * t * t / (24.0 * draught);
        return BOX_WALL_SIDED;
    }
    double up = sqrt(2.0 * dry * t), along = up / t;
    if (along <= b && up <= d) { /* a dry triangle at the high deck edge */
        *y = -dry * (along / 3.0 - 0.5 * b) / wet;
        *z = (0.5 * b * d * d - dry * (d - up / 3.0)) / wet;
        return BOX_DECK_WET;
    }
    along = sqrt(2.0 * wet / t);
    up = along * t;
    if (along <= b && up <= d) { /* a wet triangle at the low bilge */
        *y = 0.5 * b - along / 3.0;
        *z = up / 3.0;
        return BOX_BILGE_OUT;
    }
    double w = wet / d;
    *y = 0.5 * b - 0.5 * w - d * d / (24.0 * w * t * t);
    *z = 0.5 * d - d * d / (12.0 * w * t);
    return BOX_BOTH;
}

Validity
box_barge(double length_m, double beam_m, double depth_m, double draught_m, double vcg_m,
          double heel_rad, BoxBarge *box)
{
    *box = (BoxBarge){NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, BOX_WALL_SIDED};
    if (!is_positive(length_m) || !is_positive(beam_m) || !is_positive(depth_m) ||
        !is_positive(draught_m) || !(draught_m < depth_m) || !is_number(vcg_m) ||
        !(fabs(heel_rad) <= degrees(90.0) + 1e-12))
        return REFUSED;
    const double L = length_m, B = beam_m, T = draught_m;
    box->volume_m3 = L * B * T;
    box->kb_m = 0.5 * T;
    box->bm_m = B * B / (12.0 * T);
    box->bm_l_m = L * L / (12.0 * T);
    box->km_m = box->kb_m + box->bm_m;
    box->gm_m = box->km_m - vcg_m;
    box->gm_l_m = box->kb_m + box->bm_l_m - vcg_m;
    double low, heel = fabs(heel_rad);
    box->phase = wet_centroid(B, depth_m, T, fabs(tan(heel)), &low, &box->vcb_m);
    box->tcb_m = heel_rad > 0.0 ? -low : low;
    box->gz_m = (box->vcb_m - vcg_m) * sin(heel_rad) - box->tcb_m * cos(heel_rad);
    return VALID;
}
