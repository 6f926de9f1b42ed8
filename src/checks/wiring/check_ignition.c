/* Can a spark meet vapour: electrical things where petrol vapour or gas can gather. Diesel alone is not asked about.
 * Invariant: a space with a bottom and no stated top is not known to hold what stands high above it; that is a doubt. */
#include <math.h>
#include <string.h>

#include "boat/aboard.h"
#include "checks/wiring/wiring.h"

enum { NAMED = 4 };

static const char *const cautions[] = {"UW2", NULL};

static void run_ignition(const Wiring *wiring, Result *result);
const Check check_ignition = {
    {"wiring", "ignition", "Can a spark meet petrol vapour or gas?", LINE_BURN, cautions},
    .wired = run_ignition};

static const Source rule = {"33 CFR 183.410 and ISO 8846 as recalled: nothing electrical in such a "
                            "space may be able to light the vapour",
                            STANDING_MEMORY};

static bool
within(const Range *range, double value)
{
    return isfinite(value) && (!isfinite(range->low) || value >= range->low) &&
           (!isfinite(range->high) || value <= range->high);
}

static bool
in_space(const Space *space, const Item *item)
{
    return isfinite(space->along.low) && isfinite(space->along.high) &&
           within(&space->along, item->along_m) && within(&space->across, item->across_m) &&
           within(&space->height, item->height_m);
}

/* Batteries aside, which vapour rules leave to others. */
static GPtrArray *
sparks_in(const Wiring *wiring, const Space *space)
{
    GPtrArray *found = g_ptr_array_new();
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        bool sparks = place->load != NULL || place->heater != NULL || place->mains_source != NULL ||
                      place->charger != NULL || (place->source != NULL && place->battery == NULL);
        if (sparks && place->record->section == &section_items &&
            in_space(space, place->record->data))
            g_ptr_array_add(found, (gpointer) place->record);
    }
    return found;
}

/* ---- where the owner says that vapour can gather ---- */

static GPtrArray *
with_flag(const GPtrArray *items, bool denied)
{
    GPtrArray *found = g_ptr_array_new();
    for (guint i = 0; i < items->len; i++) {
        const Record *record = g_ptr_array_index(items, i);
        Flag flag = ((const Item *) record->data)->ignition_protected;
        if (denied ? flag == FLAG_NO : flag != FLAG_NO && flag != FLAG_YES_SHOWN)
            g_ptr_array_add(found, (gpointer) record);
    }
    return found;
}

static void
judge_space(const Record *record, const GPtrArray *items, Result *result)
{
    g_autoptr(GPtrArray) bad = with_flag(items, true), unsaid = with_flag(items, false);
    const char *vapour =
        ((const Space *) record->data)->vapour == VAPOUR_PETROL ? "petrol vapour" : "gas";
    if (bad->len == 0 && unsaid->len == 0)
        return; /* a recalled rule is never shown to be met */
    GPtrArray *told = bad->len > 0 ? bad : unsaid;
    Finding *f = result_say(result, &check_ignition.info, record->id, record->path,
                            bad->len > 0 ? LEVEL_DANGER : LEVEL_DOUBT, NULL);
    finding_rests_on(result, f, &rule);
    finding_text(result, f,
                 bad->len > 0
                     ? "A spark in {about} lights the {1} that can gather there: not ignition-"
                       "protected is {0}"
                     : "Whether what stands in {about} can light {1} is not known: {0}",
                 named_records(result, told, NAMED), result_text(result, "%s", vapour), NULL);
    finding_settle(result, f,
                   result_text(result, "%s.ignition-protected",
                               ((const Record *) g_ptr_array_index(told, 0))->path),
                   bad->len > 0 ? "move it out of there, or fit one that is ignition-protected"
                                : "look for the mark on it, and note the date under "
                                  "ignition-protected; else move it out");
}

/* ---- where something stands from which it could come ---- */

static bool
gives_vapour(const Record *record)
{
    static const char *const kinds[] = {"outboard", "petrol-generator", "gas-cylinder"};
    const Item *item = record->data;
    const Record *tank = record_role(record, &section_tank);
    bool found = tank != NULL && ((const TankRole *) tank->data)->holds == HOLDS_PETROL;
    for (size_t i = 0; i < G_N_ELEMENTS(kinds) && item->kind != NULL; i++)
        found |= strcmp(item->kind, kinds[i]) == 0;
    return found;
}

static const Record *
vapour_in(const Wiring *wiring, const Space *space)
{
    size_t n;
    const Record *const *records = boat_records(wiring->boat, &section_items, &n);
    for (size_t i = 0; i < n; i++)
        if (item_aboard(records[i]->data, wiring->stage) && gives_vapour(records[i]) &&
            in_space(space, records[i]->data))
            return records[i];
    return NULL;
}

static void
say_unsaid(const Record *record, const Record *from, const GPtrArray *items, Result *result)
{
    Finding *f =
        result_say(result, &check_ignition.info, record->id, record->path, LEVEL_DOUBT, NULL);
    finding_rests_on(result, f, &rule);
    finding_text(result, f,
                 "Whether vapour from {0} can gather in {about}, where things spark, is not said "
                 "({1})",
                 result_name(result, from->path), named_records(result, items, NAMED), NULL);
    finding_settle(
        result, f, result_text(result, "%s.vapour", record->path),
        "say whether petrol vapour or gas can gather there, or none: shut off tight from "
        "it, and drained outboard");
}

static void
run_ignition(const Wiring *wiring, Result *result)
{
    size_t n;
    const Record *const *records = boat_records(wiring->boat, &section_spaces, &n);
    for (size_t i = 0; i < n; i++) {
        const Space *space = records[i]->data;
        g_autoptr(GPtrArray) items = sparks_in(wiring, space);
        const Record *from = space->vapour < 0 ? vapour_in(wiring, space) : NULL;
        if (items->len == 0)
            continue;
        if (space->vapour == VAPOUR_PETROL || space->vapour == VAPOUR_GAS)
            judge_space(records[i], items, result);
        else if (from != NULL)
            say_unsaid(records[i], from, items, result);
    }
}
