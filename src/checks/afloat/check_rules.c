/* General intact rules, weather criterion, pontoons, open boats; and whether the waters that select them are stated. */
#include <math.h>

#include "checks/afloat/limits.h"
#include "checks/afloat/wind.h"
#include "checks/afloat/workings.h"
#include "physics/afloat/freeboard_uk.h"
#include "physics/afloat/intact.h"
#include "physics/afloat/pontoon.h"

#define DEGREE (G_PI / 180.0)

static const char *const cautions[] = {"AF1", NULL};

/* ---- the waters ---- */

static void run_waters(const Afloat *afloat, Result *result);
const Check check_waters = {
    {"afloat", "waters", "Which rules of stability apply to her?", LINE_INSURABLE, cautions},
    run_waters};

static void
run_waters(const Afloat *afloat, Result *result)
{
    if (afloat->vessel->waters >= 0)
        return;
    Finding *f = result_say(result, &check_waters.info, NULL, "boat.waters", LEVEL_DOUBT, NULL);
    finding_text(
        result, f,
        "It is not said which waters she is meant for, so no rule of stability has been applied",
        NULL);
    finding_settle(result, f, "boat.waters", "choose canal, river, sheltered, coastal or open-sea");
}

/* ---- general intact rules ---- */

static void run_intact(const Afloat *afloat, Result *result);
const Check check_intact_general = {{"afloat", "intact-general",
                                     "Does her curve of righting levers meet the general rules?",
                                     LINE_INSURABLE, cautions},
                                    run_intact};

/* Area by Simpson on intervals that are each solved; the sum is the last step. */
static double
area_steps(Working *w, const Afloat *afloat, double to_rad, const char *symbol, const char *label)
{
    enum { N = 13 };
    double gz[N], weight[N], step = to_rad / (N - 1), sum = 0.0;
    for (size_t i = 0; i < N; i++) {
        gz[i] = afloat->facts_side * lever_at(afloat, afloat->facts_side * step * (double) i);
        weight[i] = i == 0 || i == N - 1 ? 1.0 : i % 2 == 1 ? 4.0 : 2.0;
        sum += weight[i] * gz[i];
    }
    working_list(w, "c", "Simpson's multipliers", N, weight, NULL, Q_NONE, BASIS_MEASURED, NULL);
    working_list(w, "GZ", "righting levers at equal steps of heel, weaker side", N, gz, NULL,
                 Q_LENGTH, BASIS_MEASURED, &source_levers);
    working_given(w, "step", "step of heel", step, Q_ANGLE, 0.0, BASIS_MEASURED, NULL);
    working_reckon(w, symbol, label, "step / 3 * sum(c * GZ)", step / 3.0 * sum, Q_LEVER_AREA, 0.0,
                   &lever_area_method.source);
    return step / 3.0 * sum;
}

static Linear
plus(Linear a, Linear b, double share)
{
    return (Linear){.mass = a.mass + share * b.mass,
                    .x = a.x + share * b.x,
                    .y = a.y + share * b.y,
                    .z = a.z + share * b.z,
                    .density = a.density + share * b.density,
                    .other = a.other + share * b.other};
}

/* Change of the area under the lever with weights: Simpson over five heels. */
static Linear
area_linear(const Afloat *afloat, double from_rad, double to_rad)
{
    static const double weight[] = {1, 4, 2, 4, 1};
    Linear a = {0};
    double step = (to_rad - from_rad) / 4.0;
    for (int i = 0; i < 5; i++) {
        double heel = afloat->facts_side * (from_rad + step * i);
        Linear here = linear_lever(afloat, afloat->governing, heel, lever_per_kg(afloat, heel));
        a = plus(a, here, step / 3.0 * weight[i]);
    }
    return a;
}

static Spread
item_spread(const Afloat *afloat, IntactLimit which, Result *result)
{
    double end = fmin(40.0 * DEGREE, isfinite(afloat->flooding_rad) ? afloat->flooding_rad : G_PI);
    Linear a = {0};
    switch (which) {
    case INTACT_AREA_30:
        a = area_linear(afloat, 0.0, 30.0 * DEGREE);
        break;
    case INTACT_AREA_40:
        a = area_linear(afloat, 0.0, end);
        break;
    case INTACT_AREA_30_40:
        a = area_linear(afloat, 30.0 * DEGREE, fmax(end, 30.0 * DEGREE));
        break;
    case INTACT_AREA_PEAK:
        a = area_linear(afloat, 0.0, afloat->facts.max_rad);
        break;
    case INTACT_GM:
        a = linear_gm(afloat, afloat->governing);
        break;
    default: {
        double heel = afloat->facts_side * fmax(afloat->facts.max_rad, 30.0 * DEGREE);
        a = linear_lever(afloat, afloat->governing, heel, lever_per_kg(afloat, heel));
    }
    }
    Spread s = spread_of(afloat, afloat->governing, &a, result);
    if (which == INTACT_PEAK)
        s.spread = 5.0 * DEGREE; /* a flat peak moves easily; no closed form is claimed */
    return s;
}

static const struct {
    QuantityKind kind;
    const char *says;
} said[INTACT_N_LIMITS] = {
    [INTACT_AREA_30] = {Q_LEVER_AREA, "The area under her levers up to 30 degrees is {value} "
                                      "({situation}); the general rules ask {limit}"},
    [INTACT_AREA_40] = {Q_LEVER_AREA,
                        "The area under her levers up to 40 degrees, or till water comes in, is "
                        "{value} ({situation}); the general rules ask {limit}"},
    [INTACT_AREA_30_40] = {Q_LEVER_AREA, "Between 30 and 40 degrees the area under her levers is "
                                         "{value} ({situation}); the general rules ask {limit}"},
    [INTACT_LEVER] =
        {Q_LENGTH,
         "Her lever at 30 degrees or more is {value} ({situation}); the general rules ask {limit}"},
    [INTACT_PEAK] = {Q_ANGLE, "Her greatest lever comes at {value} ({situation}); the general "
                              "rules ask {limit} or more"},
    [INTACT_GM] =
        {Q_LENGTH,
         "Her metacentric height is {value} ({situation}); the general rules ask {limit}"},
    [INTACT_AREA_PEAK] = {Q_LEVER_AREA, "The area under her levers up to their peak is {value} "
                                        "({situation}); the rules for beamy hulls ask {limit}"},
};

static void
run_intact(const Afloat *afloat, Result *result)
{
    const LeverFacts *facts = &afloat->facts;
    if (afloat->vessel->waters != WATERS_OPEN_SEA || afloat->governing == NULL)
        return;
    IntactCurve curve = {
        facts->area_30, facts->area_40, facts->area_30_40,           facts->area_peak,
        facts->gz_30_m, facts->max_rad, afloat->governing->rest.gm_m};
    bool beamy = facts->max_rad >= 15.0 * DEGREE && facts->max_rad < 25.0 * DEGREE;
    IntactResult intact;
    if (intact_criteria(beamy ? INTACT_BEAMY : INTACT_GENERAL, &curve, &intact) == REFUSED)
        return;
    const IntactItem *worst = &intact.item[0]; /* there are always some */
    double worst_ratio = INFINITY;
    for (size_t i = 0; i < intact.n; i++) {
        double spread = item_spread(afloat, intact.item[i].which, NULL).spread;
        double ratio = (intact.item[i].value - spread) / intact.item[i].limit;
        if (!(ratio >= worst_ratio)) {
            worst_ratio = ratio;
            worst = &intact.item[i];
        }
    }
    double end =
        worst->which == INTACT_AREA_30 ? 30.0 * DEGREE
        : worst->which == INTACT_AREA_PEAK
            ? facts->max_rad
            : fmin(40.0 * DEGREE, isfinite(afloat->flooding_rad) ? afloat->flooding_rad : G_PI);
    Working *w = result_working(result, "Her curve of righting levers against the general rules");
    area_steps(w, afloat, end, "area", "area under the lever curve");
    Spread s = item_spread(afloat, worst->which, result);
    working_given(w, "value", "what the rule looks at", worst->value, said[worst->which].kind,
                  s.spread, BASIS_MEASURED, &source_levers);
    working_settles(w, s.path, s.text);
    Rule rule = rule_reckoned(afloat, result_text(result, "intact-%s", intact_word(worst->which)),
                              worst->limit, said[worst->which].kind, &worst->source, result);
    Finding *f =
        result_judge(result, &check_intact_general.info, NULL, "", LEVEL_FAULT, w, worst->value,
                     s.spread, AT_LEAST, rule.value, said[worst->which].kind, &rule.source);
    finding_text(result, f, said[worst->which].says, NULL);
    finding_situation(result, f, case_title(result, afloat->governing));
    finding_lever(result, f, "items", LEVER_ADD_BALLAST, NAN, NAN);
}

/* ---- severe wind and rolling ---- */

static void run_weather(const Afloat *afloat, Result *result);
const Check check_weather = {{"afloat", "weather",
                              "Does she survive a gust while rolling in the open sea?",
                              LINE_INSURABLE, cautions},
                             run_weather};

static void
run_weather(const Afloat *afloat, Result *result)
{
    Weather weather;
    if (afloat->vessel->waters != WATERS_OPEN_SEA || afloat->governing == NULL)
        return;
    const Case *c = afloat->governing;
    Working *w = result_working(result, "Severe wind and rolling");
    Validity validity = weather_of(afloat, &weather);
    if (validity == REFUSED || !isfinite(weather.ratio)) {
        Finding *f = result_say(result, &check_weather.info, NULL, "", LEVEL_DOUBT, NULL);
        finding_text(result, f,
                     "The rule of severe wind and rolling cannot be reckoned for her: the gust "
                     "lies above her whole curve, or she has no stiffness",
                     NULL);
        finding_settle(result, f, "items", "clear the faults of stiffness first");
        return;
    }
    SideView view;
    case_side(afloat, c, &view);
    working_given(w, "P", "wind pressure", 504.0, Q_PRESSURE, 0.0, BASIS_MEASURED,
                  &weather_lever_method.source);
    working_given(w, "A", "side above water", view.above_m2, Q_AREA, 0.0, BASIS_STATED, NULL);
    working_given(w, "Z", "centre of that side above the centre of the side below water",
                  wind_lever_arm_m(&view), Q_LENGTH, 0.0, BASIS_STATED, NULL);
    working_given(w, "m", "displacement", c->sum.mass_kg, Q_MASS, c->sum.mass_spread_kg,
                  BASIS_STATED, &source_ledger);
    working_equals(w, "l_w1", "lever of the steady wind", weather.steady_m, Q_LENGTH, 0.0,
                   &weather_lever_method);
    working_equals(w, "l_w2", "lever of the gust", weather.gust_m, Q_LENGTH, 0.0,
                   &weather_gust_method);
    working_given(w, "a", "area that rolling brings, to windward", weather.area_a, Q_LEVER_AREA,
                  0.0, BASIS_MEASURED, &source_levers);
    working_given(w, "b", "area left to leeward", weather.area_b, Q_LEVER_AREA, 0.0, BASIS_MEASURED,
                  &source_levers);
    working_equals(w, "ratio", "area left over area that rolling brings", weather.ratio, Q_NONE,
                   0.0, &weather_ratio_method);
    working_validity_is(w, afloat->length_m < 24.0 ? EXTRAPOLATED : validity);
    Rule rule = rule_reckoned(afloat, "weather", 1.0, Q_NONE, &weather_ratio_method.source, result);
    Finding *f = result_judge(result, &check_weather.info, NULL, "", LEVEL_FAULT, w, weather.ratio,
                              0.0, AT_LEAST, rule.value, Q_NONE, &rule.source);
    finding_text(result, f,
                 "Rolling in severe wind she keeps {value} times the area she needs ({situation}); "
                 "{limit} is asked, of ships of 24 m and more",
                 NULL);
    finding_situation(result, f, case_title(result, c));
}

/* ---- pontoons ---- */

static void run_pontoon(const Afloat *afloat, Result *result);
const Check check_pontoon = {
    {"afloat", "pontoon", "Does she show what a flat pontoon must?", LINE_INSURABLE, cautions},
    run_pontoon};

static void
run_pontoon(const Afloat *afloat, Result *result)
{
    Pontoon pontoon;
    const Case *c = afloat->governing;
    if (afloat->vessel->kind != KIND_PONTOON || c == NULL)
        return;
    SideView view;
    case_side(afloat, c, &view);
    double arm = view.above_height_m + mean_draught_m(afloat, c) / 2.0;
    if (pontoon_criterion(afloat->length_m, afloat->beam_m, view.least_freeboard_m, view.above_m2,
                          arm, c->sum.mass_kg, &pontoon) == REFUSED)
        return;
    Working *w = result_working(result, "Area under her levers up to their peak");
    double value = area_steps(w, afloat, afloat->facts.max_rad, "area", "area up to the peak");
    Linear a = area_linear(afloat, 0.0, afloat->facts.max_rad);
    Spread s = spread_of(afloat, c, &a, result);
    working_settles(w, s.path, s.text);
    Rule rule =
        rule_reckoned(afloat, "pontoon", pontoon.area_peak, Q_LEVER_AREA, &pontoon_source, result);
    Finding *f = result_judge(result, &check_pontoon.info, NULL, "", LEVEL_FAULT, w, value,
                              s.spread, AT_LEAST, rule.value, Q_LEVER_AREA, &rule.source);
    finding_text(result, f,
                 "The area under her levers up to their peak is {value} ({situation}); {limit} is "
                 "asked of pontoons",
                 NULL);
    finding_situation(result, f, case_title(result, c));
}

/* ---- open boats ---- */

static void run_side(const Afloat *afloat, Result *result);
const Check check_clear_side = {
    {"afloat", "clear-side", "Is the side of the open boat high enough?", LINE_SINK, cautions},
    run_side};

static void
run_side(const Afloat *afloat, Result *result)
{
    double asked;
    const Case *c = NULL;
    if (afloat->vessel->deck != VESSEL_OPEN || afloat->hull == NULL)
        return;
    for (guint i = 0; i < afloat->cases->len; i++) {
        const Case *other = g_ptr_array_index(afloat->cases, i);
        if (case_floats(other) && !other->crowded &&
            (c == NULL || other->side.least_freeboard_m < c->side.least_freeboard_m))
            c = other;
    }
    if (c == NULL || freeboard_uk(afloat->length_m, DECK_OPEN, &asked) == REFUSED)
        return;
    double value, spread;
    Working *w = working_of_freeboard(afloat, c, result, &value, &spread);
    const Source *source =
        afloat->length_m <= 7.0 ? &freeboard_uk_method.source : &freeboard_uk_open_method.source;
    Rule rule = rule_reckoned(afloat, "clear-side", asked, Q_LENGTH, source, result);
    Finding *f = result_judge(result, &check_clear_side.info, NULL, "hull",
                              value <= 0.0 ? LEVEL_DANGER : LEVEL_FAULT, w, value, spread, AT_LEAST,
                              rule.value, Q_SMALL_LENGTH, &rule.source);
    finding_text(result, f,
                 "Her open side stands {value} above the water ({situation}); {limit} is asked of "
                 "small open boats",
                 NULL);
    finding_situation(result, f, case_title(result, c));
}
