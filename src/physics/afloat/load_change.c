/* Masses that come, go or move. Invariant: moments are taken about fixed points, never about the
 * new centre. */
#include "physics/afloat/load_change.h"

#include "physics/domain.h"

#define BOOK "Barrass and Derrett, Ship Stability for Masters and Mates, 5th ed., "
const Method load_gm_method = {"Metacentric height after the change",
                               "GM = KM - KG - FSM / D",
                               {BOOK "p. 116-117", STANDING_READ}};
const Method load_list_method = {
    "List after the change", "list = atan(-TCG / GM)", {BOOK "p. 116-117", STANDING_READ}};
const Method load_sinkage_method = {
    "Sinkage", "s = sum(w) / TPC", {BOOK "p. 147-148", STANDING_READ}};
const Method load_trim_method = {"Change of trim, by the bow",
                                 "trim = sum(w * (x - LCF)) / MCT",
                                 {BOOK "p. 147-148", STANDING_READ}};

static bool
usable(size_t n, const LoadChange change[])
{
    for (size_t i = 0; i < n; i++)
        if (!is_number(change[i].w_kg) || !is_number(change[i].x_m) || !is_number(change[i].y_m) ||
            !is_number(change[i].z_m))
            return false;
    return true;
}

Validity
load_heel(double mass_kg, double vcg_m, double tcg_m, double km_m, double free_surface_kgm,
          size_t n, const LoadChange change[], LoadHeel *out)
{
    *out = (LoadHeel){NAN, NAN, NAN, NAN, NAN};
    if (!is_positive(mass_kg) || !is_number(vcg_m) || !is_number(tcg_m) || !is_number(km_m) ||
        !is_not_negative(free_surface_kgm) || !usable(n, change))
        return REFUSED;
    double m = mass_kg, up = mass_kg * vcg_m, across = mass_kg * tcg_m;
    for (size_t i = 0; i < n; i++) {
        m += change[i].w_kg;
        up += change[i].w_kg * change[i].z_m;
        across += change[i].w_kg * change[i].y_m;
    }
    if (!(m > 0.0))
        return REFUSED;
    double gm = km_m - up / m - free_surface_kgm / m;
    if (!(gm > 0.0))
        return REFUSED;
    *out = (LoadHeel){m, up / m, across / m, gm, atan(-across / m / gm)};
    return VALID;
}

Validity
load_trim(double draught_aft_m, double draught_fwd_m, double length_m, double x_aft_m, double lcf_m,
          double tpc_kg_per_m, double mct_kgm_per_m, size_t n, const LoadChange change[],
          LoadTrim *out)
{
    *out = (LoadTrim){NAN, NAN, NAN, NAN, NAN};
    if (!is_number(draught_aft_m) || !is_number(draught_fwd_m) || !is_positive(length_m) ||
        !is_number(x_aft_m) || !is_number(lcf_m) || !is_positive(tpc_kg_per_m) ||
        !is_positive(mct_kgm_per_m) || !usable(n, change))
        return REFUSED;
    double mass = 0.0, moment = 0.0;
    for (size_t i = 0; i < n; i++) {
        mass += change[i].w_kg;
        moment += change[i].w_kg * (change[i].x_m - lcf_m);
    }
    double aft_share = (lcf_m - x_aft_m) / length_m, trim = moment / mct_kgm_per_m;
    double sinkage = mass / tpc_kg_per_m;
    *out = (LoadTrim){mass, sinkage, trim, draught_aft_m + sinkage - trim * aft_share,
                      draught_fwd_m + sinkage + trim * (1.0 - aft_share)};
    return VALID;
}
