/* Can each fuse and breaker break a dead short. Those of one board that break the same are one question: the fault there and its
 * doubt are the same for all of them. */
#include <math.h>

#include "checks/wiring/device.h"
#include "checks/wiring/workings.h"

static const char *const cautions[] = {"WI4", NULL};

static void run_breaking(const Wiring *wiring, Result *result);
const Check check_breaking = {
    {"wiring", "breaking", "Can each fuse and breaker break a dead short?", LINE_BURN, cautions},
    .wired = run_breaking};

/* A figure typed as the bank's own is taken as it stands; one reckoned from labels is worth a third of itself. */
#define TYPED_FRAC 0.1
#define RECKONED_FRAC 0.3

static bool
stated(const BatteryRole *battery)
{
    return isfinite(battery->short_circuit_A) || isfinite(battery->resistance_ohm);
}

static bool
of_one_voltage(const Place *bank, const Place *board)
{
    return !(fabs(bank->nominal_V / board->nominal_V - 1.0) > 0.3);
}

/* The bank that feeds a dead short there most, of those whose own figure nobody has stated; NULL: all are stated. */
static const Place *
unstated_bank(const Wiring *wiring, const Place *board)
{
    const Place *greatest = NULL;
    double most_A = 0.0;
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        const BatteryRole *battery = place->battery != NULL ? place->battery->data : NULL;
        if (battery == NULL || place->source == NULL || stated(battery) ||
            !of_one_voltage(place, board))
            continue;
        double amperes = battery_open_V(battery, true) / battery_ohm(battery, true);
        if (greatest == NULL || amperes > most_A) {
            greatest = place;
            most_A = amperes;
        }
    }
    return greatest;
}

/* The devices that break the same on one board; circuits in the order of the file. */
typedef struct {
    size_t at; /* place */
    double capacity_A;
    Source source;
    GPtrArray *cables; /* const Cable * */
} Group;

static bool
same_capacity(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

static Group *
group_of(GArray *groups, size_t at, double capacity_A, const Source *source)
{
    for (guint i = 0; i < groups->len; i++) {
        Group *group = &g_array_index(groups, Group, i);
        if (group->at == at && same_capacity(group->capacity_A, capacity_A))
            return group;
    }
    Group fresh = {at, capacity_A, *source, g_ptr_array_new()};
    g_array_append_val(groups, fresh);
    return &g_array_index(groups, Group, groups->len - 1);
}

static void
group_clear(gpointer data)
{
    g_ptr_array_unref(((Group *) data)->cables);
}

static GArray *
find_groups(const Wiring *wiring)
{
    GArray *groups = g_array_new(FALSE, TRUE, sizeof(Group));
    g_array_set_clear_func(groups, group_clear);
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        const Protection *typed = cable_device(cable);
        Source source;
        if (typed == NULL || !isfinite(wiring->fault_A[cable->from]))
            continue;
        double capacity_A = protection_breaks_A(wiring, typed, &source);
        g_ptr_array_add(group_of(groups, cable->from, capacity_A, &source)->cables,
                        (gpointer) cable);
    }
    return groups;
}

/* The first group of a board bears the board's name, any other that of its first circuit. */
static const Record *
about_whom(const Wiring *wiring, const Group *group, Result *result)
{
    const Record *board = wiring_place(wiring, group->at)->record;
    const Cable *first = g_ptr_array_index(group->cables, 0);
    g_autofree char *id = g_strconcat("wiring.breaking.", board->id, NULL);
    return group->cables->len > 1 && result_finding_find(result, id) == NULL ? board
                                                                             : first->record;
}

static const char *
sentence(const Group *group, bool one)
{
    if (isnan(group->capacity_A))
        return one ? "How great a fault the protection of {about} can break is not known; up to "
                     "{value} can flow"
                   : "How great a fault {0} can break is not known; up to {value} can flow there";
    return one ? "A dead short behind the protection of {about} draws up to {value}; it breaks "
                 "{limit}"
               : "A dead short behind {0} draws up to {value}; each breaks {limit}";
}

/* "any of 16 fuses and breakers on switch panel (saloon lights, horn and 14 more)" */
static const char *
devices_words(const Wiring *wiring, const Group *group, Result *result)
{
    enum { NAMED = 3 };
    g_autoptr(GPtrArray) records = g_ptr_array_new();
    for (guint i = 0; i < group->cables->len; i++)
        g_ptr_array_add(records,
                        (gpointer) ((const Cable *) g_ptr_array_index(group->cables, i))->record);
    return result_text(result, "any of the %u fuses or breakers on %s (%s)", records->len,
                       result_name(result, wiring_place(wiring, group->at)->record->path),
                       named_records(result, records, NAMED));
}

static void
settle(const Wiring *wiring, const Group *group, Finding *f, Result *result)
{
    const Cable *first = g_ptr_array_index(group->cables, 0);
    const Place *bank = unstated_bank(wiring, wiring_place(wiring, group->at));
    if (isnan(group->capacity_A))
        finding_settle(result, f, result_text(result, "%s.breaking-capacity", first->protect->path),
                       "look up what it can break, from its maker");
    else if (bank != NULL)
        finding_settle(result, f,
                       result_text(result, "%s.short-circuit-current", bank->battery->path),
                       "look up what a dead short of the bank draws, from its maker");
}

static void
judge_group(const Wiring *wiring, const Group *group, Result *result)
{
    const Record *about = about_whom(wiring, group, result);
    bool one = group->cables->len == 1;
    double fault = wiring->fault_A[group->at];
    bool reckoned = unstated_bank(wiring, wiring_place(wiring, group->at)) != NULL;
    double spread = fault * (reckoned ? RECKONED_FRAC : TYPED_FRAC);
    Working *w = result_working(result, "A dead short behind the fuse");
    working_given(w, "I_k", "all banks into 0 ohm there, new, full and warm", fault, Q_CURRENT,
                  spread, BASIS_ASSUMED, &source_network);
    Finding *f = result_judge(result, &check_breaking.info, about->id, about->path, LEVEL_DANGER, w,
                              fault, spread, AT_MOST, group->capacity_A, Q_CURRENT, &group->source);
    finding_text(result, f, sentence(group, one), one ? NULL : devices_words(wiring, group, result),
                 NULL);
    for (guint i = 0; i < group->cables->len; i++) {
        const Cable *cable = g_ptr_array_index(group->cables, i);
        if (cable_device(cable)->kind == PROTECT_FUSE && isnan(cable_device(cable)->breaking_A))
            finding_lever(result, f, result_text(result, "%s.class", cable->protect->path),
                          LEVER_CHOICE, NAN, NAN);
    }
    settle(wiring, group, f, result);
}

static void
run_breaking(const Wiring *wiring, Result *result)
{
    g_autoptr(GArray) groups = find_groups(wiring);
    for (guint i = 0; i < groups->len; i++)
        judge_group(wiring, &g_array_index(groups, Group, i), result);
}

/* ---- made for the voltage ---- */

static void run_volts(const Wiring *wiring, Result *result);
const Check check_fuse_volts = {{"wiring", "fuse-volts",
                                 "Is each fuse made for the voltage it has to cut off?", LINE_BURN,
                                 cautions},
                                .wired = run_volts};

/* Fuses of one class that are asked for too much are one cause; the first speaks for them. */
static void
judge_class(const Wiring *wiring, FuseFamily family, Result *result)
{
    g_autoptr(GPtrArray) records = g_ptr_array_new();
    const Cable *worst = NULL;
    Source source;
    double bears_V = NAN, most_V = 0.0;
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        const Protection *typed = cable_device(cable);
        double volts = wiring_place(wiring, cable->from)->nominal_V;
        if (typed == NULL || typed->family != (int) family || !isfinite(volts))
            continue;
        bears_V = protection_volts_V(wiring, typed, &source);
        if (volts > bears_V)
            g_ptr_array_add(records, (gpointer) cable->record);
        if (volts > most_V) {
            most_V = volts;
            worst = cable;
        }
    }
    if (worst == NULL || !isfinite(bears_V) || records->len == 0)
        return; /* that fuses fit is no news, and the figures are of a class, not of a maker */
    enum { NAMED = 3 };
    Working *w = result_working(result, "The voltage of the circuit against that of the fuse");
    working_given(w, "U", "voltage of the circuit", most_V, Q_VOLTAGE, 0.0, BASIS_STATED, NULL);
    Finding *f =
        result_judge(result, &check_fuse_volts.info, worst->record->id, worst->record->path,
                     LEVEL_DANGER, w, most_V, 0.0, AT_MOST, bears_V, Q_VOLTAGE, &source);
    finding_text(result, f,
                 "The fuse of {0} is of a class made for {limit} at most and has to cut off "
                 "{value}: its arc may burn on",
                 named_records(result, records, NAMED), NULL);
    for (guint i = 0; i < records->len; i++)
        finding_lever(result, f,
                      result_text(result, "%s.protect.class",
                                  ((const Record *) g_ptr_array_index(records, i))->path),
                      LEVER_CHOICE, NAN, NAN);
}

static void
run_volts(const Wiring *wiring, Result *result)
{
    for (FuseFamily family = FUSE_BLADE; family <= FUSE_NH_GG; family++)
        judge_class(wiring, family, result);
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Protection *typed = cable_device(wiring_cable(wiring, i));
        if (typed != NULL && typed->kind == PROTECT_FUSE)
            result_applies(result, &check_fuse_volts.info);
    }
}
