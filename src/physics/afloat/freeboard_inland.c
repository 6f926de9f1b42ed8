/* Inland freeboard. Invariant: houses and sheer only ever lower what is asked. */
#include "physics/afloat/freeboard_inland.h"

#include "physics/domain.h"

#define RULE                                                                                       \
    "Directive 2006/87/EC Annex II 4.02, carried into ES-TRIN art. 4; docs/methods/float.md 5.6"
const Method freeboard_inland_plain_method = {
    "Freeboard without sheer or houses", "F = 0.15", {RULE, STANDING_READ}};
const Method freeboard_inland_method = {
    "Freeboard with sheer and houses",
    "F = max(0, 0.15 * (1 - alpha) - (beta_v * S_ev + beta_a * S_ea) / 15)",
    {RULE " (formulas as remembered)", STANDING_MEMORY}};

/* Length of a house that counts. */
static double
effective_m(const Superstructure *house, double beam)
{
    double ratio = house->breadth_m / beam;
    if (ratio < 0.6)
        return 0.0;
    return house->length_m * (2.5 * fmin(ratio, 1.0) - 1.5) * fmin(house->height_m, 0.36) / 0.36;
}

Validity
freeboard_inland(double length_m, double beam_m, size_t n, const Superstructure house[],
                 double sheer_fwd_m, double sheer_aft_m, double quarter_fwd_m, double quarter_aft_m,
                 InlandFreeboard *out)
{
    *out = (InlandFreeboard){NAN, NAN, NAN, NAN, NAN, NAN};
    if (!is_positive(length_m) || !is_positive(beam_m) || !is_not_negative(sheer_fwd_m) ||
        !is_not_negative(sheer_aft_m) || !is_not_negative(quarter_fwd_m) ||
        !is_not_negative(quarter_aft_m))
        return REFUSED;
    double counts[3] = {0.0, 0.0, 0.0};
    for (size_t i = 0; i < n; i++) {
        if (!is_positive(house[i].length_m) || !is_positive(house[i].breadth_m) ||
            !is_positive(house[i].height_m))
            return REFUSED;
        counts[house[i].place] += effective_m(&house[i], beam_m);
    }
    const double L = length_m;
    out->alpha = (counts[PLACE_AFT] + counts[PLACE_MID] + counts[PLACE_FORE]) / L;
    out->beta_fwd = 1.0 - 3.0 * counts[PLACE_FORE] / L;
    out->beta_aft = 1.0 - 3.0 * counts[PLACE_AFT] / L;
    out->sheer_fwd_m = fmin(sheer_fwd_m, 1.0) * fmin(1.0, 4.0 * quarter_fwd_m / L);
    out->sheer_aft_m = fmin(sheer_aft_m, 0.5) * fmin(1.0, 4.0 * quarter_aft_m / L);
    double fwd = out->beta_fwd * out->sheer_fwd_m,
           aft = fmin(out->beta_aft * out->sheer_aft_m, fwd);
    out->freeboard_m = fmax(0.0, 0.15 * (1.0 - out->alpha) - (fwd + aft) / 15.0);
    return out->alpha > 1.0 || out->beta_fwd < 0.0 || out->beta_aft < 0.0 ? EXTRAPOLATED : VALID;
}
