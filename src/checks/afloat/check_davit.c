/* A weight that comes at once: something on her own davit. */
#include <math.h>

#include "checks/afloat/ashore.h"
#include "checks/afloat/limits.h"
#include "checks/afloat/workings.h"
#include "physics/afloat/cfr.h"
#include "physics/afloat/davit.h"

static const char *const cautions[] = {"AF1", NULL};

static void run_davit(const Afloat *afloat, Result *result);
const Check check_davit = {
    {"afloat", "davit", "Does she bear what her own davit lifts?", LINE_SINK, cautions}, run_davit};

static void
say_no_rest(const Case *c, Result *result)
{
    Finding *f = result_say(result, &check_davit.info, NULL, "ashore", LEVEL_DANGER, NULL);
    finding_text(result, f, "With that weight on the davit she capsizes ({situation})", NULL);
    finding_situation(result, f, case_title(result, c));
}

static void
run_davit(const Afloat *afloat, Result *result)
{
    const Ashore *typed = boat_single(afloat->boat, &section_ashore)->data;
    const Case *c = ashore_case(afloat);
    if (c == NULL || !isfinite(typed->davit_load_kg) || !isfinite(typed->davit_along_m) ||
        !isfinite(typed->davit_height_m))
        return;
    HungWeight hung = {.w_kg = typed->davit_load_kg,
                       .x_m = typed->davit_along_m,
                       .y_m = typed->davit_across_m,
                       .z_m = typed->davit_height_m};
    Rest rest;
    if (davit_rest(&afloat->body, &c->load, afloat->density_kg_per_m3, &hung, &rest) == REFUSED) {
        say_no_rest(c, result);
        return;
    }
    double moment = hung.w_kg * fabs(hung.y_m), mass = c->sum.mass_kg + hung.w_kg;
    double allowed = hook_moment_kgm(mass, c->rest.gm_m, c->side.least_freeboard_m, c->side.beam_m);
    Linear gm = linear_gm(afloat, c);
    Spread s = spread_of(afloat, c, &gm, result);
    Working *w = result_working(result, "A weight on her own davit");
    working_given(w, "load", "weight at the head", hung.w_kg, Q_MASS, 0.0, BASIS_STATED, NULL);
    working_given(w, "y", "head from the centreline", fabs(hung.y_m), Q_LENGTH, 0.0, BASIS_STATED,
                  NULL);
    working_given(w, "D", "displacement with it", mass, Q_MASS, c->sum.mass_spread_kg,
                  masses_basis(c), &source_ledger);
    working_followed_is(w, true);
    working_given(w, "GM", "metacentric height (see afloat.gm)", c->rest.gm_m, Q_LENGTH, s.spread,
                  masses_basis(c), &source_upright);
    working_followed_is(w, true);
    working_given(w, "F", "least freeboard", c->side.least_freeboard_m, Q_LENGTH, 0.0,
                  BASIS_MEASURED, &source_rest);
    working_given(w, "B", "beam at the water", c->side.beam_m, Q_LENGTH, 0.0, BASIS_MEASURED,
                  &source_stations);
    working_reckon(w, "M_free", "moment up to which no lifting check is due",
                   "0.67 * D * GM * F / B", allowed, Q_MASS_MOMENT,
                   allowed * s.spread / fabs(c->rest.gm_m), &hook_moment_method.source);
    working_reckon(w, "M_hook", "moment of the hook", "load * y", moment, Q_MASS_MOMENT, 0.0,
                   &hook_moment_method.source);
    working_settles(w, s.path, s.text);
    Finding *f = result_judge(result, &check_davit.info, NULL, "ashore", LEVEL_FAULT, w, moment,
                              allowed * s.spread / fabs(c->rest.gm_m), AT_MOST, allowed,
                              Q_MASS_MOMENT, &hook_moment_method.source);
    finding_text(result, f,
                 "On the davit {0} heel her to {1} ({situation}): a moment of {value}, and "
                 "from {limit} on a lifting check is due",
                 shown(afloat, result, hung.w_kg, 0.5, Q_MASS),
                 shown(afloat, result, fabs(rest.at.heel_rad), 0.001, Q_ANGLE), NULL);
    finding_situation(result, f, case_title(result, c));
    finding_lever(result, f, "ashore.davit-load", LEVER_LESS, NAN, NAN);
}
