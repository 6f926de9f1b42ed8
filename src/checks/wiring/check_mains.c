/* The mains side as a whole: does each source give what is asked of it, what is dead, and can two sources meet. */
#include <math.h>
#include <string.h>

#include "checks/wiring/mains_workings.h"
#include "checks/wiring/workings.h"

static const char *const two_cautions[] = {"WI1", "WI3", NULL};

/* ---- limits of the sources ---- */

static void run_limit(const Wiring *wiring, Result *result);
const Check check_source_limit = {{"wiring", "source-limit",
                                   "Does each mains source give what runs from it?", LINE_INSURABLE,
                                   mains_cautions},
                                  .wired = run_limit};

/* What it gives, or what its own breaker lets through, and the record that says so. */
static double
limit_of(const Wiring *wiring, const Place *place, const char **path)
{
    const Record *protect = record_role(place->mains_source, &section_source_protect);
    double gives = mains_source_limit_A(wiring, place);
    double breaker = protect != NULL ? ((const Protection *) protect->data)->rating_A : NAN;
    bool shore = mains_source(place)->kind == SOURCE_SHORE;
    *path = breaker < gives ? protect->path : shore ? "berth.shore" : place->mains_source->path;
    return fmin(gives, breaker);
}

typedef struct {
    size_t place;
    double watts;
    int rank; /* what goes first has the least */
} Shed;

static int
by_rank(const void *a, const void *b)
{
    const Shed *x = a, *y = b;
    if (x->rank != y->rank)
        return x->rank - y->rank;
    return (x->watts < y->watts) - (x->watts > y->watts);
}

enum { SHED_CHARGER, SHED_STATED, SHED_HEAT = 1000, SHED_OTHER, SHED_CRITICAL };

static int
rank_of(const SourceSection *source, const Place *place)
{
    for (size_t k = 0; k < source->sheds.n; k++)
        if (strcmp(source->sheds.id[k], place->id) == 0)
            return SHED_STATED + (int) MIN(k, 900);
    const LoadRole *load = place->load != NULL ? place->load->data : NULL;
    if (place->heater != NULL || (load != NULL && load->draws == DRAWS_RESISTANCE))
        return SHED_HEAT;
    return load != NULL && load->use == LOAD_CRITICAL ? SHED_CRITICAL : SHED_OTHER;
}

/* Chargers give way first, then what the owner listed, then what heats. */
static GArray *
what_goes_first(const Wiring *wiring, const MainsFlow *flow, size_t root)
{
    GArray *sheds = g_array_new(FALSE, FALSE, sizeof(Shed));
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        if (flow->root[i] != root)
            continue;
        Shed shed = {i, flow->charges_W[i], SHED_CHARGER};
        if (mains_is_load(wiring, i) && !(flow->charges_W[i] > 0.0))
            shed = (Shed){i, flow->real_W[i],
                          rank_of(mains_source(wiring_place(wiring, root)), place)};
        if (shed.watts > 0.0)
            g_array_append_val(sheds, shed);
    }
    g_array_sort(sheds, by_rank);
    return sheds;
}

/* "charging (900 W), then the water heater (1.2 kW)": as few as bring it below the limit. */
static const char *
words_of_shedding(const Wiring *wiring, const MainsFlow *flow, size_t root, double limit_A,
                  Result *result)
{
    g_autoptr(GArray) sheds = what_goes_first(wiring, flow, root);
    g_autoptr(GString) words = g_string_new(NULL);
    double over_W = (mains_current_A(flow, root) - limit_A) * flow->voltage_V[root];
    for (guint k = 0; k < sheds->len && over_W > 0.0; k++) {
        const Shed *shed = &g_array_index(sheds, Shed, k);
        const char *name = place_name(result, wiring_place(wiring, shed->place));
        g_string_append_printf(words, "%s%s%s (%s)", k == 0 ? "" : ", then ",
                               shed->rank == SHED_CHARGER ? "charging by " : "", name,
                               wiring_shown(wiring, result, shed->watts, Q_POWER));
        over_W -= shed->watts;
    }
    return result_text(result, "%s", words->str);
}

static const MainsFlow *
greatest_of(const Wiring *wiring, size_t root)
{
    const MainsFlow *worst = NULL;
    for (guint k = 0; k < wiring->mains_flows->len; k++) {
        const MainsFlow *flow = mains_flow(wiring, k);
        if (flow->root[root] == root && mains_current_A(flow, root) > 0.0 &&
            (worst == NULL || mains_current_A(flow, root) > mains_current_A(worst, root)))
            worst = flow;
    }
    return worst;
}

static void
judge_limit(const Wiring *wiring, size_t root, const MainsFlow *flow, Result *result)
{
    static const Source stated = {"what the source gives, or the breaker behind it lets through",
                                  STANDING_OWNER};
    const Place *place = wiring_place(wiring, root);
    const char *path;
    double limit = limit_of(wiring, place, &path), amperes = mains_current_A(flow, root);
    Working *w = result_working(result, "What is asked of the source");
    steps_of_mains_current(w, flow, root);
    Finding *f =
        result_judge(result, &check_source_limit.info, place->mains_source->id,
                     place->mains_source->path, LEVEL_FAULT, w, amperes,
                     mains_current_spread_A(flow, root), AT_MOST, limit, Q_CURRENT, &stated);
    if (isnan(limit)) {
        finding_text(result, f, "What {about} gives is not known; {value} is asked ({situation})",
                     NULL);
        finding_settle(result, f, path, "read it on the plate, or on the breaker of the quay");
    } else if (amperes > limit)
        finding_text(result, f,
                     "{value} is asked of {about} and {limit} is given ({situation}): off goes {0}",
                     words_of_shedding(wiring, flow, root, limit, result), NULL);
    else
        finding_text(result, f, "{about} gives {limit}, and {value} is asked ({situation})", NULL);
    finding_situation(result, f, mains_flow_words(result, flow));
}

static void
run_limit(const Wiring *wiring, Result *result)
{
    g_auto(Named) unknown = {0};
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        const MainsFlow *flow = place->mains_source != NULL ? greatest_of(wiring, i) : NULL;
        if (flow != NULL)
            judge_limit(wiring, i, flow, result);
        if (place->mains_source != NULL && wiring->mains->len > 0 &&
            isnan(mains_source_V(wiring, place)))
            named_add(&unknown, place->mains_source);
        for (guint k = 0; k < wiring->mains_flows->len; k++) {
            const MainsFlow *at = mains_flow(wiring, k);
            bool own = mains_is_load(wiring, i) || place_inverts(place);
            if (at->unknown[i] && mains_live(at, i) && own && !(at->real_W[i] > 0.0))
                named_add(&unknown,
                          place->mains_source != NULL ? place->mains_source : place->record);
        }
    }
    const char *path = named_first(&unknown), *names = named_words(result, &unknown);
    if (names == NULL)
        return;
    Finding *f = result_say(result, &check_source_limit.info, NULL, "circuits", LEVEL_DOUBT, NULL);
    finding_text(result, f, "Voltage or power is not known of {0}: the sums are too small by that",
                 names, NULL);
    finding_settle(result, f, path, "read the plate: volts, and watts or amperes");
}

/* ---- what is dead ---- */

static void run_dead(const Wiring *wiring, Result *result);
const Check check_mains_supply = {{"wiring", "mains-supply",
                                   "Is everything on the mains that is meant to run live?",
                                   LINE_INSURABLE, mains_cautions},
                                  .wired = run_dead};

static void
name_sources_of(const Wiring *wiring, size_t place, Named *sources)
{
    for (guint k = 0; k < wiring->mains_flows->len; k++)
        if (mains_is_structure(mains_flow(wiring, k)) && mains_live(mains_flow(wiring, k), place))
            named_add(sources, mains_flow(wiring, k)->only);
}

/* Which circuits live, and from where; of the lesser part the names. */
static void
say_live(const Wiring *wiring, const MainsFlow *flow, Result *result)
{
    g_auto(Named) live = {0}, dead = {0}, sources = {0};
    for (guint i = 0; i < wiring->mains->len; i++) {
        const Cable *cable = mains_cable(wiring, i);
        bool feeds = mains_feeds(wiring, flow, i);
        named_add(feeds ? &live : &dead, cable->record);
        if (feeds)
            named_add(&sources, wiring_place(wiring, flow->root[cable->to])->mains_source);
    }
    guint lit = named_count(&live), off = named_count(&dead);
    bool name_live = lit < off;
    const char *from = named_words(result, &sources);
    Finding *f =
        result_say(result, &check_mains_supply.info, flow->situation,
                   result_text(result, "situations.%s", flow->situation), LEVEL_FINE, NULL);
    const char *text = lit == 0    ? "No mains circuit is live ({situation}), and none has to be"
                       : off == 0  ? "Every mains circuit is live ({situation}), from {0}"
                       : name_live ? "Live from {0} ({situation}): {1}; the other mains circuits "
                                     "are dead, and nothing there has to run"
                                   : "Live from {0} ({situation}): every mains circuit but {2}, "
                                     "where nothing has to run";
    finding_text(result, f, text, from != NULL ? from : "",
                 lit > 0 && name_live ? named_words(result, &live) : "",
                 off > 0 && !name_live ? named_words(result, &dead) : "", NULL);
    finding_situation(result, f, mains_flow_words(result, flow));
}

static void
say_dead(const Wiring *wiring, const MainsFlow *flow, Result *result)
{
    g_auto(Named) dead = {0}, sources = {0};
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        bool charges = place->charger != NULL && mains_is_on(flow, place->charger);
        bool wanted = (flow->running[i] || charges) && mains_is_load(wiring, i);
        if (!wanted || mains_live(flow, i))
            continue;
        named_add(&dead, place->record);
        name_sources_of(wiring, i, &sources);
    }
    const char *names = named_words(result, &dead);
    if (names == NULL) {
        say_live(wiring, flow, result);
        return;
    }
    const char *from = named_words(result, &sources);
    Finding *f =
        result_say(result, &check_mains_supply.info, flow->situation,
                   result_text(result, "situations.%s", flow->situation), LEVEL_FAULT, NULL);
    finding_text(result, f,
                 from != NULL ? "Meant to run and dead ({situation}): {0}; only {1} would reach it"
                              : "Meant to run and dead ({situation}): {0}; no source reaches it",
                 names, from != NULL ? from : "", NULL);
    finding_situation(result, f, mains_flow_words(result, flow));
}

static void
run_dead(const Wiring *wiring, Result *result)
{
    g_auto(Named) unwired = {0};
    for (guint k = 0; k < wiring->mains_flows->len; k++) {
        const MainsFlow *flow = mains_flow(wiring, k);
        if (flow->situation == NULL)
            continue;
        say_dead(wiring, flow, result);
        for (guint i = 0; i < wiring->places->len; i++) {
            const Place *place = wiring_place(wiring, i);
            if (flow->running[i] && !place->mains && !place->direct && place_load_V(place) > 60.0)
                named_add(&unwired, place->record);
        }
    }
    const char *path = named_first(&unwired), *names = named_words(result, &unwired);
    if (names == NULL)
        return;
    Finding *f = result_say(result, &check_mains_supply.info, NULL, "circuits", LEVEL_DOUBT, NULL);
    finding_text(result, f, "No circuit of the file leads to {0}", names, NULL);
    finding_settle(result, f, path,
                   "follow its cable with the mains dead and write the circuit down");
}

/* ---- two sources that can meet ---- */

static void run_meeting(const Wiring *wiring, Result *result);
const Check check_two_sources = {
    {"wiring", "two-sources", "Can two mains sources ever meet?", LINE_BURN, two_cautions},
    .wired = run_meeting};

typedef guint64 Sources; /* one bit each; the first 64 count */

/* By each way in: what can come through it. A transfer switch lets each through, one at a time. */
static Sources
bit(const Wiring *wiring, size_t source)
{
    guint k = 0;
    for (guint i = 0; i < source; i++)
        k += wiring_place(wiring, i)->mains_source != NULL;
    return k < 64 ? (Sources) 1 << k : 0;
}

static Sources *
reached_by(const Wiring *wiring)
{
    Sources *by = g_new0(Sources, wiring->places->len + 1);
    for (guint k = 0; k < wiring->mains_flows->len; k++) {
        const MainsFlow *flow = mains_flow(wiring, k);
        for (size_t n = 0; mains_is_structure(flow) && n < flow->live; n++)
            by[flow->order[n]] |= bit(wiring, flow->order[0]);
    }
    return by;
}

/* Two ways in with different sources behind them. */
static bool
can_meet(const Wiring *wiring, const Sources *by, size_t place, Sources *all)
{
    const Place *p = wiring_place(wiring, place);
    bool differ = false, any = false;
    Sources first = 0;
    *all = 0;
    for (guint c = 0; c <= wiring->mains->len; c++) {
        size_t from = c < wiring->mains->len && mains_cable(wiring, c)->to == place
                          ? mains_cable(wiring, c)->from
                      : c == wiring->mains->len ? p->fed_by
                                                : NO_PLACE;
        if (from == NO_PLACE || by[from] == 0)
            continue;
        differ |= any && by[from] != first;
        first = any ? first : by[from];
        any = true;
        *all |= by[from];
    }
    return differ;
}

static void
run_meeting(const Wiring *wiring, Result *result)
{
    g_autofree Sources *by = reached_by(wiring);
    Sources every = 0;
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        every |= wiring->mains->len > 0 && place->mains_source != NULL ? bit(wiring, i) : 0;
        bool transfer = place->record->section == &section_busbars &&
                        ((const Busbar *) place->record->data)->kind == BUSBAR_TRANSFER;
        Sources all;
        if (!place->mains || transfer || !can_meet(wiring, by, i, &all))
            continue;
        g_auto(Named) names = {0};
        for (guint s = 0; s < wiring->places->len; s++)
            if (wiring_place(wiring, s)->mains_source != NULL && (bit(wiring, s) & all) != 0)
                named_add(&names, wiring_place(wiring, s)->mains_source);
        Finding *f = result_say(result, &check_two_sources.info, place->id, place->record->path,
                                LEVEL_DANGER, NULL);
        finding_text(result, f,
                     "{about} can be fed by {0} at once: the plug of one is live from the other. "
                     "Only a transfer switch that breaks before it makes may join them",
                     named_words(result, &names), NULL);
    }
    if ((every & (every - 1)) != 0)
        result_applies(result, &check_two_sources.info);
}
