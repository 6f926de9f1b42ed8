/* A dead short on the mains side: can each breaker break it, and does it darken its own circuit alone.
 * Invariant: the greatest current counts: cold cables, and the least loop that the source may have. */
#include <math.h>

#include "checks/wiring/device.h"
#include "checks/wiring/mains_workings.h"
#include "checks/wiring/workings.h"

/* ---- what it can break ---- */

static void run_breaking(const Wiring *wiring, Result *result);
const Check check_mains_breaking = {{"wiring", "mains-breaking",
                                     "Can each mains breaker break a dead short?", LINE_BURN,
                                     mains_cautions},
                                    .wired = run_breaking};

typedef struct {
    const MainsFlow *flow;
    double amperes, most_A; /* at the loop as stated, and at the least it may be */
} Greatest;

/* What a dead short draws at a place, from whichever source drives most; flow NULL: not known. */
static Greatest
greatest_at(const Wiring *wiring, size_t place)
{
    Greatest found = {NULL, 0.0, 0.0};
    for (guint k = 0; k < wiring->mains_flows->len; k++) {
        const MainsFlow *flow = mains_flow(wiring, k);
        if (!mains_is_structure(flow) || !mains_live(flow, place))
            continue;
        MainsLoop loop = mains_loop(wiring, flow, place, true);
        double volts = flow->voltage_V[flow->root[place]];
        double most_A = volts / fmax(loop.ohm - loop.spread_ohm, 0.01 * loop.ohm);
        if (most_A > found.most_A)
            found = (Greatest){flow, volts / loop.ohm, most_A};
    }
    return found;
}

typedef struct { /* breakers that break the same; that where most can flow speaks for them */
    double capacity_A;
    Source source;
    size_t place;
    Greatest greatest;
    const Record *protect;
    Named owners;
} Group;

static void
group_clear(gpointer data)
{
    named_clear(&((Group *) data)->owners);
}

static Group *
group_of(GArray *groups, double capacity_A)
{
    for (guint i = 0; i < groups->len; i++) {
        Group *group = &g_array_index(groups, Group, i);
        if (group->capacity_A == capacity_A || (isnan(group->capacity_A) && isnan(capacity_A)))
            return group;
    }
    Group fresh = {.capacity_A = capacity_A};
    g_array_append_val(groups, fresh);
    return &g_array_index(groups, Group, groups->len - 1);
}

static void
put(const Wiring *wiring, GArray *groups, const Record *protect, size_t place)
{
    const Protection *typed = protect != NULL ? protect->data : NULL;
    bool breaks = typed != NULL && typed->kind != PROTECT_NONE && isfinite(typed->rating_A);
    Greatest greatest = breaks ? greatest_at(wiring, place) : (Greatest){NULL, 0.0, 0.0};
    if (greatest.flow == NULL)
        return;
    Source source;
    double capacity_A = protection_breaks_A(wiring, typed, &source);
    Group *group = group_of(groups, capacity_A);
    named_add(&group->owners, protect->parent);
    if (group->greatest.flow != NULL && greatest.most_A <= group->greatest.most_A)
        return;
    group->source = source;
    group->place = place;
    group->greatest = greatest;
    group->protect = protect;
}

static GArray *
find_groups(const Wiring *wiring)
{
    GArray *groups = g_array_new(FALSE, TRUE, sizeof(Group));
    g_array_set_clear_func(groups, group_clear);
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        if (!place->mains)
            continue;
        put(wiring, groups, record_role(place->record, &section_busbar_protect), i);
        if (place->mains_source != NULL)
            put(wiring, groups, record_role(place->mains_source, &section_source_protect), i);
    }
    for (guint i = 0; i < wiring->mains->len; i++)
        put(wiring, groups, mains_cable(wiring, i)->protect, mains_cable(wiring, i)->from);
    return groups;
}

static void
judge_group(const Wiring *wiring, const Group *group, Result *result)
{
    enum { NAMED = 3 };
    const MainsFlow *flow = group->greatest.flow;
    const Record *owner = group->protect->parent;
    double amperes = group->greatest.amperes, spread = group->greatest.most_A - amperes;
    bool one = named_count(&group->owners) == 1, unknown = isnan(group->capacity_A);
    Working *w = result_working(result, "A dead short behind the breaker");
    steps_of_mains_loop(w, wiring, flow, group->place, true);
    working_given(w, "U", "voltage of the source", flow->voltage_V[flow->root[group->place]],
                  Q_VOLTAGE, 0.0, BASIS_STATED, NULL);
    working_reckon(w, "I_k", "current of the short", "U / Z", amperes, Q_CURRENT, spread, NULL);
    Finding *f = result_judge(result, &check_mains_breaking.info, unknown ? NULL : owner->id,
                              unknown ? "circuits" : owner->path, LEVEL_DANGER, w, amperes, spread,
                              AT_MOST, group->capacity_A, Q_CURRENT, &group->source);
    const char *who =
        one ? result_text(result, "the breaker of %s", result_name(result, owner->path))
            : result_text(result, "any of %u breakers (%s)", named_count(&group->owners),
                          named_records(result, group->owners.records, NAMED));
    const char *most = wiring_shown(wiring, result, group->greatest.most_A, Q_CURRENT);
    finding_text(result, f,
                 unknown
                     ? "How great a fault {0} can break is not known; up to {1} can flow on her "
                       "mains"
                     : "A dead short behind {0} draws {value}, up to {1}; it breaks {limit}",
                 who, most, NULL);
    if (unknown)
        finding_settle(result, f, result_text(result, "%s.breaking-capacity", group->protect->path),
                       "read the number in the small frame on the breaker (1500 to 10000 A)");
    else if (f->level == LEVEL_DOUBT)
        finding_settle(result, f, result_text(result, "%s.fault-current", flow->only->path),
                       "ask the harbour for it, or have a licensed electrician measure it");
}

static void
run_breaking(const Wiring *wiring, Result *result)
{
    g_autoptr(GArray) groups = find_groups(wiring);
    for (guint i = 0; i < groups->len; i++)
        judge_group(wiring, &g_array_index(groups, Group, i), result);
}

/* ---- its own circuit alone ---- */

static void run_selective(const Wiring *wiring, Result *result);
const Check check_mains_selective = {
    {"wiring", "mains-selective", "Does a fault in one mains circuit darken that circuit alone?",
     LINE_INSURABLE, mains_cautions},
    .wired = run_selective};

static const Protection *
acts(const Record *protect)
{
    const Protection *typed = protect != NULL ? protect->data : NULL;
    return typed != NULL && typed->kind != PROTECT_NONE && typed->rating_A > 0.0 ? typed : NULL;
}

/* The nearest before a circuit's own, all aboard: the quay's is nobody's choice. NULL: none. */
static const Record *
before_it(const Wiring *wiring, const MainsFlow *flow, size_t cable)
{
    const Record *device[MAINS_DEVICES];
    size_t n = mains_devices(wiring, flow, cable, device);
    for (size_t i = 1; i < n; i++)
        if (acts(device[i]) != NULL)
            return device[i];
    return NULL;
}

/* What trips first when no more than too much is drawn: the smaller one. */
static void
say_larger(const Cable *cable, const Record *before, Result *result)
{
    Finding *f = result_say(result, &check_mains_selective.info, cable->record->id,
                            cable->record->path, LEVEL_FAULT, NULL);
    finding_text(result, f,
                 "{about} has a breaker of {0} behind one of {1} ({2}): that one trips first, and "
                 "all that hangs on it goes dark",
                 result_text(result, "%g A", acts(cable->protect)->rating_A),
                 result_text(result, "%g A", acts(before)->rating_A),
                 result_name(result, before->parent->path), NULL);
    g_autofree char *burns = g_strconcat("wiring.mains-breaker.", cable->record->id, NULL);
    const Finding *danger = result_finding_find(result, burns);
    if (danger != NULL && danger->level <= LEVEL_FAULT)
        finding_cause(result, f, burns);
}

static void
run_selective(const Wiring *wiring, Result *result)
{
    g_auto(Named) both = {0}, owners = {0};
    const char *path = NULL;
    for (guint i = 0; i < wiring->mains->len; i++) {
        const Cable *cable = mains_cable(wiring, i);
        const MainsFlow *flow = mains_alone(wiring, i);
        const Protection *nearer = acts(cable->protect);
        const Record *before = flow != NULL && nearer != NULL ? before_it(wiring, flow, i) : NULL;
        if (before == NULL || !mains_is_final(wiring, i))
            continue;
        result_applies(result, &check_mains_selective.info);
        double fault_A = greatest_at(wiring, cable->from).amperes;
        if (nearer->rating_A > acts(before)->rating_A)
            say_larger(cable, before, result);
        else if (devices_may_both_act(wiring->catalog, acts(before), nearer, false, fault_A)) {
            named_add(&both, cable->record);
            named_add(&owners, before->parent);
            path = path != NULL ? path : before->path;
        }
    }
    if (path == NULL)
        return;
    Finding *f =
        result_say(result, &check_mains_selective.info, NULL, "circuits", LEVEL_DOUBT, NULL);
    finding_text(result, f,
                 "A dead short behind {0} may also trip what feeds {1}; then all of that board "
                 "goes dark",
                 named_count(&both) == 1
                     ? named_words(result, &both)
                     : result_text(result, "any of %u mains breakers", named_count(&both)),
                 named_words(result, &owners), NULL);
    finding_settle(result, f, path,
                   "look up in the maker's table up to which current the two act one after the "
                   "other");
}
