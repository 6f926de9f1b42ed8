/* Conductors that are fed from both ends: parallel feeds, rings, two banks on one board, a link between banks, a charger behind them.
 * Invariant: what the first end does is check_protection's; of a link, which carries nothing while it is apart, both ends are ours. */
#include <math.h>

#include "checks/wiring/device.h"
#include "checks/wiring/far_side.h"
#include "checks/wiring/workings.h"

static const char *const cautions[] = {"WI4", NULL};

static void run(const Wiring *wiring, Result *result);
const Check check_both_ends = {{"wiring", "both-ends",
                                "Is every cable that is fed from both ends protected at both?",
                                LINE_BURN, cautions},
                               .wired = run};

static const Source rule = {"33 CFR 183.455 and ABYC E-11 as excerpted: every ungrounded conductor "
                            "is protected at each source of power; docs/methods/wires.md 3.1a",
                            STANDING_SECONDARY};
static const Source limited = {"ABYC E-11 as excerpted: what charges limits itself; "
                               "docs/methods/wires.md 3.1a",
                               STANDING_SECONDARY};

static bool
at_both_ends(const Cable *cable)
{
    const Protection *typed = cable_device(cable);
    return typed != NULL && typed->ends == PROTECT_BOTH_ENDS;
}

/* A fault in it is fed from both: each side without what comes through the cable itself. */
static Working *
working_of_sides(const Wiring *wiring, const Cable *cable, Result *result, double far_A)
{
    Working *w = result_working(result, "A dead short in the cable, fed from both its ends");
    working_given(w, "I_from", "all banks into 0 ohm where it is fed, without this cable",
                  wiring_fault_without_A(wiring, cable, cable->from), Q_CURRENT, 0.0, BASIS_STATED,
                  &source_network);
    working_given(w, "I_far", "the same at its other end", far_A, Q_CURRENT, 0.0, BASIS_STATED,
                  &source_network);
    return w;
}

/* A link that burns when it is switched on is one cause. */
static void
same_link(const Cable *cable, Finding *f, Result *result)
{
    g_autofree char *link = g_strconcat("wiring.bank-link.", cable->record->id, NULL);
    const Finding *worse = result_finding_find(result, link);
    if (worse != NULL && worse->level == LEVEL_DANGER)
        finding_cause(result, f, link);
}

static void
say_bare_end(const Wiring *wiring, const Cable *cable, const FarSide *side, size_t place,
             Result *result)
{
    double amperes = wiring_fault_without_A(wiring, cable, place);
    Working *w =
        working_of_sides(wiring, cable, result, wiring_fault_without_A(wiring, cable, cable->to));
    Finding *f = result_say(result, &check_both_ends.info, cable->record->id, cable->record->path,
                            LEVEL_DANGER, w);
    finding_rests_on(result, f, &rule);
    finding_text(result, f,
                 "{about} is fed from {0} too, and no fuse or breaker stands at that end: a "
                 "chafed spot draws up to {1} from there, though the fuse at the other end has "
                 "gone",
                 result_name(result, side->bank->record->path),
                 isfinite(amperes) ? wiring_shown(wiring, result, amperes, Q_CURRENT)
                                   : "all the battery has",
                 NULL);
    same_link(cable, f, result);
    if (cable->protect != NULL)
        finding_lever(result, f, result_text(result, "%s.ends", cable->protect->path), LEVER_CHOICE,
                      NAN, NAN);
}

/* The device that stands there twice must break what comes from the other side as well. */
static bool
say_breaks_too_little(const Wiring *wiring, const Cable *cable, Result *result)
{
    double far_A = wiring_fault_without_A(wiring, cable, cable->to);
    Source source;
    double breaks_A = protection_breaks_A(wiring, cable_device(cable), &source);
    if (!(far_A > breaks_A))
        return false;
    Finding *f = result_judge(result, &check_both_ends.info, cable->record->id, cable->record->path,
                              LEVEL_DANGER, working_of_sides(wiring, cable, result, far_A), far_A,
                              0.1 * far_A, AT_MOST, breaks_A, Q_CURRENT, &source);
    finding_text(result, f,
                 "A dead short in {about} draws up to {value} from its far end; the device there "
                 "breaks {limit}",
                 NULL);
    return true;
}

/* Devices farther off let through what they are rated for, all together; chargers what they give. */
static void
judge_sum(const Wiring *wiring, const Cable *cable, const FarSide *side, Result *result)
{
    enum { NAMED = 3 };
    bool banks = side->devices->len > 0;
    double sum = side->devices_A + side->chargers_A, allowed = cable->ampacity.allowed_A;
    Working *w = banks ? working_of_sides(wiring, cable, result,
                                          wiring_fault_without_A(wiring, cable, cable->to))
                       : result_working(result, "What reaches the cable from its far end");
    steps_of_ampacity(w, cable);
    working_given(w, "I_devices", "let through by what protects it from that side, together",
                  side->devices_A, Q_CURRENT, 0.0, BASIS_STATED, &rule);
    working_given(w, "I_chargers", "given there by what charges", side->chargers_A, Q_CURRENT, 0.0,
                  BASIS_STATED, &limited);
    working_reckon(w, "I", "lasting, from its far end", "I_devices + I_chargers", sum, Q_CURRENT,
                   0.0, NULL);
    Finding *f = result_judge(result, &check_both_ends.info, cable->record->id, cable->record->path,
                              sum > 1.5 * allowed ? LEVEL_DANGER : LEVEL_FAULT, w, sum, 0.0,
                              AT_MOST, allowed, Q_CURRENT, banks ? &rule : &limited);
    g_autoptr(GPtrArray) owners = g_ptr_array_new();
    for (guint i = 0; i < side->devices->len; i++)
        g_ptr_array_add(owners, ((const Record *) g_ptr_array_index(side->devices, i))->parent);
    finding_text(result, f,
                 banks ? "From its far end {about} is protected by that of {0}: {value} together; "
                         "its conductor may carry {limit} where it runs"
                       : "From its far end {about} gets {value} at most, from {0}; its conductor "
                         "may carry {limit} where it runs",
                 banks ? named_records(result, owners, NAMED)
                       : result_name(result, side->charger->record->path),
                 NULL);
    lever_thicker(result, f, cable);
    if (isnan(side->devices_A))
        finding_settle(result, f, cable->record->path,
                       "read the number on each fuse and breaker that leads to its far end");
    else if (isnan(side->chargers_A))
        finding_settle(result, f, result_text(result, "%s.current", side->charger->source->path),
                       "read the most it gives off its plate");
}

/* At its first end; where it is not, that is a danger of its own. */
static bool
is_protected(const Wiring *wiring, const Cable *cable)
{
    const Record *protect = cable_protection(wiring, cable);
    return protect != NULL && ((const Protection *) protect->data)->kind != PROTECT_NONE;
}

static void
judge_far(const Wiring *wiring, const GArray *joins, const Cable *cable, Result *result)
{
    g_auto(FarSide) side = far_side_of(wiring, joins, cable, cable->to);
    bool fed = side.bank != NULL || side.devices->len > 0;
    if (at_both_ends(cable)) {
        if (fed && !say_breaks_too_little(wiring, cable, result))
            result_applies(result, &check_both_ends.info);
    } else if (side.bank != NULL && is_protected(wiring, cable)) {
        say_bare_end(wiring, cable, &side, cable->to, result);
    } else if (side.bank == NULL && (fed || side.charger != NULL)) {
        judge_sum(wiring, cable, &side, result);
    }
}

/* Its first end, which nobody else looks at while it is apart. */
static bool
say_bare_link(const Wiring *wiring, const GArray *joins, const Cable *link, Result *result)
{
    const Protection *typed = link->protect != NULL ? link->protect->data : NULL;
    g_auto(FarSide) side = far_side_of(wiring, joins, link, link->from);
    if (side.bank == NULL || cable_device(link) != NULL)
        return false;
    double amperes = wiring_fault_without_A(wiring, link, link->from);
    Finding *f = result_say(result, &check_both_ends.info, link->record->id, link->record->path,
                            typed != NULL ? LEVEL_DANGER : LEVEL_DOUBT, NULL);
    finding_rests_on(result, f, &rule);
    finding_text(result, f,
                 typed != NULL ? "Nothing protects {about} at either end: a chafed spot draws up "
                                 "to {0} until the cable is gone, switched on or off"
                               : "What protects {about} at either end is not said",
                 isfinite(amperes) ? wiring_shown(wiring, result, amperes, Q_CURRENT)
                                   : "all the battery has",
                 NULL);
    if (typed == NULL)
        finding_settle(result, f, result_text(result, "%s.protect", link->record->path),
                       "follow it and write the fuses down, or kind: none");
    same_link(link, f, result);
    return true;
}

static void
run(const Wiring *wiring, Result *result)
{
    g_autoptr(GArray) joins = far_side_joins(wiring);
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        if (cable->typed->wires != WIRES_NEGATIVE && !cable->cranks)
            judge_far(wiring, joins, cable, result);
    }
    for (guint i = 0; i < wiring->links->len; i++) {
        const Cable *link = &g_array_index(wiring->links, Cable, i);
        if (link->typed->wires != WIRES_NEGATIVE && !say_bare_link(wiring, joins, link, result))
            judge_far(wiring, joins, link, result);
    }
}
