/* What a source brings with it: too little fault current, the earth of the shore, and which pole is which. */
#include <math.h>

#include "checks/wiring/mains_workings.h"
#include "checks/wiring/workings.h"
#include "physics/wiring/breaker.h"

/* ---- too little fault current ---- */

static void run_weak(const Wiring *wiring, Result *result);
const Check check_weak_source = {{"wiring", "weak-source",
                                  "Can inverter and generator trip the breakers behind them?",
                                  LINE_BURN, mains_cautions},
                                 .wired = run_weak};

/* The final circuit whose breaker asks for the most current. */
static size_t
hardest(const Wiring *wiring, const MainsFlow *flow, double *needs_A)
{
    size_t found = NO_PLACE;
    *needs_A = 0.0;
    for (guint i = 0; i < wiring->mains->len; i++) {
        if (!mains_feeds(wiring, flow, i) || !mains_is_final(wiring, i))
            continue;
        const Record *protect = mains_breaker(wiring, flow, i);
        const Protection *typed = protect != NULL ? protect->data : NULL;
        BreakerTrip trip;
        if (typed == NULL || typed->kind != PROTECT_BREAKER || typed->curve < 0 ||
            breaker_trip((BreakerCurve) typed->curve, typed->rating_A, false, NAN, &trip) !=
                VALID ||
            trip.high_A <= *needs_A)
            continue;
        *needs_A = trip.high_A;
        found = i;
    }
    return found;
}

static void
soften(const MainsFlow *flow, Finding *f, Result *result)
{
    static const double long_enough_s = 5.0; /* IEC 60364-4-41, recalled: voltage gone within 5 s */
    const SourceSection *source = flow->only->data;
    if (f->level > LEVEL_FAULT)
        return;
    f->level = source->shuts_down_s <= long_enough_s || isnan(source->shuts_down_s) ? LEVEL_DOUBT
                                                                                    : LEVEL_FAULT;
    finding_settle(result, f, result_text(result, "%s.shuts-down", flow->only->path),
                   isnan(source->shuts_down_s)
                       ? "ask its maker how long it holds a short before it shuts down"
                       : "have a licensed electrician say whether that shutting down is enough");
}

static void
judge_weak(const Wiring *wiring, const MainsFlow *flow, Result *result)
{
    double needs_A;
    size_t cable = hardest(wiring, flow, &needs_A);
    if (cable == NO_PLACE)
        return;
    const Cable *c = mains_cable(wiring, cable);
    double volts = flow->voltage_V[flow->order[0]];
    MainsLoop loop = mains_loop(wiring, flow, c->to, false);
    double amperes = volts / loop.ohm, spread = amperes * loop.spread_ohm / loop.ohm;
    const Record *protect = mains_breaker(wiring, flow, cable);
    Working *w = result_working(result, "A dead short at the end, against the hardest breaker");
    steps_of_mains_loop(w, wiring, flow, c->to, false);
    working_given(w, "U", "voltage of the source", volts, Q_VOLTAGE, 0.0, BASIS_STATED, NULL);
    working_reckon(w, "I_k", "current of the short", "U / Z", amperes, Q_CURRENT, spread, NULL);
    Finding *f =
        result_judge(result, &check_weak_source.info, flow->only->id, flow->only->path, LEVEL_FAULT,
                     w, amperes, spread, AT_LEAST, needs_A, Q_CURRENT, &breaker_loop_method.source);
    finding_text(
        result, f,
        amperes < needs_A
            ? "{about} drives {value} into a short of {0}, and the breaker of {1} trips at "
              "once from {limit}: it does not; only the source itself ends it"
            : "{about} drives {value} into a short of {0}; its breaker trips at once from "
              "{limit}",
        result_name(result, c->record->path),
        result_text(result, "%g A", ((const Protection *) protect->data)->rating_A), NULL);
    soften(flow, f, result);
}

static void
run_weak(const Wiring *wiring, Result *result)
{
    for (guint k = 0; k < wiring->mains_flows->len; k++) {
        const MainsFlow *flow = mains_flow(wiring, k);
        if (mains_is_structure(flow) &&
            ((const SourceSection *) flow->only->data)->kind != SOURCE_SHORE)
            judge_weak(wiring, flow, result);
    }
}

/* ---- the earth of the shore ---- */

static void run_earth(const Wiring *wiring, Result *result);
static const char *const earth_cautions[] = {"WI1", "WI2", "WI5", NULL};
const Check check_shore_earth = {{"wiring", "shore-earth",
                                  "Does the earth of the shore eat her hull?", LINE_SINK,
                                  earth_cautions},
                                 .wired = run_earth};

static void
say_earth(const Place *shore, Result *result)
{
    static const Level levels[] = {[EARTH_STRAIGHT] = LEVEL_FAULT,
                                   [EARTH_GALVANIC_ISOLATOR] = LEVEL_FINE,
                                   [EARTH_TRANSFORMER] = LEVEL_FINE};
    static const char *const texts[] = {
        [EARTH_STRAIGHT] =
            ("Her hull is joined to the quay by the earth of {about}: on shore power "
             "she shares her anodes, and then her plates, with every neighbour"),
        [EARTH_GALVANIC_ISOLATOR] =
            "A galvanic isolator keeps the small currents of the quay out of her hull",
        [EARTH_TRANSFORMER] = "An isolation transformer parts her from the earth of the quay"};
    const Record *record = shore->mains_source;
    int way = mains_source(shore)->shore_earth;
    Finding *f = result_say(result, &check_shore_earth.info, record->id, record->path,
                            way < 0 ? LEVEL_DOUBT : levels[way], NULL);
    finding_text(result, f,
                 way < 0
                     ? "Whether anything keeps the earth of {about} from eating her hull is not "
                       "known"
                     : texts[way],
                 NULL);
    if (way <= EARTH_STRAIGHT)
        finding_lever(result, f, result_text(result, "%s.shore-earth", record->path), LEVER_CHOICE,
                      NAN, NAN);
    if (way < 0)
        finding_settle(result, f, result_text(result, "%s.shore-earth", record->path),
                       "look behind the inlet with the lead out: a galvanic isolator, a "
                       "transformer, or neither");
}

static void
run_earth(const Wiring *wiring, Result *result)
{
    for (guint i = 0; i < wiring->places->len && wiring->mains->len > 0; i++) {
        const Place *place = wiring_place(wiring, i);
        if (place->mains_source != NULL && mains_source(place)->kind == SOURCE_SHORE)
            say_earth(place, result);
    }
}

/* ---- its galvanic isolator ---- */

static void run_isolator(const Wiring *wiring, Result *result);
const Check check_isolator = {{"wiring", "isolator",
                               "Does her galvanic isolator bear what the shore drives through it?",
                               LINE_BURN, earth_cautions},
                              .wired = run_isolator};

/* Burnt open it leaves all metal aboard without an earth, and nobody sees it. */
static void
judge_surge(const Wiring *wiring, size_t i, Result *result)
{
    static const Source maker = {"the maker's figure (isolator-surge)", STANDING_OWNER};
    const Record *record = wiring_place(wiring, i)->mains_source;
    const MainsFlow *flow = NULL;
    for (guint k = 0; k < wiring->mains_flows->len && flow == NULL; k++)
        if (mains_is_structure(mains_flow(wiring, k)) && mains_flow(wiring, k)->only == record)
            flow = mains_flow(wiring, k);
    double volts = mains_source_V(wiring, wiring_place(wiring, i));
    if (flow == NULL || !isfinite(volts))
        return;
    MainsLoop loop = mains_source_loop(wiring, wiring_place(wiring, i));
    double amperes = volts / loop.ohm,
           most_A = volts / fmax(loop.ohm - loop.spread_ohm, 0.01 * loop.ohm);
    double bears = ((const SourceSection *) record->data)->isolator_surge_A;
    Working *w = result_working(result, "A fault from line to her earth, at the inlet");
    working_from_boat(w, "Z_e", record, "loop-impedance");
    working_given(w, "U", "voltage of the shore", volts, Q_VOLTAGE, 0.0, BASIS_STATED, NULL);
    working_reckon(w, "I_k", "through the isolator", "U / Z_e", amperes, Q_CURRENT,
                   most_A - amperes, NULL);
    Finding *f = result_judge(
        result, &check_isolator.info, result_text(result, "%s-surge", record->id), record->path,
        LEVEL_DANGER, w, amperes, most_A - amperes, AT_MOST, bears, Q_CURRENT, &maker);
    finding_text(result, f,
                 amperes > bears
                     ? "A fault drives {value} through the galvanic isolator of {about}, which "
                       "bears {limit}: burnt open it leaves her metal without an earth"
                     : "A fault drives {value} through the galvanic isolator of {about}, which "
                       "bears {limit}",
                 NULL);
}

static void
judge_isolator(const Wiring *wiring, size_t i, Result *result)
{
    const Record *record = wiring_place(wiring, i)->mains_source;
    const SourceSection *typed = record->data;
    double quay_A = mains_source_limit_A(wiring, wiring_place(wiring, i));
    if (isnan(typed->isolator_A) || isnan(typed->isolator_surge_A)) {
        Finding *f =
            result_say(result, &check_isolator.info, record->id, record->path, LEVEL_DOUBT, NULL);
        finding_text(result, f,
                     "What the galvanic isolator of {about} bears, lasting and in a fault, is not "
                     "known",
                     NULL);
        finding_settle(result, f,
                       result_text(result, "%s.%s", record->path,
                                   isnan(typed->isolator_A) ? "isolator-rating" : "isolator-surge"),
                       "read it on the isolator, with the lead out, or in its maker's sheet");
    } else if (isfinite(quay_A)) {
        Rule least = wiring_rule(wiring, "isolator-rating", result);
        Working *w = result_working(result, "The isolator against the breaker of the quay");
        working_from_boat(w, "I_isolator", record, "isolator-rating");
        Finding *f = result_judge(result, &check_isolator.info, record->id, record->path,
                                  LEVEL_FAULT, w, typed->isolator_A, 0.0, AT_LEAST,
                                  least.value * quay_A, Q_CURRENT, &least.source);
        finding_text(result, f,
                     "The galvanic isolator of {about} carries {value}; {limit} is asked behind "
                     "a breaker of {0}",
                     wiring_shown(wiring, result, quay_A, Q_CURRENT), NULL);
    }
    if (isfinite(typed->isolator_surge_A))
        judge_surge(wiring, i, result);
}

static void
run_isolator(const Wiring *wiring, Result *result)
{
    for (guint i = 0; i < wiring->places->len && wiring->mains->len > 0; i++) {
        const SourceSection *source = mains_source(wiring_place(wiring, i));
        if (source != NULL && source->kind == SOURCE_SHORE &&
            source->shore_earth == EARTH_GALVANIC_ISOLATOR)
            judge_isolator(wiring, i, result);
    }
}

/* ---- polarity ---- */

static void run_polarity(const Wiring *wiring, Result *result);
const Check check_polarity = {{"wiring", "polarity",
                               "Is line line and neutral neutral at every mains circuit?",
                               LINE_BURN, mains_cautions},
                              .wired = run_polarity};

static void
run_polarity(const Wiring *wiring, Result *result)
{
    g_auto(Named) untested = {0}, right = {0};
    for (guint i = 0; i < wiring->mains->len; i++) {
        const Cable *cable = mains_cable(wiring, i);
        if (cable->typed->polarity == POLARITY_REVERSED) {
            Finding *f = result_say(result, &check_polarity.info, cable->record->id,
                                    cable->record->path, LEVEL_DANGER, NULL);
            finding_text(result, f,
                         "Line and neutral are exchanged in {about}: what is switched off there "
                         "stays live",
                         NULL);
        } else
            named_add(cable->typed->polarity < 0 || cable->typed->tested.year == 0 ? &untested
                                                                                   : &right,
                      cable->record);
    }
    const char *path = named_first(&untested), *names = named_words(result, &untested);
    if (names != NULL) {
        Finding *f = result_say(result, &check_polarity.info, NULL, "circuits", LEVEL_DOUBT, NULL);
        finding_text(result, f, "No test with a date shows the polarity of {0}", names, NULL);
        finding_settle(result, f, result_text(result, "%s.polarity", path),
                       "have a licensed electrician test it dead; a socket tester shows it at each "
                       "socket");
    } else if (named_count(&right) > 0) {
        Finding *f = result_say(result, &check_polarity.info, NULL, "circuits", LEVEL_FINE, NULL);
        finding_text(result, f, "Polarity is tested at every mains circuit", NULL);
    }
}
