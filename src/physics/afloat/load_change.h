/* What masses that come, go or move do to a boat whose hydrostatics are known: textbook forms for
 * small changes.
 *
 *     KG' = (D KG + sum(w z)) / (D + sum w)    GM' = KM - KG' - FSM/D'    list = atan(-tcg' / GM')
 *     sinkage = sum w / TPC                     trim = sum(w (x - lcf)) / MCT
 *
 * Given    w_kg negative for what goes ashore; y to port; trim positive by the bow, over the
 * distance of the marks tpc_kg_per_m mass per depth of immersion, mct_kgm_per_m moment per length
 * of trim Gives    NAN in every field when refused Returns  VALID; REFUSED when nothing is left
 * afloat or GM' <= 0 (load_heel), or when a rate is not positive (load_trim) Source   Barrass and
 * Derrett p. 116-117, 147-148; docs/methods/float.md 1, 2.5 Checked  load-heel, load-trim in
 * tests/cases/float.csv */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double w_kg, x_m, y_m, z_m;
} LoadChange;

typedef struct {
    double mass_kg, vcg_m, tcg_m, gm_m, heel_rad;
} LoadHeel;

Validity load_heel(double mass_kg, double vcg_m, double tcg_m, double km_m, double free_surface_kgm,
                   size_t n, const LoadChange change[], LoadHeel *out);

typedef struct {
    double mass_kg, sinkage_m, trim_m, draught_aft_m, draught_fwd_m;
} LoadTrim;

Validity load_trim(double draught_aft_m, double draught_fwd_m, double length_m, double x_aft_m,
                   double lcf_m, double tpc_kg_per_m, double mct_kgm_per_m, size_t n,
                   const LoadChange change[], LoadTrim *out);

extern const Method load_gm_method, load_list_method, load_sinkage_method, load_trim_method;
