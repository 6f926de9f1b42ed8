/* Canals and rivers: freeboard, safety clearance, and heel under people and wind. */
#include <math.h>

#include "checks/afloat/limits.h"
#include "checks/afloat/wind.h"
#include "checks/afloat/workings.h"
#include "physics/afloat/freeboard_inland.h"

static const char *const cautions[] = {"AF1", "AF2", NULL};

static bool
inland(const Afloat *afloat)
{
    return afloat->vessel->waters == WATERS_CANAL || afloat->vessel->waters == WATERS_RIVER;
}

static const Case *
least_freeboard(const Afloat *afloat)
{
    const Case *least = NULL;
    for (guint i = 0; i < afloat->cases->len; i++) {
        const Case *c = g_ptr_array_index(afloat->cases, i);
        if (case_floats(c) && !c->crowded &&
            (least == NULL || c->side.least_freeboard_m < least->side.least_freeboard_m))
            least = c;
    }
    return least;
}

/* ---- freeboard ---- */

static void run_freeboard(const Afloat *afloat, Result *result);
const Check check_inland_freeboard = {{"afloat", "inland-freeboard",
                                       "Does she have the freeboard that inland rules ask?",
                                       LINE_INSURABLE, cautions},
                                      run_freeboard};

/* Sheer and houses are taken as none: they only lessen the freeboard asked, and their formulas are remembered, not read. */
static void
run_freeboard(const Afloat *afloat, Result *result)
{
    const Case *c = inland(afloat) ? least_freeboard(afloat) : NULL;
    if (c == NULL)
        return;
    double value, spread;
    Working *w = working_of_freeboard(afloat, c, result, &value, &spread);
    Rule rule = rule_of(afloat, "inland-freeboard", result);
    Finding *f = result_judge(result, &check_inland_freeboard.info, NULL, "hull",
                              value <= 0.0 ? LEVEL_DANGER : LEVEL_FAULT, w, value, spread, AT_LEAST,
                              rule.value, Q_SMALL_LENGTH, &rule.source);
    finding_text(result, f,
                 "Her deck edge stands {value} above the water ({situation}); inland rules ask "
                 "{limit} of a deck without sheer",
                 NULL);
    finding_situation(result, f, case_title(result, c));
    finding_lever(result, f, "items", LEVER_ADD_BALLAST, NAN, NAN);
}

/* ---- safety clearance ---- */

static void run_clearance(const Afloat *afloat, Result *result);
const Check check_safety_clearance = {{"afloat", "safety-clearance",
                                       "Do openings stand as high as inland rules ask?",
                                       LINE_INSURABLE, cautions},
                                      run_clearance};

static Rule
clearance_rule(const Afloat *afloat, const Inlet *inlet, Result *result)
{
    return rule_of(afloat, inlet_floods(inlet) ? "safety-clearance-open" : "safety-clearance",
                   result);
}

static void
judge_clearance(const Afloat *afloat, const Inlet *inlet, const char *record, Result *result)
{
    const Case *c = afloat_lowest(afloat, inlet);
    double value, spread;
    Working *w = working_of_inlet(afloat, c, inlet, result, &value, &spread);
    Rule rule = clearance_rule(afloat, inlet, result);
    Finding *f = result_judge(result, &check_safety_clearance.info, record, inlet->path,
                              value <= 0.0 ? LEVEL_DANGER : LEVEL_FAULT, w, value, spread, AT_LEAST,
                              rule.value, Q_SMALL_LENGTH, &rule.source);
    finding_text(
        result, f,
        record == NULL ? "Of the other openings {about} comes nearest to what inland rules ask: "
                         "{value} above the water "
                         "({situation}), {limit} asked"
        : inlet_floods(inlet)
            ? "{about} stands {value} above the water ({situation}); inland rules ask {limit} of "
              "what does not close spray-tight"
            : "{about} stands {value} above the water ({situation}); inland rules ask {limit}",
        NULL);
    finding_named(result, f, inlet_words(result, inlet));
    finding_situation(result, f, case_title(result, c));
    if (inlet->record != NULL) {
        finding_lever(result, f, result_text(result, "%s.height", inlet->path), LEVER_MORE, NAN,
                      NAN);
        finding_lever(result, f, result_text(result, "%s.closes", inlet->path), LEVER_CHOICE, NAN,
                      NAN);
    }
    finding_explained_by_opening(result, f, inlet);
}

/* One finding for every opening that is too low, and one for the nearest of the rest. */
static void
run_clearance(const Afloat *afloat, Result *result)
{
    const Inlet *rest = NULL;
    double rest_m = INFINITY;
    if (!inland(afloat))
        return;
    for (guint i = 0; i < afloat->inlets->len; i++) {
        const Inlet *inlet = &g_array_index(afloat->inlets, Inlet, i);
        const Case *c = afloat_lowest(afloat, inlet);
        bool deck = inlet->edge && afloat->vessel->deck !=
                                       VESSEL_OPEN; /* no opening listed: check_openings says so */
        if (c == NULL || deck || inlet->closes == CLOSES_WATERTIGHT)
            continue;
        double left = inlet_height_m(inlet, c) - clearance_rule(afloat, inlet, result).value;
        if (left < 0.0) {
            judge_clearance(afloat, inlet, inlet->id, result);
        } else if (left < rest_m) {
            rest_m = left;
            rest = inlet;
        }
    }
    if (rest != NULL)
        judge_clearance(afloat, rest, NULL, result);
}

/* ---- heel under people and wind ---- */

static void run_wind(const Afloat *afloat, Result *result);
const Check check_wind_heel = {{"afloat", "wind-heel",
                                "How far do people at the side and wind together heel her?",
                                LINE_SINK, cautions},
                               run_wind};

static const Case *
most_crowded(const Afloat *afloat)
{
    const Case *most = NULL;
    for (guint i = 0; i < afloat->cases->len; i++) {
        const Case *c = g_ptr_array_index(afloat->cases, i);
        if (case_floats(c) &&
            (most == NULL || fabs(c->rest.at.heel_rad) > fabs(most->rest.at.heel_rad)))
            most = c;
    }
    return most;
}

static void
wind_steps(Working *w, const SideView *view, double pressure, double lever)
{
    static const Source side = {"side view, docs/methods/float.md 5.2", STANDING_DERIVED};
    working_given(w, "A", "side above water", view->above_m2, Q_AREA, 0.0, BASIS_STATED, &side);
    working_given(w, "Z", "centre of that side above the centre of the side below water",
                  wind_lever_arm_m(view), Q_LENGTH, 0.0, BASIS_STATED, &side);
    working_given(w, "P", "wind pressure of the rule", pressure, Q_PRESSURE, 0.0, BASIS_STATED,
                  NULL);
    working_reckon(w, "l_w", "heeling lever of the wind", "P * A * Z / (9.80665 * M)", lever,
                   Q_LENGTH, 0.0, &side);
}

static void
run_wind(const Afloat *afloat, Result *result)
{
    const Case *c = inland(afloat) ? most_crowded(afloat) : NULL;
    if (c == NULL)
        return;
    Rule rule = rule_of(afloat, "wind-heel", result),
         pressure = rule_of(afloat, "wind-heel-pressure", result);
    SideView view;
    case_side(afloat, c, &view);
    double lever =
        pressure.value * view.above_m2 * wind_lever_arm_m(&view) / (9.80665 * c->sum.mass_kg);
    int side = c->rest.at.heel_rad < 0.0 ? -1 : 1;
    Attitude at;
    double heel = heel_under_lever_rad(afloat, c, lever, side, &at);
    Working *w = result_working(result, "Heel under people at the side and wind");
    if (isnan(heel)) {
        Finding *f = result_say(result, &check_wind_heel.info, NULL, "", LEVEL_DANGER, w);
        finding_text(
            result, f,
            "People at the side and a wind on it lay her over more than 60 degrees ({situation})",
            NULL);
        finding_situation(result, f, case_title(result, c));
        return;
    }
    working_at(w, afloat, c, &at);
    wind_steps(w, &view, pressure.value, lever);
    working_people(w, afloat, c);
    Linear list = linear_list(afloat, c), gm = linear_gm(afloat, c);
    double gm_share = spread_of(afloat, c, &gm, NULL).spread / fabs(c->rest.gm_m);
    Spread s = spread_of(afloat, c, &list, result);
    double spread = hypot(s.spread, gm_share * fabs(heel - fabs(c->rest.at.heel_rad)));
    working_found(w, "heel", "heel at which her righting lever equals it, starboard down +",
                  side > 0 ? "(y_G - y_B) * cos(heel) - (z_G - z_B) * sin(heel) = l_w"
                           : "(z_G - z_B) * sin(heel) - (y_G - y_B) * cos(heel) = l_w",
                  at.heel_rad, Q_ANGLE, spread, &source_levers, VALID);
    working_found_trim_depth(w, &at);
    working_reckon(w, "phi", "heel without its sign", "abs(heel)", heel, Q_ANGLE, spread,
                   &source_levers);
    working_settles(w, s.path, s.text);
    Finding *f = result_judge(result, &check_wind_heel.info, NULL, "", LEVEL_FAULT, w, heel, spread,
                              AT_MOST, rule.value, Q_ANGLE, &rule.source);
    finding_text(result, f,
                 "People at the side and wind on it heel her {value} ({situation}, turning not "
                 "counted); {limit} is allowed",
                 NULL);
    finding_situation(result, f, case_title(result, c));
    finding_lever(result, f, "items", LEVER_ADD_BALLAST, NAN, NAN);
}
