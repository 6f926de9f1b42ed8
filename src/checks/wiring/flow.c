/* What flows in each situation: the boat as a network, solved until the metal's warmth agrees with its current.
 * Invariant: node 0 is the reference; a place has its positive and its negative node, and both conductors of a cable are there. */
#include <math.h>
#include <string.h>

#include "checks/wiring/converters.h"
#include "checks/wiring/mains.h"
#include "physics/wiring/network_fault.h"
#include "physics/wiring/pm_thruster.h"

#define BOLTED_OHM                                                                                 \
    0.1e-3 /* a board bolted to what feeds it, each pole (common practice, no source) */
#define TO_REFERENCE_OHM                                                                           \
    1e6                /* holds a source's negative near 0 V and carries nothing that counts */
#define AS_WARM_K 0.05 /* 0.02 % of the resistance */
enum { WARMING_ROUNDS = 5, CONVERTER_ROUNDS = 8 };

static size_t
positive(size_t place)
{
    return 2 * place + 1;
}

static size_t
negative(size_t place)
{
    return 2 * place + 2;
}

static NetworkElement
resistor(size_t from, size_t to, double ohm)
{
    return (NetworkElement){.kind = ELEMENT_RESISTOR, .from = from, .to = to, .ohm = ohm};
}

static bool
known(const Cable *cable)
{
    return isfinite(cable_ohm(cable, COLD_METAL_K));
}

/* A pair gives two elements, a conductor alone one, always in the same order: those of a network that is solved again as its
 * metal warms. Returns how many; room for two a cable. */
static size_t
put_cables(const Wiring *wiring, const Flow *flow, NetworkElement element[])
{
    size_t n = 0;
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        double ohm = cable_ohm(cable, flow->metal_K[i]) / cable_ways(cable);
        if (!known(cable))
            continue;
        if (cable->typed->wires != WIRES_NEGATIVE)
            element[n++] = resistor(positive(cable->from), positive(cable->to), ohm);
        if (cable->typed->wires != WIRES_POSITIVE)
            element[n++] = resistor(negative(cable->from), negative(cable->to), ohm);
    }
    return n;
}

static void
add(GArray *elements, NetworkElement e)
{
    g_array_append_val(elements, e);
}

static void
add_bolted(const Wiring *wiring, GArray *elements)
{
    for (guint i = 0; i < wiring->places->len; i++) {
        size_t fed_by = wiring_place(wiring, i)->fed_by;
        if (fed_by == NO_PLACE || !wiring_place(wiring, i)->direct)
            continue;
        add(elements, resistor(positive(fed_by), positive(i), BOLTED_OHM));
        add(elements, resistor(negative(fed_by), negative(i), BOLTED_OHM));
    }
}

/* false: too little is known of it. */
static bool
source_element(const Place *place, bool best, NetworkElement *e)
{
    const SourceSection *source = place->source->data;
    *e = (NetworkElement){.kind = ELEMENT_CHARGER};
    if (place->battery != NULL) {
        e->kind = ELEMENT_BATTERY;
        e->voltage_V = battery_open_V(place->battery->data, best);
        e->ohm = battery_ohm(place->battery->data, best);
    } else {
        e->voltage_V = source->voltage_V;
        e->current_A =
            isfinite(source->current_A) ? source->current_A : source->power_W / source->voltage_V;
    }
    return isfinite(e->voltage_V) && isfinite(e->ohm) && isfinite(e->current_A);
}

bool
place_source_known(const Place *place)
{
    NetworkElement e;
    return place->source == NULL || source_element(place, false, &e);
}

static void
add_source(const Place *place, size_t i, bool best, GArray *elements)
{
    NetworkElement e;
    if (!source_element(place, best, &e))
        return;
    e.from = positive(i);
    e.to = negative(i);
    g_array_append_val(elements, e);
    add(elements, resistor(negative(i), 0, TO_REFERENCE_OHM));
}

/* Whatever the situation names: it gives while its input does. Its two sides share their negative. */
static void
add_converter(const Wiring *wiring, const Flow *flow, size_t i, GArray *elements)
{
    const Place *place = wiring_place(wiring, i);
    if (!converter_gives(wiring, flow, place))
        return;
    add_source(place, i, false, elements);
    add(elements, resistor(negative(converter_input(wiring, place)), negative(i), BOLTED_OHM));
}

static void
add_load(const Place *place, size_t i, bool starts, GArray *elements)
{
    double amperes = place_current_A(place), volts = place_load_V(place);
    NetworkElement e = {.from = positive(i), .to = negative(i)};
    if (!isfinite(amperes) || !isfinite(volts))
        return;
    int draws =
        place->heater != NULL ? DRAWS_RESISTANCE : ((const LoadRole *) place->load->data)->draws;
    if (starts) { /* at rest a motor is a resistance */
        draws = DRAWS_RESISTANCE;
        amperes = ((const LoadRole *) place->load->data)->inrush_A;
    }
    if (place_is_thruster(place) && place->joined && !starts) {
        e.kind = ELEMENT_POWER_LAW;
        e.exponent = pm_thruster_exponent(THRUSTER_ARMATURE);
        e.coefficient = amperes / pow(volts, e.exponent);
    } else if (draws == DRAWS_RESISTANCE || !place->joined) { /* what nothing reaches lies at 0 V */
        e.kind = ELEMENT_RESISTOR;
        e.ohm = volts / amperes;
    } else if (draws == DRAWS_POWER) {
        e.kind = ELEMENT_POWER_LOAD;
        e.power_W = volts * amperes;
    } else {
        e.kind = ELEMENT_CURRENT_LOAD;
        e.current_A = amperes;
    }
    g_array_append_val(elements, e);
}

static void
add_inverter(size_t i, double power_W, GArray *elements)
{
    NetworkElement e = {
        .kind = ELEMENT_POWER_LOAD, .from = positive(i), .to = negative(i), .power_W = power_W};
    g_array_append_val(elements, e);
}

static bool
named(const List *list, const Place *place)
{
    for (size_t k = 0; list != NULL && k < list->n; k++)
        if (strcmp(list->id[k], place->source->id) == 0)
            return true;
    return false;
}

/* Sources NULL: all banks. */
static GArray *
elements_of(const Wiring *wiring, const Flow *flow, const List *sources, bool best)
{
    GArray *elements = g_array_new(FALSE, TRUE, sizeof(NetworkElement));
    g_array_set_size(elements, 2 * wiring->cables->len);
    g_array_set_size(elements,
                     (guint) put_cables(wiring, flow, (NetworkElement *) (void *) elements->data));
    add_bolted(wiring, elements);
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        if (place_converts(place)) {
            add_converter(wiring, flow, i, elements);
        } else if (place->source != NULL &&
                   (sources != NULL ? named(sources, place) : place->battery != NULL) &&
                   mains_charger_works(wiring, flow->situation, place->source)) {
            add_source(place, i, best, elements);
        }
        if (flow->inverts_W[i] > 0.0 && !flow->collapsed[i])
            add_inverter(i, flow->inverts_W[i], elements);
        else if (flow->running[i] && !flow->collapsed[i] && !mains_is_load(wiring, i))
            add_load(place, i, flow->starts == i, elements);
    }
    return elements;
}

static void
take_currents(const Wiring *wiring, Flow *flow)
{
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        bool back = cable->typed->wires == WIRES_NEGATIVE;
        size_t a = back ? negative(cable->from) : positive(cable->from),
               b = back ? negative(cable->to) : positive(cable->to);
        double ohm = cable_ohm(cable, flow->metal_K[i]) / cable_ways(cable);
        double amperes = (flow->voltage_V[a] - flow->voltage_V[b]) / ohm;
        flow->cable_A[i] = known(cable) && fabs(amperes) > 1e-3 ? amperes : 0.0;
    }
}

/* The lasting current that makes the metal as warm as it is at the end of a brief run. */
static double
warming_A(const LoadedCable *loaded, const Flow *flow, size_t i)
{
    double amperes = fabs(flow->cable_A[i]);
    if (flow->lasting_A == NULL)
        return amperes;
    double equal_A = cable_equal_A(loaded, fabs(flow->lasting_A[i]), amperes, flow->short_s);
    return isfinite(equal_A) ? equal_A : amperes;
}

/* The metal is never taken hotter than its insulation bears: what asks for more is a finding of ampacity. The most it changed. */
static double
warm(const Wiring *wiring, Flow *flow)
{
    double most = 0.0;
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        const Ampacity *ampacity = &cable->ampacity;
        if (!isfinite(ampacity->table_A) || cable->cranks)
            continue;
        LoadedCable loaded =
            cable_loaded(cable, ampacity->table_A * ampacity->bundle_factor, 303.15);
        double at = cable_temperature_K(&loaded, ampacity->ambient_K, warming_A(&loaded, flow, i));
        double was = flow->metal_K[i];
        flow->metal_K[i] = isnan(at) ? ampacity->ambient_K : fmin(at, cable->typed->insulation_K);
        most = fmax(most, fabs(flow->metal_K[i] - was));
    }
    return most;
}

static size_t
place_of_node(size_t node)
{
    return (node - 1) / 2;
}

static Network
network_of(const Wiring *wiring, const GArray *elements)
{
    return (Network){.nodes = 2 * wiring->places->len + 1,
                     .n = elements->len,
                     .element = (const NetworkElement *) (void *) elements->data,
                     .temperature_K = 300.15,
                     .hold_floating = true};
}

/* Solves until the metal is as warm as its current makes it. */
static void
warm_up(const Wiring *wiring, Flow *flow, GArray *elements, NetworkSolution *solution)
{
    Network network = network_of(wiring, elements);
    NetworkSolver *solver = network_solver_new(&network);
    for (int round = 0; round < WARMING_ROUNDS; round++) {
        flow->outcome = network_solver_run(solver, solution);
        if (flow->outcome != NETWORK_SOLVED)
            break;
        take_currents(wiring, flow);
        bool starts = flow->starts != NO_PLACE; /* over before any metal warms */
        if (starts || round + 1 == WARMING_ROUNDS || warm(wiring, flow) < AS_WARM_K)
            break;
        put_cables(wiring, flow, (NetworkElement *) (void *) elements->data);
    }
    network_solver_free(solver);
}

/* The place whose load asks for more than reaches it, when the outcome is that. */
static size_t
solve_with(const Wiring *wiring, Flow *flow, const List *sources)
{
    g_autoptr(GArray) elements = elements_of(wiring, flow, sources, false);
    g_autofree double *current_A = g_new0(double, elements->len + 1);
    g_autofree ElementState *state = g_new0(ElementState, elements->len + 1);
    NetworkSolution solution = {flow->voltage_V, current_A, state, 0};
    warm_up(wiring, flow, elements, &solution);
    return flow->outcome == NETWORK_COLLAPSED
               ? place_of_node(g_array_index(elements, NetworkElement, solution.where).from)
               : NO_PLACE;
}

/* What was only dragged down by another load works again once that is off. */
static void
put_back(const Wiring *wiring, Flow *flow, const List *sources)
{
    bool stale = false;
    for (guint i = 0; i < wiring->places->len; i++) {
        if (!flow->collapsed[i])
            continue;
        flow->collapsed[i] = false;
        solve_with(wiring, flow, sources);
        stale = flow->collapsed[i] = flow->outcome != NETWORK_SOLVED;
    }
    if (stale)
        solve_with(wiring, flow, sources);
}

/* A load that asks for more than reaches it is taken off, marked, and the rest solved again. */
static void
solve_loads(const Wiring *wiring, Flow *flow, const List *sources)
{
    guint off = 0;
    size_t at = solve_with(wiring, flow, sources);
    for (; at != NO_PLACE && off <= wiring->places->len; off++) {
        flow->collapsed[at] = true;
        at = solve_with(wiring, flow, sources);
    }
    if (off > 1 && flow->outcome == NETWORK_SOLVED)
        put_back(wiring, flow, sources);
}

/* What a converter draws follows from what it gives, and that hangs on its input only as on or off. */
static void
flow_solve(const Wiring *wiring, Flow *flow, const List *sources)
{
    for (int round = 0; round < CONVERTER_ROUNDS; round++) {
        solve_loads(wiring, flow, sources);
        if (!converters_draw(wiring, flow))
            break;
    }
}

static Flow *
flow_new(const Wiring *wiring, const char *situation)
{
    Flow *flow = g_new0(Flow, 1);
    flow->situation = situation;
    flow->starts = NO_PLACE;
    flow->voltage_V = g_new0(double, 2 * wiring->places->len + 1);
    flow->cable_A = g_new0(double, wiring->cables->len + 1);
    flow->metal_K = g_new0(double, wiring->cables->len + 1);
    flow->running = g_new0(bool, wiring->places->len + 1);
    flow->collapsed = g_new0(bool, wiring->places->len + 1);
    flow->inverts_W = g_new0(double, wiring->places->len + 1);
    for (guint i = 0; i < wiring->cables->len; i++)
        flow->metal_K[i] = wiring_cable(wiring, i)->ampacity.ambient_K;
    return flow;
}

/* Before it is solved: what flows while all that runs for minutes only is off. */
static void
find_lasting(const Wiring *wiring, Flow *flow, const List *sources)
{
    for (guint i = 0; i < wiring->places->len; i++)
        if (flow->running[i] && wiring_place(wiring, i)->direct)
            flow->short_s = fmax(flow->short_s, place_runs_for_s(wiring_place(wiring, i)));
    if (!(flow->short_s > 0.0))
        return;
    Flow *rest = flow_new(wiring, flow->situation);
    for (guint i = 0; i < wiring->places->len; i++) {
        rest->running[i] = flow->running[i] && !isfinite(place_runs_for_s(wiring_place(wiring, i)));
        rest->inverts_W[i] = flow->inverts_W[i];
    }
    flow_solve(wiring, rest, sources);
    flow->lasting_A = g_steal_pointer(&rest->cable_A);
    flow_free(rest);
}

static bool
stage_matches(const Situation *typed, Stage stage)
{
    return typed->stage == SITUATION_BOTH || typed->stage < 0 ||
           (typed->stage == SITUATION_NOW) == (stage == STAGE_NOW);
}

bool
situation_counts(const Wiring *wiring, const Record *situation)
{
    const Situation *typed = situation->data;
    return typed->sources.n > 0 && stage_matches(typed, wiring->stage) &&
           (wiring->only_situation == NULL || strcmp(wiring->only_situation, situation->id) == 0);
}

static void
add_situation(Wiring *wiring, const Record *record, bool *tried)
{
    const Situation *typed = record->data;
    if (!situation_counts(wiring, record))
        return;
    Flow *flow = flow_new(wiring, record->id);
    for (size_t k = 0; k < typed->running.n; k++) {
        size_t i = wiring_place_find(wiring, typed->running.entry[k].key);
        if (i != NO_PLACE && typed->running.entry[k].value.value > 0.0)
            flow->running[i] = tried[i] = true;
    }
    mains_draw_direct(wiring, flow);
    find_lasting(wiring, flow, &typed->sources);
    flow_solve(wiring, flow, &typed->sources);
    g_ptr_array_add(wiring->flows, flow);
}

/* The flow in which a place runs and most else with it, or NULL. */
static const Flow *
fullest_flow(const Wiring *wiring, size_t place)
{
    const Flow *fullest = NULL;
    guint most = 0;
    for (guint k = 0; k < wiring->flows->len; k++) {
        const Flow *flow = wiring_flow(wiring, k);
        guint n = 0;
        for (guint i = 0; i < wiring->places->len; i++)
            n += flow->running[i];
        if (flow->running[place] && flow->outcome == NETWORK_SOLVED && n > most) {
            fullest = flow;
            most = n;
        }
    }
    return fullest;
}

static const List *
sources_of(const Wiring *wiring, const Flow *flow)
{
    const Record *typed = flow->situation != NULL
                              ? boat_find(wiring->boat, &section_situations, flow->situation)
                              : NULL;
    return typed != NULL ? &((const Situation *) typed->data)->sources : NULL;
}

/* Motors whose current at the start is typed. A starter's own is what it cranks with. */
static void
find_starts(Wiring *wiring)
{
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        bool known = place->load != NULL && place->direct && !place_is_starter(place) &&
                     isfinite(((const LoadRole *) place->load->data)->inrush_A);
        const Flow *running = known ? fullest_flow(wiring, i) : NULL;
        if (running == NULL)
            continue;
        Flow *flow = flow_new(wiring, running->situation);
        flow->only = running->only;
        memcpy(flow->running, running->running, wiring->places->len * sizeof *flow->running);
        memcpy(flow->inverts_W, running->inverts_W, wiring->places->len * sizeof *flow->inverts_W);
        memcpy(flow->metal_K, running->metal_K, wiring->cables->len * sizeof *flow->metal_K);
        flow->starts = i;
        flow_solve(wiring, flow, sources_of(wiring, running));
        g_ptr_array_add(wiring->starts, flow);
    }
}

/* Where cables begin; all banks feed into the short. */
static void
find_faults(const Wiring *wiring, bool best, double fault_A_at[])
{
    size_t n = wiring->places->len, points = 0;
    Flow *cold = flow_new(wiring, "");
    converters_off(wiring, cold); /* what they drive into a short is no more than their limit */
    g_autoptr(GArray) elements = elements_of(wiring, cold, NULL, best);
    flow_free(cold);
    Network network = network_of(wiring, elements);
    g_autofree size_t *at = g_new(size_t, n + 1), *back = g_new(size_t, n + 1),
                      *place = g_new(size_t, n + 1);
    g_autofree double *fault_A = g_new(double, n + 1);
    g_autofree bool *asked = g_new0(bool, n + 1);
    for (guint c = 0; c < wiring->cables->len; c++) {
        size_t from = wiring_cable(wiring, c)->from;
        if (asked[from])
            continue;
        asked[from] = true;
        place[points] = from;
        at[points] = positive(from);
        back[points++] = negative(from);
    }
    for (size_t i = 0; i < n; i++)
        fault_A_at[i] = NAN;
    network_faults(&network, points, at, back, fault_A);
    for (size_t k = 0; k < points; k++)
        fault_A_at[place[k]] = fault_A[k];
}

double
wiring_fault_without_A(const Wiring *wiring, const Cable *cable, size_t place)
{
    enum { OPEN_OHM = 1000000000 };
    Flow *cold = flow_new(wiring, "");
    converters_off(wiring, cold); /* what they drive into a short is no more than their limit */
    g_autoptr(GArray) elements = elements_of(wiring, cold, NULL, true);
    flow_free(cold);
    /* As put_cables puts them. */
    size_t n = 0;
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *one = wiring_cable(wiring, i);
        size_t own = known(one) ? (size_t) cable_ways(one) : 0;
        for (size_t k = n; k < n + own && one->record == cable->record; k++)
            g_array_index(elements, NetworkElement, k).ohm = OPEN_OHM;
        n += own;
    }
    Network network = network_of(wiring, elements);
    size_t at = positive(place), back = negative(place);
    double fault_A = NAN;
    network_faults(&network, 1, &at, &back, &fault_A);
    return fault_A;
}

/* Situations of the file first; then each load that runs in none of them, with nothing else. */
void
wiring_flow_all(Wiring *wiring)
{
    g_autofree bool *tried = g_new0(bool, wiring->places->len + 1);
    wiring->fault_A = g_new0(double, wiring->places->len + 1);
    wiring->weak_fault_A = g_new0(double, wiring->places->len + 1);
    if (wiring->cables->len == 0)
        return;
    size_t n;
    const Record *const *records = boat_records(wiring->boat, &section_situations, &n);
    for (size_t i = 0; i < n; i++)
        add_situation(wiring, records[i], tried);
    for (guint i = 0; i < wiring->places->len && wiring->only_situation == NULL; i++) {
        const Place *place = wiring_place(wiring, i);
        if (tried[i] || !place->direct || !isfinite(place_current_A(place)))
            continue;
        Flow *flow = flow_new(wiring, NULL);
        flow->only = place->record;
        flow->running[i] = true;
        find_lasting(wiring, flow, NULL);
        flow_solve(wiring, flow, NULL);
        g_ptr_array_add(wiring->flows, flow);
    }
    find_starts(wiring);
    find_faults(wiring, true, wiring->fault_A);
    find_faults(wiring, false, wiring->weak_fault_A);
}

double
flow_pole_V(const Flow *flow, size_t place, bool back)
{
    return flow->voltage_V[back ? negative(place) : positive(place)];
}

double
flow_volts(const Flow *flow, size_t place)
{
    return flow->voltage_V[positive(place)] - flow->voltage_V[negative(place)];
}

const Flow *
cable_worst(const Wiring *wiring, size_t cable, double *amperes)
{
    const Flow *worst = NULL;
    *amperes = 0.0;
    for (guint i = 0; i < wiring->flows->len; i++) {
        const Flow *flow = wiring_flow(wiring, i);
        if (flow->outcome == NETWORK_SOLVED && fabs(flow->cable_A[cable]) > *amperes) {
            *amperes = fabs(flow->cable_A[cable]);
            worst = flow;
        }
    }
    return worst;
}

const Flow *
cable_hottest(const Wiring *wiring, size_t cable, double *amperes, double *allowed_A)
{
    const Flow *hottest = NULL;
    for (guint i = 0; i < wiring->flows->len; i++) {
        const Flow *flow = wiring_flow(wiring, i);
        double carries = fabs(flow->cable_A[cable]),
               may = cable_allowed_A(wiring_cable(wiring, cable), flow, cable);
        if (flow->outcome != NETWORK_SOLVED || !(carries > 0.0) ||
            (hottest != NULL && carries * *allowed_A <= *amperes * may))
            continue;
        hottest = flow;
        *amperes = carries;
        *allowed_A = may;
    }
    return hottest;
}

/* Voltage at the terminals of the bank of the same voltage that feeds (the highest, of several), else of what charges: where
 * the way to a device begins. */
double
flow_source_V(const Wiring *wiring, const Flow *flow, size_t place)
{
    double bank = NAN, charger = NAN, nominal = wiring_place(wiring, place)->nominal_V;
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *source = wiring_place(wiring, i);
        bool feeds = source->source != NULL && fabs(source->nominal_V / nominal - 1.0) < 0.3;
        double *highest = source->battery != NULL ? &bank : &charger;
        if (feeds && flow_volts(flow, i) > 0.5 * nominal)
            *highest = fmax(*highest, flow_volts(flow, i));
    }
    return isfinite(bank) ? bank : charger;
}

const Cable *
cable_to(const Wiring *wiring, const Place *place)
{
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        if (wiring_place(wiring, cable->to) == place && cable->typed->wires != WIRES_NEGATIVE)
            return cable;
    }
    return NULL;
}

const Record *
cable_protection(const Wiring *wiring, const Cable *cable)
{
    if (cable->protect != NULL)
        return cable->protect;
    size_t at = cable->from;
    for (guint hops = 0; hops <= wiring->places->len; hops++) {
        const Place *place = wiring_place(wiring, at);
        const Record *own = record_role(place->record, &section_busbar_protect);
        if (own != NULL || place->source != NULL)
            return own;
        size_t feeder = NO_PLACE;
        for (guint i = 0; i < wiring->cables->len; i++) {
            const Cable *up = wiring_cable(wiring, i);
            if (up->to == at && up->typed->wires != WIRES_NEGATIVE && up->protect != NULL)
                return up->protect;
            if (up->to == at && up->typed->wires != WIRES_NEGATIVE)
                feeder = up->from;
        }
        at = place->fed_by != NO_PLACE ? place->fed_by : feeder;
        if (at == NO_PLACE)
            return NULL;
    }
    return NULL;
}
