/* Bilged box barge. Invariant: the volume displaced is the same before and after. */
#include "physics/afloat/box_bilged.h"

#include "physics/domain.h"

#define BOOK                                                                                       \
    "Barrass and Derrett, Ship Stability for Masters and Mates, 5th ed., bilging chapter; "        \
    "docs/methods/float.md 10.2"
const Method box_bilged_draught_method = {
    "Draught of a bilged box", "T1 = T * L / (L - mu * l)", {BOOK, STANDING_READ}};
const Method box_bilged_bm_method = {"Metacentric radius of a bilged box",
                                     "BM = (L - mu * l) * B^2 / (12 * L * T)",
                                     {BOOK, STANDING_READ}};

Validity
box_bilged(double length_m, double beam_m, double draught_m, double compartment_m,
           double permeability_frac, double vcg_m, BoxBilged *out)
{
    *out = (BoxBilged){NAN, NAN, NAN, NAN, NAN};
    if (!is_positive(length_m) || !is_positive(beam_m) || !is_positive(draught_m) ||
        !is_positive(compartment_m) || !(compartment_m < length_m) ||
        !is_positive(permeability_frac) || !(permeability_frac <= 1.0) ||
        !(is_number(vcg_m) || isnan(vcg_m)))
        return REFUSED;
    double left = length_m - permeability_frac * compartment_m;
    out->draught_m = draught_m * length_m / left;
    out->rise_m = out->draught_m - draught_m;
    out->bm_m = left * beam_m * beam_m / (12.0 * length_m * draught_m);
    out->km_m = 0.5 * out->draught_m + out->bm_m;
    out->gm_m = out->km_m - vcg_m;
    return VALID;
}
