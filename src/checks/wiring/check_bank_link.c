/* Two banks joined: what flows from the full one into the empty one, and whether their link bears it. */
#include <math.h>

#include "checks/wiring/far_side.h"
#include "checks/wiring/workings.h"
#include "physics/wiring/bank_equalise.h"
#include "physics/wiring/rest_voltage.h"

#define EMPTY_FRAC 0.2 /* as far down as a bank is found when somebody needs the link */

static const char *const cautions[] = {"WI4", "PO1", NULL};

static void run(const Wiring *wiring, Result *result);
const Check check_bank_link = {{"wiring", "bank-link",
                                "Can two banks be joined without burning their link?", LINE_BURN,
                                cautions},
                               .wired = run};

static const Source nature = {"two banks of different voltage are a short circuit for each other",
                              STANDING_DERIVED};
static const Source open_voltage = {"docs/methods/wires.md 4.3: open voltage by charge",
                                    STANDING_SECONDARY};

static double
open_V_at(const BatteryRole *battery, double charge_frac)
{
    RestState rest;
    RestChemistry chemistry =
        battery->chemistry == BATTERY_LFP ? CHEMISTRY_LFP : CHEMISTRY_FLOODED_LEAD;
    return rest_voltage_at(chemistry, battery->voltage_V, charge_frac, &rest) == REFUSED
               ? NAN
               : rest.rest_V;
}

static void
say_voltages(const Cable *link, const Record *a, const Record *b, Result *result)
{
    Working *w = result_working(result, "The voltages of the two banks");
    working_from_boat(w, "U_1", a, "voltage");
    working_from_boat(w, "U_2", b, "voltage");
    double apart = fabs(((const BatteryRole *) a->data)->voltage_V -
                        ((const BatteryRole *) b->data)->voltage_V);
    working_reckon(w, "dU", "between them", "abs(U_1 - U_2)", apart, Q_VOLTAGE, 0.0, NULL);
    Finding *f = result_judge(result, &check_bank_link.info, link->record->id, link->record->path,
                              LEVEL_DANGER, w, apart, 0.0, AT_MOST, 1.0, Q_VOLTAGE, &nature);
    finding_text(
        result, f,
        "{about} joins {0} and {1}, whose voltages differ by {value}: switched on it burns",
        result_name(result, a->parent->path), result_name(result, b->parent->path), NULL);
}

/* The greatest current: one full and new, the other low; both ways counted, which one is full. */
static double
greatest_A(const BatteryRole *a, const BatteryRole *b, double link_ohm, double *volts, double *ohm)
{
    double one = open_V_at(a, 1.0) - open_V_at(b, EMPTY_FRAC);
    double other = open_V_at(b, 1.0) - open_V_at(a, EMPTY_FRAC);
    *volts = fmax(one, other);
    *ohm = battery_ohm(a, true) + battery_ohm(b, true) + link_ohm;
    RestingBank full = {*volts, a->capacity_As}, low = {0.0, b->capacity_As};
    BankEqualise flow;
    double slope = open_V_at(a, 1.0) - open_V_at(a, 0.0);
    return bank_equalise(&full, &low, *ohm, slope, &flow) == REFUSED ? NAN : flow.current_A;
}

static void
judge_link(const Cable *link, const Record *a, const Record *b, double way_ohm, Result *result)
{
    double link_ohm = way_ohm + cable_ohm(link, COLD_METAL_K), volts, ohm;
    double amperes = greatest_A(a->data, b->data, link_ohm, &volts, &ohm);
    const Protection *protect = link->protect != NULL ? link->protect->data : NULL;
    bool fused = protect != NULL && protect->kind != PROTECT_NONE && isfinite(protect->rating_A);
    bool blows = fused && protect->rating_A <= link->ampacity.allowed_A;
    Working *w = result_working(result, "Current when a full bank is joined to a low one");
    working_given(w, "dU", "one full, the other down to a fifth", volts, Q_VOLTAGE, 0.0,
                  BASIS_STATED, &open_voltage);
    working_given(w, "R_banks", "inner resistance of both, new and warm", ohm - link_ohm,
                  Q_RESISTANCE, 0.0, BASIS_ASSUMED, NULL);
    working_path_is(w, result_text(result, "%s.resistance", a->path));
    working_given(w, "R_link", "of the way between them, out and back", link_ohm, Q_RESISTANCE, 0.0,
                  BASIS_STATED, &link->resistance_source);
    steps_of_ampacity(w, link);
    working_reckon(w, "I", "current at first", "dU / (R_banks + R_link)", amperes, Q_CURRENT,
                   0.2 * amperes, &bank_equalise_current_method.source);
    double limit = blows ? protect->rating_A : link->ampacity.allowed_A;
    Finding *f = result_judge(result, &check_bank_link.info, link->record->id, link->record->path,
                              fused ? LEVEL_FAULT : LEVEL_DANGER, w, amperes, 0.2 * amperes,
                              AT_MOST, limit, Q_CURRENT, &link->ampacity.source);
    finding_text(result, f,
                 blows
                     ? "Joined while {0} or {1} is low, {about} carries up to {value} at first; "
                       "its fuse of {limit} blows just when it is needed"
                     : "Joined while {0} or {1} is low, {about} carries up to {value} at first and "
                       "may carry {limit}",
                 result_name(result, a->parent->path), result_name(result, b->parent->path), NULL);
    lever_thicker(result, f, link);
}

/* Banks on boards count too: the cables to them are part of the way. What is joined at its two ends already is one bank. */
static void
judge(const Wiring *wiring, const GArray *joins, const Cable *link, Result *result)
{
    double way_ohm = 0.0;
    const Record *a = far_side_bank(wiring, joins, link, link->from, &way_ohm);
    const Record *b = far_side_bank(wiring, joins, link, link->to, &way_ohm);
    if (a == NULL || b == NULL || a == b)
        return;
    double apart =
        ((const BatteryRole *) a->data)->voltage_V - ((const BatteryRole *) b->data)->voltage_V;
    if (fabs(apart) > 1.0)
        say_voltages(link, a, b, result);
    else
        judge_link(link, a, b, way_ohm, result);
}

/* A cable that is usually joined is looked at where it leads from battery to battery; beyond that the flows say what it carries. */
static bool
joins_batteries(const Wiring *wiring, const Cable *cable)
{
    return wiring_place(wiring, cable->from)->battery != NULL &&
           wiring_place(wiring, cable->to)->battery != NULL;
}

static void
run(const Wiring *wiring, Result *result)
{
    g_autoptr(GArray) joins = far_side_joins(wiring);
    for (guint i = 0; i < wiring->links->len; i++) {
        const Cable *link = &g_array_index(wiring->links, Cable, i);
        if (!far_side_joined(wiring, joins,
                             link)) /* else it only lies beside what joins them already */
            judge(wiring, joins, link, result);
    }
    for (guint i = 0; i < wiring->cables->len; i++)
        if (joins_batteries(wiring, wiring_cable(wiring, i)))
            judge(wiring, joins, wiring_cable(wiring, i), result);
}
