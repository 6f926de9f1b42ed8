/* The mains side of each situation: what is live and from where, what flows, and what volts arrive.
 * Invariant: a place is fed once; the first source that a situation names has it, as a transfer switch would. */
#include "checks/wiring/mains.h"

#include <math.h>
#include <string.h>

#include "physics/wiring/ac_load.h"
#include "physics/wiring/shore_share.h"

const Cable *
mains_cable(const Wiring *wiring, size_t i)
{
    return &g_array_index(wiring->mains, Cable, i);
}

const MainsFlow *
mains_flow(const Wiring *wiring, size_t i)
{
    return g_ptr_array_index(wiring->mains_flows, i);
}

bool
mains_is_structure(const MainsFlow *flow)
{
    return flow->situation == NULL && flow->load == NULL;
}

bool
mains_live(const MainsFlow *flow, size_t place)
{
    return flow->root[place] != NO_PLACE;
}

bool
mains_feeds(const Wiring *wiring, const MainsFlow *flow, size_t cable)
{
    size_t to = mains_cable(wiring, cable)->to;
    return mains_live(flow, to) && flow->feeder[to] == cable;
}

bool
mains_is_load(const Wiring *wiring, size_t place)
{
    const Place *p = wiring_place(wiring, place);
    return p->mains && p->record->section == &section_items && p->mains_source == NULL;
}

bool
mains_is_final(const Wiring *wiring, size_t cable)
{
    return mains_is_load(wiring, mains_cable(wiring, cable)->to);
}

/* ---- a flow, empty ---- */

static MainsFlow *
flow_new(const Wiring *wiring, const char *situation)
{
    size_t n = wiring->places->len + 1;
    MainsFlow *flow = g_new0(MainsFlow, 1);
    flow->situation = situation;
    flow->order = g_new0(size_t, n);
    flow->root = g_new0(size_t, n);
    flow->above = g_new0(size_t, n);
    flow->feeder = g_new0(size_t, n);
    flow->running = g_new0(bool, n);
    flow->unknown = g_new0(bool, n);
    flow->real_W = g_new0(double, n);
    flow->reactive_var = g_new0(double, n);
    flow->spread_W = g_new0(double, n);
    flow->basis = g_new0(Basis, n);
    flow->voltage_V = g_new0(double, n);
    flow->inverts_W = g_new0(double, n);
    flow->charges_W = g_new0(double, n);
    for (size_t i = 0; i < n; i++)
        flow->root[i] = flow->above[i] = flow->feeder[i] = NO_PLACE;
    return flow;
}

void
mains_flow_free(gpointer data)
{
    MainsFlow *flow = data;
    g_free(flow->order);
    g_free(flow->root);
    g_free(flow->above);
    g_free(flow->feeder);
    g_free(flow->running);
    g_free(flow->unknown);
    g_free(flow->real_W);
    g_free(flow->reactive_var);
    g_free(flow->spread_W);
    g_free(flow->basis);
    g_free(flow->voltage_V);
    g_free(flow->inverts_W);
    g_free(flow->charges_W);
    g_free(flow);
}

/* ---- what is live ---- */

static void
energise(MainsFlow *flow, size_t place, size_t root, size_t above, size_t feeder)
{
    if (mains_live(flow, place))
        return;
    flow->root[place] = root;
    flow->above[place] = above;
    flow->feeder[place] = feeder;
    flow->order[flow->live++] = place;
}

/* Nothing goes backwards into a source, and an inverter that makes its own mains feeds its backed-up output only. */
static bool
passes(const Wiring *wiring, const MainsFlow *flow, size_t from, size_t to)
{
    const Place *a = wiring_place(wiring, from), *b = wiring_place(wiring, to);
    bool into_source = b->mains_source != NULL && mains_source(b)->kind != SOURCE_INVERTER_CHARGER;
    bool inverting = place_inverts(a) && flow->root[from] == from;
    bool passed_on = b->record->section == &section_busbars &&
                     ((const Busbar *) b->record->data)->output == OUTPUT_PASSED_ON;
    return b->mains && !into_source && !(inverting && passed_on);
}

static void
spread_from(const Wiring *wiring, MainsFlow *flow, size_t root)
{
    size_t done = flow->live;
    energise(flow, root, root, NO_PLACE, NO_PLACE);
    for (; done < flow->live; done++) {
        size_t at = flow->order[done];
        for (guint c = 0; c < wiring->mains->len; c++)
            if (mains_cable(wiring, c)->from == at &&
                passes(wiring, flow, at, mains_cable(wiring, c)->to))
                energise(flow, mains_cable(wiring, c)->to, root, at, c);
        for (guint p = 0; p < wiring->places->len; p++)
            if (wiring_place(wiring, p)->fed_by == at && passes(wiring, flow, at, p))
                energise(flow, p, root, at, NO_PLACE);
    }
}

static size_t
source_place(const Wiring *wiring, const char *id)
{
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        if (place->mains_source != NULL && strcmp(place->mains_source->id, id) == 0)
            return i;
    }
    return NO_PLACE;
}

static bool
battery_feeds(const Wiring *wiring, const List *sources)
{
    bool any = false, named = false;
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        bool bank = place->source != NULL && place->battery != NULL;
        any |= bank;
        for (size_t k = 0; bank && k < sources->n; k++)
            named |= strcmp(sources->id[k], place->source->id) == 0;
    }
    return named || !any;
}

/* Shore and generators first; then inverters, where nothing comes in. */
static void
energise_all(const Wiring *wiring, MainsFlow *flow)
{
    bool battery = battery_feeds(wiring, flow->sources);
    for (int inverters = 0; inverters <= 1; inverters++)
        for (size_t k = 0; k < flow->sources->n; k++) {
            size_t at = source_place(wiring, flow->sources->id[k]);
            if (at == NO_PLACE || place_inverts(wiring_place(wiring, at)) != (inverters == 1) ||
                (inverters == 1 && !battery))
                continue;
            spread_from(wiring, flow, at);
        }
}

/* ---- what is drawn ---- */

static double
square(double x)
{
    return x * x;
}

/* Watts at its own voltage, which is the supply's where nobody says; only what heats draws by the square of what it gets. */
static void
add_load(const Place *place, MainsFlow *flow, size_t i, double supply_V)
{
    double own_V = place_load_V(place), volts = isfinite(own_V) ? own_V : supply_V;
    const LoadRole *load = place->load != NULL ? place->load->data : NULL;
    const Record *role = place->heater != NULL ? place->heater : place->load;
    bool heats = place->heater != NULL || (load != NULL && load->draws == DRAWS_RESISTANCE);
    bool by_current = place->heater == NULL && load != NULL && isfinite(load->current_A);
    double factor = heats || load == NULL ? 1.0 : load->power_factor;
    double typed = role == NULL ? NAN : record_number(role, by_current ? "current" : "power");
    double apparent = by_current ? volts * typed : typed / factor;
    if (!isfinite(apparent) || !isfinite(volts)) {
        flow->unknown[i] = true;
        return;
    }
    double real = apparent * factor * (heats ? square(supply_V / volts) : 1.0);
    flow->real_W[i] += real;
    flow->reactive_var[i] += heats ? 0.0 : apparent * sqrt(1.0 - square(factor));
    const FieldState *size = record_state(role, by_current ? "current" : "power");
    flow->spread_W[i] += size->spread / typed * real;
    flow->basis[i] = MAX(flow->basis[i], size->basis);
    if (!heats) {
        const FieldState *lag = record_state(role, "power-factor");
        flow->spread_W[i] += lag->spread / factor * real;
        flow->basis[i] = MAX(flow->basis[i], lag->basis);
    }
}

/* What a charger takes from the mains; NAN: not known. */
static double
charging_W(const SourceSection *source)
{
    if (isfinite(source->charging_W) || source->kind == SOURCE_INVERTER_CHARGER)
        return source->charging_W;
    double given =
        isfinite(source->power_W) ? source->power_W : source->voltage_V * source->current_A;
    return given / source->efficiency_frac;
}

bool
mains_is_on(const MainsFlow *flow, const Record *source)
{
    for (size_t k = 0; flow->sources != NULL && k < flow->sources->n; k++)
        if (strcmp(flow->sources->id[k], source->id) == 0)
            return true;
    return false;
}

static void
add_charger(const Place *place, MainsFlow *flow, size_t i)
{
    double watts = charging_W(place->charger->data);
    flow->unknown[i] |= isnan(watts);
    flow->charges_W[i] = isnan(watts) ? 0.0 : watts;
    flow->real_W[i] += flow->charges_W[i];
}

/* In front of an inverter-charger: its input limit shares what comes in, and the battery adds where it may. */
static void
share(const Wiring *wiring, MainsFlow *flow, size_t i, double supply_V)
{
    const SourceSection *source = mains_source(wiring_place(wiring, i));
    bool adds = source->adds_to_shore == FLAG_YES_BARE || source->adds_to_shore == FLAG_YES_SHOWN;
    double limit = source->input_limit_A, load = flow->real_W[i], most = charging_W(source);
    if (isnan(limit) && adds)
        limit = mains_source_limit_A(wiring, wiring_place(wiring, flow->root[i]));
    flow->unknown[i] |= isnan(most);
    most = isnan(most) ? 0.0 : most;
    SharedSupply supply = {
        limit, supply_V, load, 12.0, source->efficiency_frac, source->efficiency_frac, most};
    ShoreShare shared;
    flow->charges_W[i] = most;
    if (isfinite(limit) && shore_share(&supply, &shared) == VALID) {
        flow->charges_W[i] = shared.charger_W;
        flow->inverts_W[i] = adds ? shared.help_W / source->efficiency_frac : 0.0;
        flow->real_W[i] -= adds ? shared.help_W : 0.0;
    }
    flow->real_W[i] += flow->charges_W[i];
}

static void
draw(const Wiring *wiring, MainsFlow *flow)
{
    for (size_t k = flow->live; k-- > 0;) {
        size_t i = flow->order[k], above = flow->above[i];
        const Place *place = wiring_place(wiring, i);
        double supply_V = mains_source_V(wiring, wiring_place(wiring, flow->root[i]));
        if (place->charger != NULL && (mains_is_on(flow, place->charger) || flow->running[i]))
            add_charger(place, flow, i);
        else if (flow->running[i] && mains_is_load(wiring, i))
            add_load(place, flow, i, supply_V);
        if (place_inverts(place) && flow->root[i] != i && flow->situation != NULL)
            share(wiring, flow, i, supply_V);
        else if (place_inverts(place) && flow->root[i] == i)
            flow->inverts_W[i] = flow->real_W[i] / mains_source(place)->efficiency_frac;
        if (above == NO_PLACE)
            continue;
        flow->real_W[above] += flow->real_W[i];
        flow->reactive_var[above] += flow->reactive_var[i];
        flow->spread_W[above] += flow->spread_W[i];
        flow->basis[above] = MAX(flow->basis[above], flow->basis[i]);
        flow->unknown[above] |= flow->unknown[i];
    }
}

double
mains_current_A(const MainsFlow *flow, size_t place)
{
    size_t root = flow->root[place];
    return root == NO_PLACE
               ? NAN
               : hypot(flow->real_W[place], flow->reactive_var[place]) / flow->voltage_V[root];
}

double
mains_power_factor(const MainsFlow *flow, size_t place)
{
    double apparent = hypot(flow->real_W[place], flow->reactive_var[place]);
    return apparent > 0.0 ? fmin(1.0, flow->real_W[place] / apparent) : 1.0;
}

double
mains_drop_V(const Wiring *wiring, const MainsFlow *flow, size_t cable)
{
    const Cable *c = mains_cable(wiring, cable);
    AcLoad load = {.current_A = mains_current_A(flow, c->to),
                   .shaft_W = NAN,
                   .power_factor = mains_power_factor(flow, c->to),
                   .efficiency = 1.0,
                   .voltage_V = flow->voltage_V[flow->root[c->to]],
                   .run_m = c->typed->one_way_m,
                   .area_m2 = c->typed->area_m2,
                   .start_factor = NAN,
                   .target_factor = NAN,
                   .frequency_Hz = 50.0};
    AcPoint point;
    ac_load(&load, &point);
    return point.drop_V;
}

static void
find_voltages(const Wiring *wiring, MainsFlow *flow)
{
    for (size_t i = 0; i < wiring->places->len; i++)
        flow->voltage_V[i] = NAN;
    for (size_t k = 0; k < flow->live; k++) {
        size_t i = flow->order[k], above = flow->above[i];
        if (above == NO_PLACE)
            flow->voltage_V[i] = mains_source_V(wiring, wiring_place(wiring, i));
        else
            flow->voltage_V[i] =
                flow->voltage_V[above] -
                (flow->feeder[i] == NO_PLACE ? 0.0 : mains_drop_V(wiring, flow, flow->feeder[i]));
    }
}

/* ---- every situation, and every source alone ---- */

static void
add_situation(Wiring *wiring, const Record *record)
{
    const Situation *typed = record->data;
    MainsFlow *flow = flow_new(wiring, record->id);
    flow->sources = &typed->sources;
    for (size_t k = 0; k < typed->running.n; k++) {
        size_t i = wiring_place_find(wiring, typed->running.entry[k].key);
        if (i != NO_PLACE && typed->running.entry[k].value.value > 0.0)
            flow->running[i] = true;
    }
    energise_all(wiring, flow);
    draw(wiring, flow);
    find_voltages(wiring, flow);
    g_ptr_array_add(wiring->mains_flows, flow);
}

static void
take_tree(const Wiring *wiring, MainsFlow *flow, const MainsFlow *from)
{
    size_t bytes = wiring->places->len * sizeof *flow->order;
    memcpy(flow->order, from->order, bytes);
    memcpy(flow->root, from->root, bytes);
    memcpy(flow->above, from->above, bytes);
    memcpy(flow->feeder, from->feeder, bytes);
    flow->live = from->live;
}

/* A load that runs in no situation, or is dead in all of them, is tried with the first source that reaches it. */
static void
try_alone(Wiring *wiring, size_t load)
{
    const MainsFlow *best = NULL;
    for (guint k = 0; k < wiring->mains_flows->len; k++) {
        const MainsFlow *flow = mains_flow(wiring, k);
        if (!mains_live(flow, load))
            continue;
        if (flow->situation != NULL && flow->running[load])
            return;
        if (mains_is_structure(flow) && best == NULL)
            best = flow;
    }
    if (best == NULL || !mains_is_load(wiring, load))
        return;
    MainsFlow *flow = flow_new(wiring, NULL);
    flow->only = best->only;
    flow->load = wiring_place(wiring, load)->record;
    flow->running[load] = true;
    take_tree(wiring, flow, best);
    draw(wiring, flow);
    find_voltages(wiring, flow);
    g_ptr_array_add(wiring->mains_flows, flow);
}

void
mains_flow_all(Wiring *wiring)
{
    size_t n;
    const Record *const *records = boat_records(wiring->boat, &section_situations, &n);
    if (wiring->mains->len == 0)
        return;
    for (size_t i = 0; i < n; i++)
        if (situation_counts(wiring, records[i]))
            add_situation(wiring, records[i]);
    for (guint i = 0; i < wiring->places->len; i++) {
        if (wiring_place(wiring, i)->mains_source == NULL)
            continue;
        MainsFlow *flow = flow_new(wiring, NULL);
        flow->only = wiring_place(wiring, i)->mains_source;
        spread_from(wiring, flow, i);
        find_voltages(wiring, flow);
        g_ptr_array_add(wiring->mains_flows, flow);
    }
    for (guint i = 0; i < wiring->places->len && wiring->only_situation == NULL; i++)
        try_alone(wiring, i);
}

bool
mains_charger_works(const Wiring *wiring, const char *situation, const Record *charger)
{
    for (guint k = 0; situation != NULL && k < wiring->mains_flows->len; k++) {
        const MainsFlow *flow = mains_flow(wiring, k);
        for (guint i = 0; g_strcmp0(flow->situation, situation) == 0 && i < wiring->places->len;
             i++)
            if (wiring_place(wiring, i)->charger == charger && wiring_place(wiring, i)->mains)
                return mains_live(flow, i);
    }
    return true;
}

/* Where an inverter hangs on its battery: the item that it is, else itself. */
static size_t
battery_side(const Wiring *wiring, size_t source)
{
    size_t of = wiring_place_find(wiring, mains_source(wiring_place(wiring, source))->of.id);
    return of != NO_PLACE ? of : source;
}

void
mains_draw_direct(const Wiring *wiring, Flow *flow)
{
    for (guint k = 0; k < wiring->mains_flows->len; k++) {
        const MainsFlow *mains = mains_flow(wiring, k);
        if (g_strcmp0(mains->situation, flow->situation) != 0)
            continue;
        for (guint i = 0; i < wiring->places->len; i++) {
            if (!(mains->inverts_W[i] > 0.0))
                continue;
            size_t at = battery_side(wiring, i);
            flow->inverts_W[at] += mains->inverts_W[i];
            flow->running[at] = true;
        }
    }
}
