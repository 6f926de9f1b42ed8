/* Sheltered, coastal and open waters: small-craft limits by length and category (as remembered), and 46 CFR wind and people. */
#include <math.h>

#include "checks/afloat/limits.h"
#include "checks/afloat/wind.h"
#include "checks/afloat/workings.h"
#include "physics/afloat/cfr.h"
#include "physics/afloat/smallcraft.h"

static const char *const cautions[] = {"AF1", "AF3", NULL};

typedef struct {
    DesignCategory category;
    CfrWaters cfr;
    const char *words;
} Exposure;

static bool
exposure_of(const Afloat *afloat, Exposure *out)
{
    switch (afloat->vessel->waters) {
    case WATERS_SHELTERED:
        *out = (Exposure){CATEGORY_D, WATERS_PROTECTED, "sheltered waters"};
        return true;
    case WATERS_COASTAL:
        *out = (Exposure){CATEGORY_C, WATERS_PARTIALLY_PROTECTED, "coastal waters"};
        return true;
    case WATERS_OPEN_SEA:
        *out = (Exposure){CATEGORY_A, WATERS_EXPOSED, "the open sea"};
        return true;
    default:
        return false;
    }
}

/* The limits are written for motor craft of 6 to 24 m; what lies outside is marked, not left out. */
static Validity
limits_of(const Afloat *afloat, SmallcraftLimits *limits)
{
    Exposure exposure;
    if (afloat->hull == NULL || afloat->cases->len == 0 || !exposure_of(afloat, &exposure))
        return REFUSED;
    Validity validity = smallcraft_limits(afloat->length_m, exposure.category, limits);
    if (validity == VALID && afloat->vessel->kind == KIND_SAILING_YACHT)
        return EXTRAPOLATED;
    return validity;
}

static const Case *
most_heeled(const Afloat *afloat)
{
    const Case *most = NULL;
    for (guint i = 0; i < afloat->cases->len; i++) {
        const Case *c = g_ptr_array_index(afloat->cases, i);
        if (case_floats(c) && c->crowded &&
            (most == NULL || fabs(c->rest.at.heel_rad) > fabs(most->rest.at.heel_rad)))
            most = c;
    }
    return most;
}

/* ---- offset load ---- */

static void run_offset(const Afloat *afloat, Result *result);
const Check check_offset_load = {{"afloat", "offset-load",
                                  "How far does she heel with everybody along one side?", LINE_SINK,
                                  cautions},
                                 run_offset};

static void
run_offset(const Afloat *afloat, Result *result)
{
    SmallcraftLimits limits;
    Validity validity = limits_of(afloat, &limits);
    const Case *c = validity == REFUSED ? NULL : most_heeled(afloat);
    if (c == NULL)
        return;
    double value, spread;
    Working *w = working_of_list(afloat, c, result, &value, &spread);
    working_reckon(w, "lean", "heel without its sign", "abs(phi)", fabs(value), Q_ANGLE, spread,
                   &source_rest);
    working_validity_is(w, validity);
    Rule rule = rule_reckoned(afloat, "offset-load", limits.offset_heel_rad, Q_ANGLE,
                              &smallcraft_source, result);
    Finding *f = result_judge(result, &check_offset_load.info, NULL, "", LEVEL_FAULT, w,
                              fabs(value), spread, AT_MOST, rule.value, Q_ANGLE, &rule.source);
    finding_text(result, f,
                 "With everybody along one side she heels {value} ({situation}); {limit} is "
                 "allowed at her length",
                 NULL);
    finding_situation(result, f, case_title(result, c));
    finding_lever(result, f, "items", LEVER_ADD_BALLAST, NAN, NAN);
}

/* ---- height of openings ---- */

static void run_height(const Afloat *afloat, Result *result);
const Check check_downflooding_height = {{"afloat", "downflooding-height",
                                          "Do openings stand as high as small-craft rules ask?",
                                          LINE_INSURABLE, cautions},
                                         run_height};

static void
judge_height(const Afloat *afloat, const Inlet *inlet, const char *record, Validity validity,
             const SmallcraftLimits *limits, Result *result)
{
    double value, spread;
    const Case *c = afloat_lowest(afloat, inlet);
    Working *w = working_of_inlet(afloat, c, inlet, result, &value, &spread);
    working_validity_is(w, validity);
    Rule rule = rule_reckoned(afloat, "downflooding-height", limits->opening_height_m, Q_LENGTH,
                              &smallcraft_source, result);
    Finding *f = result_judge(result, &check_downflooding_height.info, record, inlet->path,
                              value <= 0.0 ? LEVEL_DANGER : LEVEL_FAULT, w, value, spread, AT_LEAST,
                              rule.value, Q_SMALL_LENGTH, &rule.source);
    finding_text(result, f,
                 record != NULL ? "{about} stands {value} above the water ({situation}); "
                                  "small-craft rules ask {limit} at her length"
                                : "The lowest of the other openings, {about}, stands {value} above "
                                  "the water ({situation}); small-craft "
                                  "rules ask {limit} at her length",
                 NULL);
    finding_named(result, f, inlet_words(result, inlet));
    finding_situation(result, f, case_title(result, c));
    finding_explained_by_opening(result, f, inlet);
    if (inlet->record != NULL)
        finding_lever(result, f, result_text(result, "%s.height", inlet->path), LEVER_MORE, NAN,
                      NAN);
}

/* One finding for every opening that is too low, and one for the lowest of the rest. */
static void
run_height(const Afloat *afloat, Result *result)
{
    SmallcraftLimits limits;
    Validity validity = limits_of(afloat, &limits);
    if (validity == REFUSED)
        return;
    Rule rule = rule_reckoned(afloat, "downflooding-height", limits.opening_height_m, Q_LENGTH,
                              &smallcraft_source, result);
    const Inlet *rest = NULL;
    double rest_m = INFINITY;
    for (guint i = 0; i < afloat->inlets->len; i++) {
        const Inlet *inlet = &g_array_index(afloat->inlets, Inlet, i);
        const Case *c = inlet_floods(inlet) ? afloat_lowest(afloat, inlet) : NULL;
        double height = c != NULL ? inlet_height_m(inlet, c) : INFINITY;
        if (height < rule.value) {
            judge_height(afloat, inlet, inlet->id, validity, &limits, result);
        } else if (height < rest_m) {
            rest_m = height;
            rest = inlet;
        }
    }
    if (rest != NULL)
        judge_height(afloat, rest, NULL, validity, &limits, result);
}

/* ---- heel at which water comes in ---- */

static void run_angle(const Afloat *afloat, Result *result);
const Check check_downflooding_angle = {{"afloat", "downflooding-angle",
                                         "How far may she heel before water comes in?", LINE_SINK,
                                         cautions},
                                        run_angle};

static void
run_angle(const Afloat *afloat, Result *result)
{
    SmallcraftLimits limits;
    Validity validity = limits_of(afloat, &limits);
    if (validity == REFUSED || !isfinite(afloat->flooding_rad))
        return;
    double value, spread;
    Working *w = working_of_flooding(afloat, result, &value, &spread);
    working_validity_is(w, validity);
    Rule rule = rule_reckoned(afloat, "downflooding-angle", limits.flooding_rad, Q_ANGLE,
                              &smallcraft_source, result);
    Finding *f =
        result_judge(result, &check_downflooding_angle.info, NULL, afloat->flooding_inlet->path,
                     LEVEL_FAULT, w, value, spread, AT_LEAST, rule.value, Q_ANGLE, &rule.source);
    finding_text(
        result, f,
        "Water comes in through {about} at {value} of heel ({situation}); {limit} is asked", NULL);
    finding_named(result, f, inlet_words(result, afloat->flooding_inlet));
    finding_situation(result, f, case_title(result, afloat->governing));
    if (afloat->flooding_inlet->record != NULL)
        finding_lever(result, f, result_text(result, "%s.height", afloat->flooding_inlet->path),
                      LEVER_MORE, NAN, NAN);
    finding_explained_by_opening(result, f, afloat->flooding_inlet);
}

/* ---- GM against wind ---- */

static void run_wind(const Afloat *afloat, Result *result);
const Check check_wind_gm = {
    {"afloat", "wind-gm", "Is she stiff enough for the wind on her side?", LINE_SINK, cautions},
    run_wind};

static void
run_wind(const Afloat *afloat, Result *result)
{
    static const Source side = {"side view, docs/methods/float.md 5.7", STANDING_DERIVED};
    Exposure exposure;
    WindGm wind;
    const Case *c = afloat->governing;
    if (c == NULL || !exposure_of(afloat, &exposure))
        return;
    SideView view;
    case_side(afloat, c, &view);
    double arm = wind_lever_arm_m(&view), freeboard = view.least_freeboard_m;
    if (wind_gm(afloat->length_m, view.above_m2, arm, c->sum.mass_kg, freeboard, view.beam_m,
                exposure.cfr, &wind) == REFUSED)
        return;
    double value, spread;
    Working *w = working_of_gm(afloat, c, result, &value, &spread);
    working_given(w, "P", "wind pressure by length and waters, as mass on area",
                  wind.pressure_kg_per_m2, Q_MASS_PER_AREA, 0.0, BASIS_MEASURED,
                  &wind_pressure_method.source);
    working_given(w, "A", "side above water", view.above_m2, Q_AREA, 0.0, BASIS_STATED, &side);
    working_given(w, "H", "centre of that side above the centre of the side below water", arm,
                  Q_LENGTH, 0.0, BASIS_STATED, &side);
    working_given(w, "T_heel",
                  "heel the rule allows: 14 degrees, or where half the freeboard is used",
                  wind.heel_rad, Q_ANGLE, 0.0, BASIS_MEASURED, &wind_gm_method.source);
    working_reckon(w, "GM_asked", "metacentric height asked", "P * A * H / (M * tan(T_heel))",
                   wind.gm_m, Q_LENGTH, 0.0, &wind_gm_method.source);
    Rule rule =
        rule_reckoned(afloat, "wind-gm", wind.gm_m, Q_LENGTH, &wind_gm_method.source, result);
    Finding *f = result_judge(result, &check_wind_gm.info, NULL, "", LEVEL_FAULT, w, value, spread,
                              AT_LEAST, rule.value, Q_LENGTH, &rule.source);
    finding_text(result, f,
                 "Against the wind of {0} she has {value} of metacentric height ({situation}); "
                 "{limit} is asked",
                 exposure.words, NULL);
    finding_situation(result, f, case_title(result, c));
    finding_lever(result, f, "items", LEVER_ADD_BALLAST, NAN, NAN);
}

/* ---- passengers ---- */

static void run_passengers(const Afloat *afloat, Result *result);
const Check check_passengers = {{"afloat", "passengers",
                                 "Is she stiff enough for paying people crowding to one side?",
                                 LINE_INSURABLE, cautions},
                                run_passengers};

static void
run_passengers(const Afloat *afloat, Result *result)
{
    const Case *c = afloat->governing;
    double heel, asked;
    if (c == NULL || (afloat->vessel->use != USE_PASSENGERS && afloat->vessel->use != USE_HIRE))
        return;
    double offset = c->side.beam_m / 4.0, people = 85.0 * afloat->vessel->people;
    double edge = isfinite(c->side.deck_edge_rad) ? fabs(c->side.deck_edge_rad) : G_PI / 2.0;
    if (passenger_gm(people, c->sum.mass_kg, offset, edge, &heel, &asked) == REFUSED)
        return;
    double value, spread;
    Working *w = working_of_gm(afloat, c, result, &value, &spread);
    working_given(w, "W", "mass of the people, 85 kg each", people, Q_MASS, people * 10.0 / 85.0,
                  BASIS_STATED, NULL);
    working_given(w, "b", "centreline to the middle of one side's deck: a quarter of the beam",
                  offset, Q_LENGTH, 0.0, BASIS_STATED, NULL);
    working_given(w, "T_heel", "heel the rule allows: 14 degrees, or the deck edge", heel, Q_ANGLE,
                  0.0, BASIS_MEASURED, &passenger_gm_method.source);
    working_reckon(w, "GM_asked", "metacentric height asked", "W / M * 2 / 3 * b / tan(T_heel)",
                   asked, Q_LENGTH, 0.0, &passenger_gm_method.source);
    Rule rule =
        rule_reckoned(afloat, "passengers", asked, Q_LENGTH, &passenger_gm_method.source, result);
    Finding *f = result_judge(result, &check_passengers.info, NULL, "", LEVEL_FAULT, w, value,
                              spread, AT_LEAST, rule.value, Q_LENGTH, &rule.source);
    finding_text(result, f,
                 "With paying people crowding to one side {limit} of metacentric height is asked; "
                 "she has {value} ({situation})",
                 NULL);
    finding_situation(result, f, case_title(result, c));
}
