/* The next usual voltage of a bank and all that hangs on it.
 * Invariant: either everything that is joined moves together, or nothing does. */
#include "checks/wiring/voltage_step.h"

#include <math.h>
#include <string.h>

#define HIGHEST_V 26.0          /* a bank of more is at the last of the usual voltages already */
#define HIGHEST_CRANKING_V 13.0 /* starters are made for 12 and 24 V (common practice, no source) */
#define LIKE_FRAC 0.3           /* 12.8 V and 13.5 V belong to 12 V, 24 V do not */

static bool
is_like(double volts, double nominal_V)
{
    return isnan(volts) || fabs(volts / nominal_V - 1.0) < LIKE_FRAC;
}

static bool
take_banks(const Wiring *wiring, const bool *reached, VoltageSystem *s)
{
    for (guint i = 0; i < wiring->places->len; i++) {
        const Record *bank = wiring_place(wiring, i)->battery;
        if (!reached[i] || bank == NULL)
            continue;
        double volts = ((const BatteryRole *) bank->data)->voltage_V;
        s->nominal_V = s->banks->len == 0 ? volts : s->nominal_V;
        if (volts != s->nominal_V)
            return false;
        g_ptr_array_add(s->banks, (gpointer) bank);
    }
    return isfinite(s->nominal_V);
}

static bool
take_loads(const Wiring *wiring, const bool *reached, VoltageSystem *s)
{
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        const Record *load = place->heater != NULL ? place->heater : place->load;
        if (!reached[i] || load == NULL)
            continue;
        if (!is_like(place_load_V(place), s->nominal_V))
            return false;
        s->cranks |= place_is_starter(place);
        g_ptr_array_add(s->loads, (gpointer) load);
    }
    return true;
}

static bool
has_place(const Wiring *wiring, const bool *reached, const char *id)
{
    size_t at = wiring_place_find(wiring, id);
    return at != NO_PLACE && reached[at];
}

/* By cable, by the item it is, or by the batteries it is said to charge. */
static bool
belongs(const Wiring *wiring, const bool *reached, const Record *record)
{
    const SourceSection *source = record->data;
    bool found =
        has_place(wiring, reached, record->id) || has_place(wiring, reached, source->of.id);
    for (size_t k = 0; k < source->charges.n && !found; k++)
        found = has_place(wiring, reached, source->charges.id[k]);
    return found;
}

static bool
take_sources(const Wiring *wiring, const bool *reached, VoltageSystem *s)
{
    size_t n;
    const Record *const *records = boat_records(wiring->boat, &section_sources, &n);
    for (size_t i = 0; i < n; i++) {
        const SourceSection *source = records[i]->data;
        bool mains = source->kind == SOURCE_SHORE || source->kind == SOURCE_GENERATOR ||
                     source->kind == SOURCE_INVERTER || source->kind == SOURCE_INVERTER_CHARGER;
        if (source->kind == SOURCE_BANK || !belongs(wiring, reached, records[i]))
            continue;
        if (!mains && !is_like(source->voltage_V, s->nominal_V))
            return false;
        g_ptr_array_add(mains ? s->chargers : s->sources, (gpointer) records[i]);
    }
    return true;
}

bool
voltage_system_find(const Wiring *wiring, size_t place, VoltageSystem *system)
{
    *system = (VoltageSystem){.nominal_V = NAN,
                              .banks = g_ptr_array_new(),
                              .loads = g_ptr_array_new(),
                              .sources = g_ptr_array_new(),
                              .chargers = g_ptr_array_new()};
    g_autofree bool *reached = g_new0(bool, wiring->places->len + 1);
    reached[place] = true;
    while (wiring_spread(wiring, reached))
        continue;
    return take_banks(wiring, reached, system) && take_loads(wiring, reached, system) &&
           take_sources(wiring, reached, system) &&
           system->nominal_V < (system->cranks ? HIGHEST_CRANKING_V : HIGHEST_V);
}

void
voltage_system_clear(VoltageSystem *system)
{
    g_clear_pointer(&system->banks, g_ptr_array_unref);
    g_clear_pointer(&system->loads, g_ptr_array_unref);
    g_clear_pointer(&system->sources, g_ptr_array_unref);
    g_clear_pointer(&system->chargers, g_ptr_array_unref);
}

void
lever_higher_voltage(const Wiring *wiring, size_t place, Finding *f, Result *result)
{
    if (f->level == LEVEL_FINE)
        return;
    g_auto(VoltageSystem) system;
    if (voltage_system_find(wiring, place, &system)) {
        const Record *bank = g_ptr_array_index(system.banks, 0);
        finding_lever(result, f, result_text(result, "%s.voltage", bank->path),
                      LEVER_HIGHER_VOLTAGE, NAN, NAN);
    }
}

static bool
is_only_cable(const Wiring *wiring, const Cable *cable)
{
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *other = wiring_cable(wiring, i);
        if (other != cable && (other->from == cable->to || other->to == cable->to))
            return false;
    }
    return true;
}

void
lever_step_up(const Wiring *wiring, const Cable *cable, Finding *f, Result *result)
{
    const Place *from = wiring_place(wiring, cable->from), *to = wiring_place(wiring, cable->to);
    const LoadRole *load = to->load != NULL ? to->load->data : NULL;
    bool suits = load != NULL && load->use != LOAD_STARTER && load->use != LOAD_THRUSTER &&
                 from->nominal_V < HIGHEST_V && is_like(load->voltage_V, from->nominal_V) &&
                 isfinite(load->voltage_V) && place_current_A(to) <= VOLTAGE_STEP * STEP_UP_MOST_A;
    if (f->level == LEVEL_FINE || !suits || cable_ways(cable) != 2.0 ||
        !is_only_cable(wiring, cable))
        return;
    finding_lever(result, f, result_text(result, "%s.from", cable->record->path), LEVER_STEP_UP,
                  NAN, NAN);
}
