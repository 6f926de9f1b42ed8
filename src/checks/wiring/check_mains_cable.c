/* Mains cables: breaker against cable, load against breaker, voltage lost, and the shore lead. */
#include <math.h>

#include "checks/wiring/mains_workings.h"
#include "checks/wiring/workings.h"

static const Source rule = {"33 CFR 183.455(c), above 50 V; the cable by IEC 60364-5-52 (this "
                            "project allows no next larger size)",
                            STANDING_READ};

static bool
from_shore(const Wiring *wiring, const Cable *cable)
{
    const SourceSection *source = mains_source(wiring_place(wiring, cable->from));
    return source != NULL && source->kind == SOURCE_SHORE;
}

static bool
ashore(const MainsFlow *flow)
{
    return ((const SourceSection *) flow->only->data)->kind == SOURCE_SHORE;
}

/* ---- the breaker saves the cable ---- */

static void run_breaker(const Wiring *wiring, Result *result);
const Check check_mains_breaker = {{"wiring", "mains-breaker",
                                    "Does a breaker save every mains cable from burning?",
                                    LINE_BURN, mains_cautions},
                                   .wired = run_breaker};

static void
judge_quay(const Wiring *wiring, const Cable *cable, const MainsFlow *flow, Result *result)
{
    double gives = mains_source_limit_A(wiring, wiring_place(wiring, flow->root[cable->to])),
           bears = cable->ampacity.allowed_A;
    Working *w = result_working(result, "The breaker of the quay against the cable");
    steps_of_fixed_ampacity(w, cable);
    working_given(w, "I_quay", "breaker of the quay", gives, Q_CURRENT, 0.0, BASIS_STATED, NULL);
    working_path_is(w, "berth.shore.current");
    Finding *f = result_judge(result, &check_mains_breaker.info, cable->record->id,
                              cable->record->path, gives > 1.5 * bears ? LEVEL_DANGER : LEVEL_FAULT,
                              w, gives, 0.0, AT_MOST, bears, Q_CURRENT, &rule);
    finding_text(result, f,
                 "Only the breaker of the quay saves {about}: it lets {value} through, and the "
                 "cable bears {limit}",
                 NULL);
    lever_thicker(result, f, cable);
}

static void
judge_breaker(const Cable *cable, const Record *protect, Result *result)
{
    const Protection *typed = protect->data;
    double allowed = cable->ampacity.allowed_A;
    Working *w = result_working(result, "The breaker against the cable behind it");
    steps_of_fixed_ampacity(w, cable);
    working_from_boat(w, "I_n", protect, "rating");
    Finding *f =
        result_judge(result, &check_mains_breaker.info, cable->record->id, cable->record->path,
                     typed->rating_A > 1.5 * allowed ? LEVEL_DANGER : LEVEL_FAULT, w,
                     typed->rating_A, 0.0, AT_MOST, allowed, Q_CURRENT, &rule);
    finding_text(result, f,
                 typed->rating_A > allowed
                     ? "{about} can burn: its breaker lets {value} through, and its cable bears "
                       "{limit} as it is laid"
                     : "{about} has a breaker of {value} and a cable that bears {limit}",
                 NULL);
    lever_thicker(result, f, cable);
    if (isnan(typed->rating_A))
        finding_settle(result, f, result_text(result, "%s.rating", protect->path),
                       "read the number on the breaker");
    else if (isnan(allowed))
        finding_settle(result, f, result_text(result, "%s.area", cable->record->path),
                       "read the cable where it is bare of its sheath, with the mains dead");
}

static void
run_breaker(const Wiring *wiring, Result *result)
{
    g_auto(Named) unknown = {0};
    for (guint i = 0; i < wiring->mains->len; i++) {
        const Cable *cable = mains_cable(wiring, i);
        const MainsFlow *flow = mains_alone(wiring, i);
        if (flow == NULL || from_shore(wiring, cable))
            continue; /* the shore lead has its own question */
        const Record *protect = mains_breaker(wiring, flow, i);
        bool none = cable->protect != NULL &&
                    ((const Protection *) cable->protect->data)->kind == PROTECT_NONE;
        if (protect != NULL)
            judge_breaker(cable, protect, result);
        else if (none) {
            Finding *f = result_say(result, &check_mains_breaker.info, cable->record->id,
                                    cable->record->path, LEVEL_DANGER, NULL);
            finding_text(result, f, "No breaker aboard saves {about} from burning", NULL);
        } else if (cable->protect == NULL && !mains_is_final(wiring, i) && ashore(flow))
            judge_quay(wiring, cable, flow, result);
        else
            named_add(&unknown, cable->record);
    }
    const char *path = named_first(&unknown), *names = named_words(result, &unknown);
    if (names == NULL)
        return;
    Finding *f = result_say(result, &check_mains_breaker.info, NULL, "circuits", LEVEL_DOUBT, NULL);
    finding_text(result, f, "Which breaker saves {0} is not known", names, NULL);
    finding_settle(result, f, result_text(result, "%s.protect", path),
                   "read the board: kind, rating and curve of each breaker");
}

/* ---- the breaker bears its load ---- */

static void run_load(const Wiring *wiring, Result *result);
const Check check_breaker_load = {{"wiring", "breaker-load",
                                   "Does each mains breaker carry what runs behind it?",
                                   LINE_INSURABLE, mains_cautions},
                                  .wired = run_load};

static void
judge_load(const Wiring *wiring, const Record *protect, const Record *about, const MainsFlow *flow,
           size_t place, Result *result)
{
    static const Source plate = {"the rating printed on the breaker", STANDING_OWNER};
    const Protection *typed = protect->data;
    Working *w = result_working(result, "What runs behind the breaker");
    steps_of_mains_current(w, flow, place);
    double amperes = mains_current_A(flow, place), spread = mains_current_spread_A(flow, place);
    Finding *f = result_judge(result, &check_breaker_load.info, about->id, about->path, LEVEL_FAULT,
                              w, amperes, spread, AT_MOST, typed->rating_A, Q_CURRENT, &plate);
    finding_text(result, f,
                 amperes > typed->rating_A
                     ? "{about} draws {value} ({situation}) and its breaker trips beyond {limit}"
                     : "{about} draws {value} ({situation}) behind a breaker of {limit}",
                 NULL);
    finding_of_overload(wiring, result, f, flow, place);
    finding_situation(result, f, mains_flow_words(result, flow));
}

static const MainsFlow *
greatest_at(const Wiring *wiring, size_t place)
{
    const MainsFlow *worst = NULL;
    for (guint k = 0; k < wiring->mains_flows->len; k++) {
        const MainsFlow *flow = mains_flow(wiring, k);
        if (mains_live(flow, place) && mains_current_A(flow, place) > 0.0 &&
            (worst == NULL || mains_current_A(flow, place) > mains_current_A(worst, place)))
            worst = flow;
    }
    return worst;
}

static void
run_load(const Wiring *wiring, Result *result)
{
    for (guint i = 0; i < wiring->mains->len; i++) {
        const Cable *cable = mains_cable(wiring, i);
        const Protection *typed = cable->protect != NULL ? cable->protect->data : NULL;
        double amperes;
        const MainsFlow *flow = mains_worst(wiring, i, &amperes);
        if (flow != NULL && typed != NULL && isfinite(typed->rating_A) &&
            !from_shore(wiring, cable))
            judge_load(wiring, cable->protect, cable->record, flow, cable->to, result);
    }
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        const Record *protect = record_role(place->record, &section_busbar_protect);
        const MainsFlow *flow = place->mains && protect != NULL ? greatest_at(wiring, i) : NULL;
        if (flow != NULL && isfinite(((const Protection *) protect->data)->rating_A))
            judge_load(wiring, protect, place->record, flow, i, result);
    }
}

/* ---- voltage lost ---- */

static void run_loss(const Wiring *wiring, Result *result);
const Check check_mains_loss = {{"wiring", "mains-loss",
                                 "Does enough mains voltage arrive at every device?",
                                 LINE_INSURABLE, mains_cautions},
                                .wired = run_loss};

static void
judge_loss(const Wiring *wiring, size_t i, const MainsFlow *flow, Result *result)
{
    const Cable *cable = mains_cable(wiring, i);
    const Place *place = wiring_place(wiring, cable->to);
    bool critical =
        place->load != NULL && ((const LoadRole *) place->load->data)->use == LOAD_CRITICAL;
    Rule limit = wiring_rule(wiring, critical ? "mains-drop-critical" : "mains-drop", result);
    double own = mains_drop_V(wiring, flow, i), source_V = flow->voltage_V[flow->root[cable->to]];
    double lost = source_V - flow->voltage_V[cable->to];
    double spread =
        lost * mains_current_spread_A(flow, cable->to) / mains_current_A(flow, cable->to);
    Working *w = result_working(result, "Voltage lost between source and device");
    steps_of_mains_drop(w, wiring, flow, i);
    working_given(w, "U_way", "lost before this cable", lost - own, Q_VOLTAGE, 0.0, BASIS_STATED,
                  NULL);
    working_reckon(w, "U_lost", "lost in all", "Delta_U + U_way", lost, Q_VOLTAGE, spread, NULL);
    Finding *f = result_judge(result, &check_mains_loss.info, cable->record->id,
                              cable->record->path, LEVEL_FAULT, w, lost, spread, AT_MOST,
                              limit.value * source_V, Q_VOLTAGE, &limit.source);
    finding_text(result, f,
                 "{about} loses {value} on the way from {0} ({situation}); {limit} is allowed",
                 place_name(result, wiring_place(wiring, flow->root[cable->to])), NULL);
    finding_situation(result, f, mains_flow_words(result, flow));
    finding_of_overload(wiring, result, f, flow, cable->to);
    lever_thicker(result, f, cable);
}

static void
run_loss(const Wiring *wiring, Result *result)
{
    g_auto(Named) unknown = {0};
    for (guint i = 0; i < wiring->mains->len; i++) {
        const Cable *cable = mains_cable(wiring, i);
        double amperes;
        const MainsFlow *flow = mains_worst(wiring, i, &amperes);
        if (isnan(cable->typed->one_way_m) || isnan(cable->typed->area_m2))
            named_add(&unknown, cable->record);
        else if (flow != NULL && mains_is_final(wiring, i) && isfinite(flow->voltage_V[cable->to]))
            judge_loss(wiring, i, flow, result);
    }
    const char *path = named_first(&unknown), *names = named_words(result, &unknown);
    if (names == NULL)
        return;
    Finding *f = result_say(result, &check_mains_loss.info, NULL, "circuits", LEVEL_DOUBT, NULL);
    finding_text(result, f, "How long or how thick the mains cable of {0} is, is not known", names,
                 NULL);
    finding_settle(result, f, path, "measure its way; read the cable with the mains dead");
}

/* ---- the shore lead ---- */

static void run_lead(const Wiring *wiring, Result *result);
const Check check_shore_lead = {{"wiring", "shore-lead",
                                 "Does the shore lead bear what the quay lets through?", LINE_BURN,
                                 mains_cautions},
                                .wired = run_lead};

static void
judge_lead(const Wiring *wiring, const Cable *lead, const Place *shore, Result *result)
{
    double gives = mains_source_limit_A(wiring, shore), bears = lead->ampacity.allowed_A;
    bool stiff = lead->typed->strands == STRANDS_SOLID || lead->typed->strands == STRANDS_STRANDED;
    Working *w = result_working(result, "The breaker of the quay against the shore lead");
    steps_of_fixed_ampacity(w, lead);
    working_given(w, "I_quay", "breaker of the quay", gives, Q_CURRENT, 0.0, BASIS_STATED, NULL);
    working_path_is(w, "berth.shore.current");
    if (stiff && gives <= bears) {
        Finding *f = result_say(result, &check_shore_lead.info, lead->record->id,
                                lead->record->path, LEVEL_FAULT, w);
        finding_text(result, f, "{about} is no flexible cable: it breaks inside where she moves",
                     NULL);
        finding_lever(result, f, result_text(result, "%s.strands", lead->record->path),
                      LEVER_CHOICE, NAN, NAN);
        return;
    }
    Finding *f = result_judge(result, &check_shore_lead.info, lead->record->id, lead->record->path,
                              gives > 1.5 * bears ? LEVEL_DANGER : LEVEL_FAULT, w, gives, 0.0,
                              AT_MOST, bears, Q_CURRENT, &rule);
    finding_text(result, f, "{about} bears {limit}, and the quay lets {value} through", NULL);
    lever_thicker(result, f, lead);
}

static void
run_lead(const Wiring *wiring, Result *result)
{
    for (guint p = 0; p < wiring->places->len; p++) {
        const Place *place = wiring_place(wiring, p);
        bool shore = place->mains_source != NULL && mains_source(place)->kind == SOURCE_SHORE;
        bool found = false;
        for (guint i = 0; shore && i < wiring->mains->len; i++)
            if (mains_cable(wiring, i)->from == p) {
                judge_lead(wiring, mains_cable(wiring, i), place, result);
                found = true;
            }
        if (!shore || found || wiring->mains->len == 0)
            continue;
        Finding *f = result_say(result, &check_shore_lead.info, place->mains_source->id,
                                place->mains_source->path, LEVEL_DOUBT, NULL);
        finding_text(result, f, "How long and how thick the shore lead is, is not known", NULL);
        finding_settle(result, f, "circuits",
                       "write the lead down as a circuit from shore to the board at the inlet");
    }
}
