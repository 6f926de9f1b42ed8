/* What a dead short does before it is cut off: the heat in the conductor, and how many devices it takes along.
 * Invariant: a breaker's 0.1 s is the most its standard allows, not what it takes: it gives a doubt, never a fault. */
#include <math.h>

#include "checks/wiring/device.h"
#include "checks/wiring/workings.h"
#include "physics/wiring/cable_withstand.h"

static const char *const cautions[] = {"WI4", NULL};

/* ---- heat ---- */

static void run_withstand(const Wiring *wiring, Result *result);
const Check check_withstand = {{"wiring", "withstand",
                                "Does every conductor survive a dead short until it is cut off?",
                                LINE_BURN, cautions},
                               .wired = run_withstand};

typedef struct {
    double fault_A, time_s, constant, least_m2;
    Source source;
} Heat;

static bool
heat_of(const Wiring *wiring, const Cable *cable, Heat *heat)
{
    const Protection *device = cable_device(cable);
    FuseTime time;
    heat->fault_A = wiring->fault_A[cable->from];
    if (device == NULL || cable->cranks || !isfinite(heat->fault_A) ||
        !isfinite(cable->typed->area_m2) ||
        !device_time(wiring->catalog, device, true, heat->fault_A, &time, &heat->source) ||
        !isfinite(time.slowest_s) || time.slowest_s > 5.0)
        return false;
    heat->time_s = time.slowest_s;
    heat->constant = cable_withstand_constant(cable->typed);
    heat->least_m2 = withstand_area_m2(heat->constant, heat->fault_A, heat->time_s);
    return true;
}

static void
say_too_thin(const Cable *cable, const Heat *heat, Result *result)
{
    Working *w = result_working(result, "Heat of a dead short against what the copper takes up");
    working_given(w, "I_k", "all banks into 0 ohm where the circuit is fed", heat->fault_A,
                  Q_CURRENT, 0.0, BASIS_ASSUMED, &source_network);
    working_given(w, "t", "until the fuse has melted, at the slowest", heat->time_s, Q_TIME, 0.0,
                  BASIS_STATED, &heat->source);
    working_from_boat(w, "S", cable->record, "area");
    Finding *f = result_judge(result, &check_withstand.info, cable->record->id, cable->record->path,
                              LEVEL_FAULT, w, cable->typed->area_m2, 0.0, AT_LEAST, heat->least_m2,
                              Q_SMALL_AREA, &heat->source);
    finding_text(result, f,
                 "In a dead short {about} burns before its fuse has melted: {value}, and {limit} "
                 "is needed",
                 NULL);
    lever_thicker(result, f, cable);
}

static void
say_breakers(guint n, const Cable *first, Result *result)
{
    Finding *f =
        result_say(result, &check_withstand.info, "breakers", "circuits", LEVEL_DOUBT, NULL);
    finding_text(result, f,
                 n == 1
                     ? "Whether the conductor of {1} survives a dead short hangs on how fast its "
                       "breaker is: the 0.1 s of its standard are too long"
                     : "Whether the conductors behind {0} breakers ({1} and others) survive a "
                       "dead short hangs on how fast these are: the 0.1 s of their standard are "
                       "too long",
                 result_text(result, "%u", n), result_name(result, first->record->path), NULL);
    finding_settle(result, f, first->protect->path,
                   "look up the let-through energy (I2t) in the maker's sheet of the breaker");
}

static void
say_recalled(guint n, Result *result)
{
    Finding *f =
        result_say(result, &check_withstand.info, "recalled", "circuits", LEVEL_DOUBT, NULL);
    finding_text(result, f,
                 "{0} conductors would survive a dead short until it is cut off, as far as the "
                 "times of their fuses and breakers are recalled rightly",
                 result_text(result, "%u", n), NULL);
    finding_settle(result, f, "circuits",
                   "compare the time-current sheets of the fuses and breakers fitted");
}

static void
run_withstand(const Wiring *wiring, Result *result)
{
    guint slow = 0, recalled = 0;
    const Cable *first_slow = NULL;
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        Heat heat;
        if (!heat_of(wiring, cable, &heat))
            continue;
        bool thin = cable->typed->area_m2 < heat.least_m2;
        if (thin && cable_device(cable)->kind == PROTECT_FUSE) {
            say_too_thin(cable, &heat, result);
        } else if (thin) {
            first_slow = first_slow != NULL ? first_slow : cable;
            slow++;
        } else {
            recalled++;
        }
    }
    if (slow > 0)
        say_breakers(slow, first_slow, result);
    if (recalled > 0)
        say_recalled(recalled, result);
}

/* ---- cut off at the far end too ---- */

static void run_far(const Wiring *wiring, Result *result);
const Check check_far_short = {{"wiring", "far-short",
                                "Is a dead short at the far end of each circuit cut off in time?",
                                LINE_BURN, cautions},
                               .wired = run_far};

#define CLEARS_S 5.0 /* as far as heat stays in the copper: docs/methods/wires.md 3.1e */

typedef struct {
    double feed_A, far_A, ohm, nominal_V;
    FuseTime time;
    Source source;
} FarShort;

/* Banks as they are, the cable as hot as it bears; the voltage is taken as the nominal one, which is less than what is there. */
static bool
far_short(const Wiring *wiring, const Cable *cable, FarShort *far)
{
    const Protection *device = cable_device(cable);
    far->feed_A = wiring->weak_fault_A[cable->from];
    far->ohm = cable_ohm(cable, cable->typed->insulation_K);
    far->nominal_V = wiring_place(wiring, cable->from)->nominal_V;
    far->far_A = far->nominal_V / (far->nominal_V / far->feed_A + far->ohm);
    return device != NULL && !cable->cranks && cable->typed->wires != WIRES_NEGATIVE &&
           isfinite(far->far_A) &&
           device_time(wiring->catalog, device, true, far->far_A, &far->time, &far->source);
}

/* A time that is not given: at that current it need not act at all. */
static bool
longer(double time_s)
{
    return !(time_s <= CLEARS_S);
}

static void
say_far(const Wiring *wiring, const Cable *cable, const FarShort *far, Result *result)
{
    Working *w = result_working(result, "A dead short at the far end, at the least");
    working_given(w, "U", "nominal voltage", far->nominal_V, Q_VOLTAGE, 0.0, BASIS_STATED, NULL);
    working_given(w, "I_from", "dead short where it is fed, banks as they are", far->feed_A,
                  Q_CURRENT, 0.0, BASIS_STATED, &source_network);
    working_given(w, "R", "of the cable, as hot as it bears", far->ohm, Q_RESISTANCE, 0.0,
                  BASIS_STATED, &cable->resistance_source);
    working_reckon(w, "I_far", "dead short at its far end", "U / (U / I_from + R)", far->far_A,
                   Q_CURRENT, 0.0, &source_network);
    Finding *f = result_say(result, &check_far_short.info, cable->record->id, cable->record->path,
                            LEVEL_FAULT, w);
    finding_rests_on(result, f, &far->source);
    finding_text(
        result, f,
        "A dead short at the far end of {about} draws {0}: its {1} of {2} does not cut that "
        "off within {3}, and the cable burns along its way",
        wiring_shown(wiring, result, far->far_A, Q_CURRENT),
        cable_device(cable)->kind == PROTECT_FUSE ? "fuse" : "breaker",
        result_text(result, "%g A", cable_device(cable)->rating_A),
        wiring_shown(wiring, result, CLEARS_S, Q_TIME), NULL);
    lever_thicker(result, f, cable);
}

static void
run_far(const Wiring *wiring, Result *result)
{
    g_autoptr(GPtrArray) perhaps = g_ptr_array_new();
    const Record *first = NULL;
    enum { NAMED = 3 };
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        FarShort far;
        if (!far_short(wiring, cable, &far))
            continue; /* a recalled time is never shown to be met */
        if (longer(far.time.fastest_s))
            say_far(wiring, cable, &far, result);
        else if (longer(far.time.slowest_s)) {
            g_ptr_array_add(perhaps, (gpointer) cable->record);
            first = first != NULL ? first : cable->protect;
        }
    }
    if (first == NULL)
        return;
    Finding *f = result_say(result, &check_far_short.info, NULL, "circuits", LEVEL_DOUBT, NULL);
    finding_text(result, f,
                 "Whether a dead short at its far end is cut off before the cable burns is not "
                 "known of {0}",
                 named_records(result, perhaps, NAMED), NULL);
    finding_settle(result, f, first->path,
                   "compare the time-current sheet of the fuse or breaker with that current");
}

/* ---- one fault, one device ---- */

static void run_selective(const Wiring *wiring, Result *result);
const Check check_selective = {{"wiring", "selective",
                                "Does a short in one circuit darken that circuit alone?",
                                LINE_INSURABLE, cautions},
                               .wired = run_selective};

/* The device through which a board is fed, or NULL. */
static const Record *
device_before(const Wiring *wiring, size_t board)
{
    const Record *own = record_role(wiring_place(wiring, board)->record, &section_busbar_protect);
    for (guint i = 0; own == NULL && i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        if (cable->to == board && cable->typed->wires != WIRES_NEGATIVE)
            own = cable->protect;
    }
    return own;
}

static bool
is_critical(const Place *place)
{
    return place->load != NULL && ((const LoadRole *) place->load->data)->use == LOAD_CRITICAL;
}

typedef struct {
    guint devices, dark;
    const Cable *device; /* the first that does not act alone */
    const Place *critical;
} Together;

static Together
look_behind(const Wiring *wiring, size_t board, const Protection *before)
{
    Together all = {0, 0, NULL, NULL};
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        const Protection *nearer = cable_device(cable);
        if (cable->from != board || cable->typed->wires == WIRES_NEGATIVE)
            continue;
        all.dark++;
        if (all.critical == NULL && is_critical(wiring_place(wiring, cable->to)))
            all.critical = wiring_place(wiring, cable->to);
        if (nearer == NULL ||
            !devices_may_both_act(wiring->catalog, before, nearer, true, wiring->fault_A[board]))
            continue;
        all.device = all.device != NULL ? all.device : cable;
        all.devices++;
    }
    return all;
}

static void
run_selective(const Wiring *wiring, Result *result)
{
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *board = wiring_place(wiring, i);
        const Record *before = device_before(wiring, i);
        const Protection *typed = before != NULL ? before->data : NULL;
        if (board->record->section != &section_busbars || typed == NULL || board->source != NULL ||
            typed->kind == PROTECT_NONE || !isfinite(wiring->fault_A[i]))
            continue;
        Together all = look_behind(wiring, i, typed);
        if (all.device == NULL || all.critical == NULL)
            continue; /* nothing goes dark that she cannot do without */
        Finding *f = result_say(result, &check_selective.info, board->id, board->record->path,
                                LEVEL_DOUBT, NULL);
        finding_text(result, f,
                     "A dead short behind {0} may also trip what feeds {about}; then all {1} go "
                     "dark, {2} among them",
                     all.devices == 1
                         ? result_name(result, all.device->record->path)
                         : result_text(result, "any of %u fuses or breakers", all.devices),
                     result_text(result, "%u of its circuits", all.dark),
                     result_name(result, all.critical->record->path), NULL);
        finding_settle(result, f, before->path,
                       "look up in the maker's table up to which current the two act one after the "
                       "other, or feed what is critical past that board");
    }
}
