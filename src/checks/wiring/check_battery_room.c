/* Where batteries stand: air against hydrogen, and frost. */
#include <math.h>

#include "checks/derive/masses.h"
#include "checks/wiring/workings.h"
#include "physics/wiring/hydrogen.h"

static const char *const lead_cautions[] = {"PO1", "WI4", NULL};
static const char *const lithium_cautions[] = {"PO2", "WI4", NULL};

/* ---- hydrogen ---- */

static void run_hydrogen(const Wiring *wiring, Result *result);
const Check check_hydrogen = {{"wiring", "hydrogen",
                               "Does the hydrogen of charging batteries get out?", LINE_BURN,
                               lead_cautions},
                              .wired = run_hydrogen};

static bool
is_in(const Range *range, double at)
{
    return !(at < range->low) && !(at > range->high);
}

/* The space an item stands in that says how air gets through it, else the first it stands in; NULL: none. */
static const Record *
space_of(const Boat *boat, const Item *item)
{
    size_t n;
    const Record *found = NULL, *const *records = boat_records(boat, &section_spaces, &n);
    for (size_t i = 0; i < n; i++) {
        const Space *space = records[i]->data;
        bool here = isfinite(item->along_m) && is_in(&space->along, item->along_m) &&
                    is_in(&space->across, item->across_m) && is_in(&space->height, item->height_m);
        if (here && (found == NULL ||
                     (isnan(((const Space *) found->data)->vents_m2) && isfinite(space->vents_m2))))
            found = records[i];
    }
    return found;
}

typedef struct { /* what shares one pair of openings: a box, or a space */
    const Record *record;
    const char *key; /* "vents" */
    double vents_m2;
    GPtrArray *batteries; /* const Record *: roles */
} Room;

static Room *
room_find(GPtrArray *rooms, const Record *record, double vents_m2)
{
    for (guint i = 0; i < rooms->len; i++)
        if (((Room *) g_ptr_array_index(rooms, i))->record == record)
            return g_ptr_array_index(rooms, i);
    Room *room = g_new(Room, 1);
    *room = (Room){record, "vents", vents_m2, g_ptr_array_new()};
    g_ptr_array_add(rooms, room);
    return room;
}

static void
room_free(gpointer data)
{
    Room *room = data;
    g_ptr_array_unref(room->batteries);
    g_free(room);
}

static bool
gasses(const Record *role, const Wiring *wiring)
{
    const BatteryRole *battery = role->data;
    return battery->chemistry != BATTERY_LFP && item_aboard(role->parent->data, wiring->stage) &&
           isfinite(battery->capacity_As * battery->voltage_V);
}

static GPtrArray *
rooms_of(const Wiring *wiring)
{
    GPtrArray *rooms = g_ptr_array_new_with_free_func(room_free);
    size_t n;
    const Record *const *records = boat_records(wiring->boat, &section_battery, &n);
    for (size_t i = 0; i < n; i++) {
        const BatteryRole *battery = records[i]->data;
        if (!gasses(records[i], wiring))
            continue;
        bool boxed = isfinite(battery->vents_m2);
        const Record *space = boxed ? NULL : space_of(wiring->boat, records[i]->parent->data);
        double vents = boxed           ? battery->vents_m2
                       : space != NULL ? ((const Space *) space->data)->vents_m2
                                       : NAN;
        Room *room = room_find(rooms, boxed ? records[i] : space, vents);
        g_ptr_array_add(room->batteries, (gpointer) records[i]);
    }
    return rooms;
}

/* Air and openings for all batteries of a room, each at its boost charge. */
static void
room_needs(const Room *room, Working *w, double *opening_m2)
{
    guint n = room->batteries->len;
    g_autofree double *cells = g_new(double, n), *gas_A = g_new(double, n);
    g_autofree const char **names = g_new(const char *, n);
    Hydrogen one;
    *opening_m2 = 0.0;
    for (guint i = 0; i < n; i++) {
        const Record *role = g_ptr_array_index(room->batteries, i);
        const BatteryRole *battery = role->data;
        GassingKind kind =
            battery->chemistry == BATTERY_FLOODED ? GASSING_VENTED_LEAD : GASSING_VRLA;
        cells[i] = round(battery->voltage_V / 2.0);
        gas_A[i] = hydrogen_current_A(kind, STAGE_BOOST, battery->capacity_As);
        names[i] = role->parent->id;
        if (hydrogen_ventilation(gas_A[i], cells[i], NAN, &one) != REFUSED)
            *opening_m2 += one.opening_m2;
    }
    working_list(w, "n", "cells in series", n, cells, names, Q_COUNT, BASIS_STATED, NULL);
    working_list(w, "I_gas", "gassing current at the end of a quick charge", n, gas_A, names,
                 Q_CURRENT, BASIS_STATED, &hydrogen_airflow_method.source);
    working_reckon(w, "A", "each of two openings, one low and one high",
                   "28 * 0.05 * sum(n * I_gas) / 10000", *opening_m2, Q_OPENING_AREA, 0.0,
                   &hydrogen_opening_method.source);
}

static const char *
names_of(const Room *room, Result *result)
{
    g_autoptr(GString) words = g_string_new(NULL);
    for (guint i = 0; i < room->batteries->len; i++) {
        const Record *role = g_ptr_array_index(room->batteries, i);
        g_string_append_printf(words, "%s%s", i > 0 ? ", " : "",
                               result_name(result, role->parent->path));
    }
    return result_text(result, "%s", words->str);
}

static void
judge_room(const Room *room, Result *result)
{
    const Record *first = g_ptr_array_index(room->batteries, 0);
    bool boxed = room->record == first;
    const char *owner = boxed ? first->parent->path : room->record->path;
    Working *w = result_working(result, "Openings that the hydrogen needs");
    double need;
    room_needs(room, w, &need);
    working_from_boat(w, "A_has", room->record, room->key);
    Finding *f = result_judge(result, &check_hydrogen.info,
                              boxed ? first->parent->id : room->record->id, owner, LEVEL_DANGER, w,
                              room->vents_m2, record_state(room->record, room->key)->spread,
                              AT_LEAST, need, Q_OPENING_AREA, &hydrogen_opening_method.source);
    finding_text(
        result, f,
        f->level == LEVEL_FINE
            ? "Each of the two ways for air of {about} has {value}; {limit} lets the "
              "hydrogen out while charging {0}"
            : "Each of the two ways for air of {about} has {value}; {limit} is asked, low "
              "and high: hydrogen stays inside while charging {0}, and a spark blows it up",
        names_of(room, result), NULL);
    finding_lever(result, f, result_text(result, "%s.%s", room->record->path, room->key),
                  LEVER_MORE, NAN, NAN);
}

/* What is not known of several is one question. */
static void
say_rooms(const GPtrArray *rooms, Result *result)
{
    g_autoptr(GString) words = g_string_new(NULL);
    const Record *first = NULL;
    for (guint i = 0; i < rooms->len; i++) {
        const Room *room = g_ptr_array_index(rooms, i);
        if (isfinite(room->vents_m2))
            continue;
        if (first == NULL)
            first = g_ptr_array_index(room->batteries, 0);
        g_string_append_printf(words, "%s%s", words->len > 0 ? ", " : "", names_of(room, result));
    }
    if (first == NULL)
        return;
    Finding *f =
        result_say(result, &check_hydrogen.info, NULL, first->parent->path, LEVEL_DOUBT, NULL);
    finding_text(result, f, "Whether hydrogen gets out where they stand is not known: {0}",
                 words->str, NULL);
    finding_settle(result, f, result_text(result, "%s.vents", first->path),
                   "measure the two openings of their box, or of the space (spaces.ID.vents)");
}

static void
run_hydrogen(const Wiring *wiring, Result *result)
{
    g_autoptr(GPtrArray) rooms = rooms_of(wiring);
    for (guint i = 0; i < rooms->len; i++) {
        const Room *room = g_ptr_array_index(rooms, i);
        if (room->record != NULL && isfinite(room->vents_m2))
            judge_room(room, result);
    }
    say_rooms(rooms, result);
}

/* ---- frost ---- */

static void run_frost(const Wiring *wiring, Result *result);
const Check check_lithium_frost = {{"wiring", "lithium-frost",
                                    "Is a lithium battery kept from being charged in frost?",
                                    LINE_BURN, lithium_cautions},
                                   .wired = run_frost};

static void
say_frost_guard(const Record *role, Result *result)
{
    const BatteryRole *battery = role->data;
    bool shown = battery->frost_guard == FLAG_YES_SHOWN;
    Finding *f = result_say(result, &check_lithium_frost.info, role->parent->id, role->parent->path,
                            shown ? LEVEL_FINE : LEVEL_DOUBT, NULL);
    finding_text(result, f,
                 shown ? "Charging {about} stops by itself in frost"
                       : "Whether charging {about} stops in frost is not known: charged below 0 "
                         "degC its cells are spoilt and may burn later",
                 NULL);
    if (!shown)
        finding_settle(result, f, result_text(result, "%s.frost-guard", role->path),
                       "ask its maker, or read the coldest night where it stands (coldest)");
}

static void
judge_coldest(const Wiring *wiring, const Record *role, Result *result)
{
    const BatteryRole *battery = role->data;
    Rule least = wiring_rule(wiring, "lithium-frost", result);
    Working *w = result_working(result, "The coldest it gets where the battery stands");
    working_from_boat(w, "theta", role, "coldest");
    Finding *f =
        result_judge(result, &check_lithium_frost.info, role->parent->id, role->parent->path,
                     LEVEL_DANGER, w, battery->coldest_K, record_state(role, "coldest")->spread,
                     AT_LEAST, least.value, Q_TEMPERATURE, &least.source);
    finding_text(result, f,
                 "It gets down to {value} where {about} stands; charged below {limit} its cells "
                 "are spoilt and may burn later, and nothing stops the charging",
                 NULL);
}

static void
run_frost(const Wiring *wiring, Result *result)
{
    size_t n;
    const Record *const *records = boat_records(wiring->boat, &section_battery, &n);
    for (size_t i = 0; i < n; i++) {
        const BatteryRole *battery = records[i]->data;
        if (battery->chemistry != BATTERY_LFP ||
            !item_aboard(records[i]->parent->data, wiring->stage))
            continue;
        bool cold = !(battery->coldest_K >= wiring_rule(wiring, "lithium-frost", result).value);
        if (battery->frost_guard == FLAG_YES_SHOWN || (cold && battery->frost_guard != FLAG_NO) ||
            isnan(battery->coldest_K))
            say_frost_guard(records[i], result);
        else
            judge_coldest(wiring, records[i], result);
    }
}
