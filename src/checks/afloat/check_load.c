/* Weights that come at once: something on her own davit, and rain in a boat without a deck. */
#include <math.h>

#include "checks/afloat/ashore.h"
#include "checks/afloat/limits.h"
#include "checks/afloat/workings.h"
#include "physics/afloat/cfr.h"
#include "physics/afloat/davit.h"

static const char *const cautions[] = {"AF1", NULL};

/* ---- her own davit ---- */

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

/* ---- rain ---- */

static void run_rain(const Afloat *afloat, Result *result);
const Check check_rain = {
    {"afloat", "rain", "Does she stay up with a night's rain in her?", LINE_SINK, cautions},
    run_rain};

#define RAIN_M 0.05

enum { BAYS = 6 }; /* frames and thwarts keep the water from running from end to end */

/* The open hull as a row of wells: as broad as it is on the mean, from its lowest point to the lowest gunwale. */
static double
wells_of(const Afloat *afloat, Tank well[BAYS])
{
    const Loft *hull = afloat->hull;
    double plan = 0.0, low = INFINITY, rim = INFINITY;
    for (size_t s = 0; s < hull->stations; s++) {
        size_t edge = (s + 1) * hull->points - 1;
        rim = fmin(rim, hull->z_m[edge]);
        for (size_t j = 0; j < hull->points; j++)
            low = fmin(low, hull->z_m[s * hull->points + j]);
        if (s + 1 < hull->stations)
            plan += (hull->y_m[edge] + hull->y_m[edge + hull->points]) *
                    (hull->x_m[s + 1] - hull->x_m[s]);
    }
    double half = plan / afloat->length_m / 2.0, bay = afloat->length_m / BAYS;
    for (size_t i = 0; i < BAYS; i++)
        well[i] = (Tank){hull->x_m[0] + bay * (double) i,
                         hull->x_m[0] + bay * (double) (i + 1),
                         -half,
                         half,
                         low,
                         rim,
                         fmin(1.0, RAIN_M / (rim - low)),
                         1000.0};
    return plan;
}

/* The boat with the water in her, free to run from side to side. */
static Load
load_with(const Case *c, const Tank well[BAYS])
{
    Load load = c->load;
    double mx = load.mass_kg * load.lcg_m, my = load.mass_kg * load.tcg_m,
           mz = load.mass_kg * load.vcg_m;
    for (size_t i = 0; i < BAYS; i++) {
        double x, y, z, kg = tank_liquid_kg(&well[i]);
        tank_centroid(&well[i], 0.0, 0.0, &x, &y, &z);
        load.mass_kg += kg;
        mx += kg * x;
        my += kg * y;
        mz += kg * z;
    }
    load.lcg_m = mx / load.mass_kg;
    load.tcg_m = my / load.mass_kg;
    load.vcg_m = mz / load.mass_kg;
    load.tanks = BAYS;
    load.tank = well;
    return load;
}

static void
run_rain(const Afloat *afloat, Result *result)
{
    static const Source night = {
        "50 mm of rain on her own plan, self-draining not counted; judgement of this project",
        STANDING_PRACTICE};
    const Case *c = afloat->vessel->deck == VESSEL_OPEN ? ashore_case(afloat) : NULL;
    Tank well[BAYS];
    Rest wet;
    if (c == NULL)
        return;
    double plan = wells_of(afloat, well), volume = RAIN_M * plan;
    Load load = load_with(c, well);
    if (rest_find(&afloat->body, &load, afloat->density_kg_per_m3, &wet) == REFUSED) {
        Finding *f = result_say(result, &check_rain.info, NULL, "hull", LEVEL_DANGER, NULL);
        finding_text(result, f, "With a night's rain in her ({0}) she finds no position to rest",
                     shown(afloat, result, RAIN_M, 0.001, Q_SMALL_LENGTH), NULL);
        return;
    }
    SideView view;
    side_view(afloat->hull, &wet.at, 0, NULL, &view);
    Linear height = linear_height(afloat, c, view.least_freeboard_x_m, 0.0);
    Spread s = spread_of(afloat, c, &height, result);
    Working *w = result_working(result, "Rain in an open boat");
    working_given(w, "rain", "rain of a night", RAIN_M, Q_LENGTH, 0.0, BASIS_STATED, &night);
    working_given(w, "A", "her plan at the gunwale", plan, Q_AREA, 0.0, BASIS_MEASURED,
                  &source_stations);
    working_reckon(w, "v", "water in her", "rain * A", volume, Q_VOLUME, 0.0, &source_stations);
    working_given(w, "f", "least height of her side then, the water free to run",
                  view.least_freeboard_m, Q_LENGTH, s.spread, masses_basis(c), &source_rest);
    working_followed_is(w, true);
    working_settles(w, s.path, s.text);
    Rule rule = rule_of(afloat, "between-opening", result);
    Finding *f = result_judge(result, &check_rain.info, NULL, "hull",
                              view.least_freeboard_m <= 0.0 ? LEVEL_DANGER : LEVEL_FAULT, w,
                              view.least_freeboard_m, s.spread, AT_LEAST, rule.value,
                              Q_SMALL_LENGTH, &rule.source);
    finding_text(result, f,
                 "A night's rain ({0}) left in her brings the gunwale to {value} above the "
                 "water; {limit} is asked",
                 shown(afloat, result, volume, 0.005, Q_LIQUID), NULL);
    finding_situation(result, f, case_title(result, c));
}
