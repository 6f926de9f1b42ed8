/* Can a spark meet vapour: electrical things where petrol vapour or gas can gather. Diesel alone is not asked about.
 * Invariant: a space ends at the deck unless it says higher; what is not known to stand in it is a doubt and no danger. */
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

typedef enum { OUTSIDE, PERHAPS, INSIDE } Where;

/* Deck edge there, by her stations; NAN: they do not say. */
static double
deck_m(const Wiring *wiring, double along_m)
{
    size_t n;
    const Record *const *records = boat_records(wiring->boat, &section_stations, &n);
    const StationSection *aft = NULL, *fore = NULL;
    for (size_t i = 0; i < n; i++) {
        const StationSection *station = records[i]->data;
        if (station->points.n == 0)
            continue;
        if (station->along_m <= along_m && (aft == NULL || station->along_m > aft->along_m))
            aft = station;
        if (station->along_m >= along_m && (fore == NULL || station->along_m < fore->along_m))
            fore = station;
    }
    if (aft == NULL || fore == NULL)
        return NAN;
    double low = aft->points.row[aft->points.n - 1].height_m,
           high = fore->points.row[fore->points.n - 1].height_m;
    double share = fore == aft ? 0.0 : (along_m - aft->along_m) / (fore->along_m - aft->along_m);
    return low + share * (high - low);
}

static bool
beyond(const Range *range, double value)
{
    return value < range->low || value > range->high; /* what is not known lies beyond nothing */
}

/* From shell to shell and up to the deck, unless its ranges say less. deck_m NAN: as high as it says, or without an end. */
static Where
where_in(const Space *space, const Item *item, double deck)
{
    double top_m = isfinite(space->height.high) ? space->height.high : deck;
    if (!isfinite(space->along.low) || !isfinite(space->along.high) || !isfinite(item->along_m) ||
        beyond(&space->along, item->along_m) || beyond(&space->across, item->across_m) ||
        item->height_m < space->height.low || item->height_m > top_m)
        return OUTSIDE;
    return isfinite(item->height_m) ? INSIDE : PERHAPS;
}

/* Of what can spark there: what is ignition-protected is left out. Batteries aside, which vapour rules leave to others. */
typedef struct {
    GPtrArray *bad, *unsaid, *all; /* const Record *; unsaid: or it is not known to stand there */
} Sparks;

static void
sparks_clear(Sparks *sparks)
{
    g_ptr_array_unref(sparks->bad);
    g_ptr_array_unref(sparks->unsaid);
    g_ptr_array_unref(sparks->all);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Sparks, sparks_clear)

static Sparks
sparks_in(const Wiring *wiring, const Space *space)
{
    Sparks found = {g_ptr_array_new(), g_ptr_array_new(), g_ptr_array_new()};
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        bool sparks = place->load != NULL || place->heater != NULL || place->mains_source != NULL ||
                      place->charger != NULL || (place->source != NULL && place->battery == NULL);
        if (!sparks || place->record->section != &section_items)
            continue;
        const Item *item = place->record->data;
        Where where = where_in(space, item, deck_m(wiring, item->along_m));
        Flag flag = item->ignition_protected;
        if (where == OUTSIDE)
            continue;
        g_ptr_array_add(found.all, (gpointer) place->record);
        if (flag != FLAG_YES_SHOWN)
            g_ptr_array_add(flag == FLAG_NO && where == INSIDE ? found.bad : found.unsaid,
                            (gpointer) place->record);
    }
    return found;
}

/* ---- where the owner says that vapour can gather ---- */

static void
judge_space(const Record *record, const Sparks *sparks, Result *result)
{
    const char *vapour =
        ((const Space *) record->data)->vapour == VAPOUR_PETROL ? "petrol vapour" : "gas";
    if (sparks->bad->len == 0 && sparks->unsaid->len == 0)
        return; /* a recalled rule is never shown to be met */
    bool bad = sparks->bad->len > 0;
    const GPtrArray *told = bad ? sparks->bad : sparks->unsaid;
    Finding *f = result_say(result, &check_ignition.info, record->id, record->path,
                            bad ? LEVEL_DANGER : LEVEL_DOUBT, NULL);
    finding_rests_on(result, f, &rule);
    finding_text(result, f,
                 bad ? "A spark in {about} lights the {1} that can gather there: not ignition-"
                       "protected is {0}"
                     : "Whether what stands in {about} can light {1} is not known: {0}",
                 named_records(result, told, NAMED), result_text(result, "%s", vapour), NULL);
    finding_settle(result, f,
                   result_text(result, "%s.ignition-protected",
                               ((const Record *) g_ptr_array_index(told, 0))->path),
                   bad ? "move it out of there, or fit one that is ignition-protected"
                       : "look for the mark on it, and note the date under ignition-protected; "
                         "else move it out");
}

static void
say_no_ends(const Record *record, Result *result)
{
    Finding *f =
        result_say(result, &check_ignition.info, record->id, record->path, LEVEL_DOUBT, NULL);
    finding_rests_on(result, f, &rule);
    finding_text(
        result, f,
        "What can spark in {about}, where vapour can gather, is not known: where it begins "
        "and ends is not said",
        NULL);
    finding_settle(result, f, result_text(result, "%s.along", record->path),
                   "measure from the stern to both its ends");
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
            where_in(space, records[i]->data, INFINITY) != OUTSIDE) /* from above it sinks in */
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
        bool gathers = space->vapour == VAPOUR_PETROL || space->vapour == VAPOUR_GAS;
        if (gathers && !(isfinite(space->along.low) && isfinite(space->along.high)))
            say_no_ends(records[i], result);
        if (!gathers && space->vapour >= 0)
            continue;
        g_auto(Sparks) sparks = sparks_in(wiring, space);
        const Record *from = space->vapour < 0 ? vapour_in(wiring, space) : NULL;
        if (gathers)
            judge_space(records[i], &sparks, result);
        else if (from != NULL && sparks.all->len > 0)
            say_unsaid(records[i], from, sparks.all, result);
    }
}
