/* Docking by handbook. Invariant: methods a and b give the same righting moment. */
#include "physics/afloat/docking.h"

#include "physics/domain.h"

#define BOOK                                                                                       \
    "Barrass and Derrett, Ship Stability for Masters and Mates, 5th ed., p. 247-249; "             \
    "docs/methods/float.md 10.1"
const Method docking_reaction_method = {
    "What the blocks bear", "R = MCT * t / l + TPC * fall", {BOOK, STANDING_READ}};
const Method docking_loss_a_method = {
    "Loss of GM, for the whole displacement", "loss_a = R * KM / D", {BOOK, STANDING_READ}};
const Method docking_loss_b_method = {
    "Loss of GM, for the mass still afloat", "loss_b = R * KG / (D - R)", {BOOK, STANDING_READ}};
const Method box_on_block_method = {"Depth at which a box on a narrow block loses her stability",
                                    "d = sqrt(2 * (T * KG - B^2 / 12))",
                                    {"docs/methods/float.md 10.1", STANDING_DERIVED}};

Validity
docking(double mass_kg, double km_m, double vcg_m, double mct_kgm_per_m, double trim_m,
        double contact_to_lcf_m, double tpc_kg_per_m, double fall_m, double free_surface_kgm,
        Docking *out)
{
    *out = (Docking){NAN, NAN, NAN, NAN, NAN};
    if (!is_positive(mass_kg) || !is_positive(km_m) || !is_number(vcg_m) || !is_number(trim_m) ||
        !is_not_negative(tpc_kg_per_m) || !is_not_negative(fall_m) ||
        !is_not_negative(free_surface_kgm))
        return REFUSED;
    double R = tpc_kg_per_m * fall_m;
    if (trim_m != 0.0) {
        if (!is_positive(mct_kgm_per_m) || !is_number(contact_to_lcf_m) || contact_to_lcf_m == 0.0)
            return REFUSED;
        R += mct_kgm_per_m * trim_m / contact_to_lcf_m;
    }
    if (!(R >= 0.0 && R < mass_kg))
        return REFUSED;
    double left = mass_kg - R;
    out->reaction_kg = R;
    out->loss_a_m = R * km_m / mass_kg;
    out->loss_b_m = R * vcg_m / left;
    out->gm_a_m = km_m - vcg_m - out->loss_a_m - free_surface_kgm / mass_kg;
    out->gm_b_m = km_m - vcg_m - out->loss_b_m - free_surface_kgm / left;
    return VALID;
}

Validity
box_on_block(double beam_m, double draught_m, double vcg_m, BoxOnBlock *out)
{
    *out = (BoxOnBlock){NAN, NAN};
    if (!is_positive(beam_m) || !is_positive(draught_m) || !is_number(vcg_m))
        return REFUSED;
    double gm = 0.5 * draught_m + beam_m * beam_m / (12.0 * draught_m) - vcg_m;
    double square = 2.0 * (draught_m * vcg_m - beam_m * beam_m / 12.0);
    if (!(gm > 0.0) || !(square > 0.0))
        return REFUSED;
    *out = (BoxOnBlock){gm, sqrt(square)};
    return VALID;
}
