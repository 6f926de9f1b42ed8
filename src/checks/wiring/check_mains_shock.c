/* What keeps a fault from killing: residual current devices, one bond of neutral and earth, cut off in time. */
#include <math.h>
#include <string.h>

#include "checks/wiring/mains_workings.h"
#include "checks/wiring/workings.h"
#include "physics/wiring/breaker.h"
#include "physics/wiring/disconnection.h"

static const char *const bond_cautions[] = {"WI1", "WI3", "WI5", NULL};

/* ---- residual current ---- */

static void run_residual(const Wiring *wiring, Result *result);
const Check check_residual_current = {{"wiring", "residual-current",
                                       "Does a residual current device guard everybody who "
                                       "touches a mains circuit?",
                                       LINE_BURN, mains_cautions},
                                      .wired = run_residual};

/* The most sensitive on the way to that source; *none: one was said to be missing, and there is no other. */
static const Record *
residual_of(const Wiring *wiring, const MainsFlow *flow, size_t cable, bool *none)
{
    const Record *device[MAINS_DEVICES], *best = NULL;
    size_t n = mains_devices(wiring, flow, cable, device);
    *none = false;
    for (size_t i = 0; i < n; i++) {
        const Protection *typed = device[i]->data;
        *none |= typed->residual_A <= 0.0;
        if (typed->residual_A > 0.0 &&
            (best == NULL || typed->residual_A < ((const Protection *) best->data)->residual_A))
            best = device[i];
    }
    *none = *none && best == NULL;
    return best;
}

static void
judge_device(const Wiring *wiring, const Record *device, Result *result)
{
    Rule limit = wiring_rule(wiring, "residual-current", result);
    const Record *owner = device->parent;
    const Protection *typed = device->data;
    g_autofree char *id = g_strconcat("wiring.residual-current.", owner->id, NULL);
    if (result_finding_find(result, id) != NULL)
        return;
    Working *w = result_working(result, "The residual current device");
    working_from_boat(w, "I_dn", device, "residual-current");
    Finding *f =
        result_judge(result, &check_residual_current.info, owner->id, owner->path, LEVEL_DANGER, w,
                     typed->residual_A, 0.0, AT_MOST, limit.value, Q_CURRENT, &limit.source);
    finding_text(
        result, f,
        f->level == LEVEL_DANGER
            ? "The residual current device of {about} trips at {0}: that can kill; people need {1}"
            : "The residual current device of {about} trips at {0}; people need {1}",
        result_text(result, "%g mA", 1e3 * typed->residual_A),
        result_text(result, "%g mA", 1e3 * limit.value), NULL);
}

typedef struct {
    Named unguarded, unguarded_from, unknown, unknown_from;
} Guarded;

static void
look_at_guard(const Wiring *wiring, const MainsFlow *flow, size_t cable, Result *result,
              Guarded *found)
{
    bool none;
    const Record *device = residual_of(wiring, flow, cable, &none);
    const Record *circuit = mains_cable(wiring, cable)->record;
    if (device != NULL) {
        judge_device(wiring, device, result);
        return;
    }
    named_add(none ? &found->unguarded : &found->unknown, circuit);
    named_add(none ? &found->unguarded_from : &found->unknown_from, flow->only);
}

static void
run_residual(const Wiring *wiring, Result *result)
{
    Guarded found = {0};
    for (guint k = 0; k < wiring->mains_flows->len; k++)
        for (guint i = 0; i < wiring->mains->len; i++)
            if (mains_is_structure(mains_flow(wiring, k)) && mains_is_final(wiring, i) &&
                mains_feeds(wiring, mains_flow(wiring, k), i))
                look_at_guard(wiring, mains_flow(wiring, k), i, result, &found);
    const char *path = named_first(&found.unknown), *names = named_words(result, &found.unknown),
               *from = named_words(result, &found.unknown_from),
               *bare = named_words(result, &found.unguarded),
               *bare_from = named_words(result, &found.unguarded_from);
    if (bare != NULL) {
        Finding *f =
            result_say(result, &check_residual_current.info, NULL, "circuits", LEVEL_DANGER, NULL);
        finding_text(result, f,
                     "No residual current device stands between {1} and {0}: a fault can kill who "
                     "touches it",
                     bare, bare_from, NULL);
    } else if (names != NULL) {
        Finding *f =
            result_say(result, &check_residual_current.info, NULL, "circuits", LEVEL_DOUBT, NULL);
        finding_text(result, f,
                     "Whether a residual current device of 30 mA stands between {1} and {0} is not "
                     "known",
                     names, from, NULL);
        finding_settle(result, f, result_text(result, "%s.protect", path),
                       "have a licensed electrician find it and test it with an instrument; write "
                       "its residual current beside its breaker");
    }
    named_clear(&found.unknown);
    named_clear(&found.unknown_from);
    named_clear(&found.unguarded);
    named_clear(&found.unguarded_from);
}

/* ---- one bond ---- */

static void run_bond(const Wiring *wiring, Result *result);
const Check check_neutral_bond = {{"wiring", "neutral-bond",
                                   "Is neutral bonded to earth exactly once for each mains source?",
                                   LINE_BURN, bond_cautions},
                                  .wired = run_bond};

typedef struct {
    int count;
    bool open; /* one of them is not known */
    Working *working;
    Named aboard;
    GString *sum;
} Bonds;

typedef struct { /* the first finding of a bond too many */
    const char *id;
    GPtrArray *places;
} First;

/* 1 or 0 of one place, as a given of the working; -1: not known. */
static void
count_bond(Result *result, Bonds *bonds, const Record *record, int bond, bool feeds, Named *unknown)
{
    if (bond < 0) {
        bonds->open = true;
        named_add(unknown, record);
        return;
    }
    bool made = bond == BOND_FIXED || (bond == BOND_WITH_SOURCE && feeds);
    const char *symbol = result_text(result, "b_%zu", working_steps(bonds->working) + 1);
    given_by_word(bonds->working, record, "neutral-bond", symbol, result_name(result, record->path),
                  made, Q_COUNT, NULL);
    g_string_append_printf(bonds->sum, "%s%s", bonds->sum->len > 0 ? " + " : "", symbol);
    bonds->count += made;
    if (made)
        named_add(&bonds->aboard, record);
}

/* A source that is joined to a live board hangs on it with its own bond, running or not. */
static bool
hangs_on(const Wiring *wiring, const MainsFlow *flow, size_t source)
{
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        bool transfer = place->record->section == &section_busbars &&
                        ((const Busbar *) place->record->data)->kind == BUSBAR_TRANSFER;
        bool joined = place->fed_by == source;
        for (guint c = 0; c < wiring->mains->len; c++)
            joined |= mains_cable(wiring, c)->from == source && mains_cable(wiring, c)->to == i;
        if (joined && !transfer && mains_live(flow, i))
            return true;
    }
    return false;
}

static void
count_bonds(const Wiring *wiring, const MainsFlow *flow, size_t root, Result *result, Bonds *bonds,
            Named *unknown)
{
    static const Source quay = {"docs/methods/wires.md 5.1: the bond of shore power is ashore",
                                STANDING_READ};
    const SourceSection *source = mains_source(wiring_place(wiring, root));
    if (source->kind == SOURCE_SHORE && source->shore_earth != EARTH_TRANSFORMER) {
        working_given(bonds->working, "b_quay", "ashore", 1.0, Q_COUNT, 0.0, BASIS_STATED, &quay);
        g_string_append(bonds->sum, "b_quay");
        bonds->count++;
    }
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        const SourceSection *here = mains_source(place);
        bool ashore = here != NULL && here->kind == SOURCE_SHORE &&
                      here->shore_earth != EARTH_TRANSFORMER && here->neutral_bond < 0;
        bool joined = mains_live(flow, i) || (here != NULL && hangs_on(wiring, flow, i));
        if (here != NULL && !ashore && joined)
            count_bond(result, bonds, place->mains_source, here->neutral_bond, i == root, unknown);
        else if (place->record->section == &section_busbars && mains_live(flow, i))
            count_bond(result, bonds, place->record,
                       ((const Busbar *) place->record->data)->neutral_bond, true, unknown);
    }
}

/* A link too many is one cause, whichever source it disturbs. */
static void
link_causes(Result *result, const Bonds *bonds, Finding *f, First *first)
{
    const char *shared = NULL;
    for (guint i = 0; first->id != NULL && i < named_count(&bonds->aboard); i++)
        for (guint k = 0; k < first->places->len; k++)
            if (g_ptr_array_index(bonds->aboard.records, i) == g_ptr_array_index(first->places, k))
                shared = first->id;
    if (shared != NULL)
        finding_cause(result, f, shared);
    else if (first->id == NULL) {
        first->id = f->id;
        first->places = g_ptr_array_ref(bonds->aboard.records);
    }
}

static void
say_bonds(const Place *place, const Bonds *bonds, Result *result, First *first)
{
    static const Source once = {"docs/methods/wires.md 5.1: two application notes on bonding",
                                STANDING_READ};
    if (bonds->count <= 1 && bonds->open)
        return; /* one doubt names them all */
    const char *aboard = named_words(result, &bonds->aboard);
    Finding *f = result_judge(result, &check_neutral_bond.info, place->mains_source->id,
                              place->mains_source->path, LEVEL_DANGER, bonds->working, bonds->count,
                              0.0, bonds->count == 0 ? AT_LEAST : AT_MOST, 1.0, Q_COUNT, &once);
    bool ashore = mains_source(place)->kind == SOURCE_SHORE;
    if (bonds->count == 0)
        finding_text(result, f,
                     "Nothing bonds neutral to earth while {about} feeds: no residual current "
                     "device can trip, and a fault leaves metal live",
                     NULL);
    else if (bonds->count > 1)
        finding_text(result, f,
                     ashore ? "Neutral is bonded to earth at {0} while {about} feeds, which has "
                              "its bond ashore: current of the neutral runs through hull and "
                              "earth, and residual current devices trip or fail"
                            : "Neutral is bonded to earth at {0} while {about} feeds: one bond "
                              "too many, and current of the neutral runs through the hull",
                     aboard != NULL ? aboard : "", NULL);
    else
        finding_text(result, f, "Neutral is bonded to earth once while {about} feeds{0}",
                     aboard != NULL ? result_text(result, ": at %s", aboard) : ": ashore", NULL);
    if (bonds->count > 1)
        link_causes(result, bonds, f, first);
}

static void
judge_bonds(const Wiring *wiring, const MainsFlow *flow, size_t root, Result *result,
            Named *unknown, First *first)
{
    Bonds bonds = {.working = result_working(result, "Bonds of neutral and earth while it feeds"),
                   .sum = g_string_new(NULL)};
    count_bonds(wiring, flow, root, result, &bonds, unknown);
    if (bonds.sum->len > 0)
        working_reckon(bonds.working, "b", "bonds in all", bonds.sum->str, bonds.count, Q_COUNT,
                       0.0, NULL);
    g_string_free(bonds.sum, TRUE);
    say_bonds(wiring_place(wiring, root), &bonds, result, first);
    named_clear(&bonds.aboard);
}

static void
run_bond(const Wiring *wiring, Result *result)
{
    g_auto(Named) unknown = {0};
    First first = {0};
    for (guint k = 0; k < wiring->mains_flows->len; k++) {
        const MainsFlow *flow = mains_flow(wiring, k);
        if (mains_is_structure(flow) && flow->live > 1)
            judge_bonds(wiring, flow, flow->order[0], result, &unknown, &first);
    }
    g_clear_pointer(&first.places, g_ptr_array_unref);
    const char *path = named_first(&unknown), *names = named_words(result, &unknown);
    if (names == NULL)
        return;
    Finding *f = result_say(result, &check_neutral_bond.info, NULL, "sources", LEVEL_DOUBT, NULL);
    finding_text(result, f, "Whether neutral is bonded to earth at {0} is not known", names, NULL);
    finding_settle(
        result, f, result_text(result, "%s.neutral-bond", path),
        "have a licensed electrician test between neutral and earth with everything dead");
}

/* ---- cut off in time ---- */

static void run_time(const Wiring *wiring, Result *result);
const Check check_disconnection = {{"wiring", "disconnection",
                                    "Is every fault on shore power cut off in time?", LINE_BURN,
                                    mains_cautions},
                                   .wired = run_time};

/* Current that surely cuts off within the time; NAN: not known. A breaker either does it at once or not surely. */
static double
tripping_A(const Wiring *wiring, const Protection *typed, double time_s, Source *source)
{
    BreakerTrip trip;
    *source = breaker_loop_method.source;
    if (typed->kind == PROTECT_BREAKER && typed->curve >= 0 &&
        breaker_trip((BreakerCurve) typed->curve, typed->rating_A, false, NAN, &trip) == VALID)
        return trip.high_A;
    if (typed->kind != PROTECT_FUSE || typed->family != FUSE_NH_GG)
        return NAN;
    const TradeTable *table = catalog_table(wiring->catalog, TABLE_GG_DISCONNECTION);
    size_t first, n = trade_table_rows(table, "a", &first);
    for (size_t i = first; i < first + n; i++)
        if (fabs(table->figure[0][i] - typed->rating_A) < 0.01) {
            *source = time_s < 1.0 ? table->source[i] : disconnection_distribution_method.source;
            return table->figure[time_s < 1.0 ? 2 : 1][i];
        }
    return NAN;
}

static double
time_limit_s(const Wiring *wiring, size_t cable, const Protection *typed, double volts)
{
    const Record *role = record_role(boat_single(wiring->boat, &section_berth), &section_shore);
    bool tt = role != NULL && ((const ShoreSupply *) role->data)->earthing == SHORE_TT;
    bool final = mains_is_final(wiring, cable) && !(typed->rating_A > 32.0);
    double time_s;
    disconnection_time(tt ? EARTHING_TT : EARTHING_TN, CURRENT_ALTERNATING,
                       final ? CIRCUIT_FINAL : CIRCUIT_DISTRIBUTION, volts, &time_s);
    return time_s;
}

static void
judge_time(const Wiring *wiring, const MainsFlow *flow, size_t cable, const Record *protect,
           Result *result, Named *unknown)
{
    const Cable *c = mains_cable(wiring, cable);
    const Protection *typed = protect->data;
    double volts = flow->voltage_V[flow->root[c->to]];
    double time_s = time_limit_s(wiring, cable, typed, volts);
    Source source;
    double needs_A = tripping_A(wiring, typed, time_s, &source);
    MainsLoop loop = mains_loop(wiring, flow, c->to, false);
    if (isnan(time_s))
        return; /* no limit is asked at that voltage */
    if (isnan(needs_A)) {
        named_add(unknown, protect);
        return;
    }
    bool none;
    const Record *guard = residual_of(wiring, flow, cable, &none);
    Working *w = result_working(result, "Loop of a fault at the far end, against its breaker");
    steps_of_mains_loop(w, wiring, flow, c->to, false);
    Finding *f = result_judge(result, &check_disconnection.info, c->record->id, c->record->path,
                              guard == NULL ? LEVEL_DANGER : LEVEL_FAULT, w, loop.ohm,
                              loop.spread_ohm, AT_MOST, volts / needs_A, Q_RESISTANCE, &source);
    const char *time = wiring_shown(wiring, result, time_s, Q_TIME),
               *meets = ohms(result, loop.ohm), *most = ohms(result, volts / needs_A);
    if (loop.ohm > volts / needs_A)
        finding_text(result, f,
                     guard == NULL
                         ? "A fault at the end of {about} meets {1}; its breaker cuts off within "
                           "{0} only below {2}: metal stays live"
                         : "A short at the end of {about} meets {1}; its breaker cuts off within "
                           "{0} only below {2}, and only the residual current device is quick",
                     time, meets, most, NULL);
    else
        finding_text(result, f,
                     "A fault at the end of {about} meets {1}; below {2} its breaker cuts off "
                     "within {0}",
                     time, meets, most, NULL);
    lever_thicker(result, f, c);
    if (f->level == LEVEL_DOUBT)
        finding_settle(result, f, result_text(result, "%s.loop-impedance", flow->only->path),
                       "have a licensed electrician measure the loop");
}

static void
run_time(const Wiring *wiring, Result *result)
{
    g_auto(Named) unknown = {0};
    for (guint i = 0; i < wiring->mains->len; i++) {
        const MainsFlow *flow = mains_alone(wiring, i);
        if (flow == NULL || ((const SourceSection *) flow->only->data)->kind != SOURCE_SHORE)
            continue;
        const Record *protect = mains_breaker(wiring, flow, i);
        if (protect != NULL && isfinite(flow->voltage_V[flow->root[mains_cable(wiring, i)->to]]))
            judge_time(wiring, flow, i, protect, result, &unknown);
    }
    const char *path = named_first(&unknown), *names = named_words(result, &unknown);
    if (names == NULL)
        return;
    Finding *f = result_say(result, &check_disconnection.info, NULL, "circuits", LEVEL_DOUBT, NULL);
    finding_text(result, f, "When the protection of {0} cuts off is not known", names, NULL);
    finding_settle(result, f, result_text(result, "%s.curve", path),
                   "read letter and number on the breaker");
}
