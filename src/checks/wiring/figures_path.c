/* The way of the current from a bank to a device and back, with the volts that each piece takes.
 * Invariant: the steps add up to what lies between the voltage of the source and that of the device. */
#include <math.h>

#include "checks/wiring/figures_path.h"
#include "checks/wiring/workings.h"

/* ---- which device, in which situation ---- */

static bool
is_device(const Wiring *wiring, size_t i)
{
    const Place *place = wiring_place(wiring, i);
    return (place->load != NULL || place->heater != NULL) && place->direct &&
           isfinite(place_current_A(place)) && isfinite(place_load_V(place));
}

void
list_devices(const Wiring *wiring, GPtrArray *records)
{
    for (guint i = 0; i < wiring->places->len; i++)
        if (is_device(wiring, i))
            g_ptr_array_add(records, (gpointer) wiring_place(wiring, i)->record);
    list_mains_devices(wiring, records);
}

/* As the check judges the circuit that ends here; NAN: it does not. */
static double
allowed_V(const FigureStore *store, size_t place)
{
    const Wiring *wiring = store->wiring;
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        g_autofree char *id = g_strconcat("wiring.voltage-loss.", cable->record->id, NULL);
        const Finding *judged =
            cable->to == place ? result_finding_find(store->answered, id) : NULL;
        if (judged != NULL && judged->measured)
            return judged->limit;
    }
    return NAN;
}

static double
least_V(const Place *place)
{
    return place->load != NULL ? ((const LoadRole *) place->load->data)->least_V : NAN;
}

/* Of what may be lost, or of what lies between the source and the least voltage: the worse. NAN: nothing reaches it. */
static double
share_of_limit(const Wiring *wiring, const Flow *flow, size_t i, double allowed)
{
    const Place *place = wiring_place(wiring, i);
    double source_V = flow_source_V(wiring, flow, i), lost_V = source_V - flow_volts(flow, i);
    double room_V = source_V - least_V(place);
    if (!flow->running[i] || flow->collapsed[i] || flow->outcome != NETWORK_SOLVED ||
        !(flow_volts(flow, i) > 0.1 * place_load_V(place)) || !isfinite(lost_V))
        return NAN;
    return fmax(lost_V / allowed, room_V > 0.0 ? lost_V / room_V : NAN);
}

typedef struct {
    size_t place;
    const Flow *flow;
    double share;
} Worst;

static Worst
worst_device(const FigureStore *store)
{
    const Wiring *wiring = store->wiring;
    const Record *asked = store->record;
    Worst worst = {NO_PLACE, NULL, -INFINITY};
    for (guint i = 0; i < wiring->places->len; i++) {
        if (!is_device(wiring, i) || (asked != NULL && wiring_place(wiring, i)->record != asked))
            continue;
        double allowed = allowed_V(store, i);
        for (guint k = 0; k < wiring->flows->len; k++) {
            double share = share_of_limit(wiring, wiring_flow(wiring, k), i, allowed);
            if (share > worst.share)
                worst = (Worst){i, wiring_flow(wiring, k), share};
        }
    }
    return worst;
}

/* ---- the way ---- */

typedef struct {
    size_t from, to;    /* places, from nearer the source */
    const Cable *cable; /* NULL: bolted */
    size_t index;       /* of the cable */
} Hop;

static bool
feeds_here(const Wiring *wiring, const Flow *flow, size_t place, size_t device)
{
    const Place *source = wiring_place(wiring, place);
    double nominal = wiring_place(wiring, device)->nominal_V;
    return source->source != NULL && fabs(source->nominal_V / nominal - 1.0) < 0.3 &&
           flow_volts(flow, place) > 0.5 * nominal;
}

/* The hop over which a place was reached; its `from` is the place nearer the device while we search. */
static void
reach_over(const Wiring *wiring, const Flow *flow, size_t at, bool back, Hop by[], bool seen[],
           GArray *queue)
{
    for (guint c = 0; c < wiring->cables->len; c++) {
        const Cable *cable = wiring_cable(wiring, c);
        size_t other = cable->from == at ? cable->to : cable->to == at ? cable->from : NO_PLACE;
        bool carries = cable->typed->wires != (back ? WIRES_POSITIVE : WIRES_NEGATIVE);
        if (other == NO_PLACE || !carries || seen[other] || flow->cable_A[c] == 0.0)
            continue;
        seen[other] = true;
        by[other] = (Hop){other, at, cable, c};
        g_array_append_val(queue, other);
    }
    for (size_t i = 0; i < wiring->places->len; i++) {
        bool joined =
            wiring_place(wiring, i)->fed_by == at || wiring_place(wiring, at)->fed_by == i;
        if (!joined || seen[i])
            continue;
        seen[i] = true;
        by[i] = (Hop){i, at, NULL, 0};
        g_array_append_val(queue, i);
    }
}

/* Hops from the source to the device over one pole, through as few cables as there are; a bank before whatever charges. NULL:
 * there is no way that carries anything. */
static GArray *
hops_to(const Wiring *wiring, const Flow *flow, size_t device, bool back, size_t *source)
{
    size_t n = wiring->places->len;
    g_autofree Hop *by = g_new0(Hop, n);
    g_autofree bool *seen = g_new0(bool, n);
    g_autoptr(GArray) queue = g_array_new(FALSE, FALSE, sizeof(size_t));
    seen[device] = true;
    g_array_append_val(queue, device);
    for (guint k = 0; k < queue->len; k++)
        reach_over(wiring, flow, g_array_index(queue, size_t, k), back, by, seen, queue);
    size_t found = *source;
    for (guint k = 1; k < queue->len && *source == NO_PLACE; k++) {
        size_t at = g_array_index(queue, size_t, k);
        bool bank = wiring_place(wiring, at)->battery != NULL;
        if (feeds_here(wiring, flow, at, device) &&
            (found == NO_PLACE || (bank && wiring_place(wiring, found)->battery == NULL)))
            found = at;
    }
    if (found == NO_PLACE || !seen[found])
        return NULL;
    *source = found;
    GArray *hops = g_array_new(FALSE, FALSE, sizeof(Hop));
    for (size_t at = found; at != device; at = by[at].to)
        g_array_append_val(hops, by[at]);
    return hops;
}

/* ---- steps ---- */

static void
add_step(GArray *steps, const Record *record, const char *field, LostIn in, bool back,
         double lost_V)
{
    VoltageStep step = {record->path, field, record_words(record), in, back, false, lost_V};
    g_array_append_val(steps, step);
}

/* The joints' share of a pole's loss is theirs of its resistance. */
static void
add_cable(GArray *steps, const Hop *hop, double metal_K, bool back, double lost_V)
{
    const Cable *cable = hop->cable;
    double joints = cable->typed->contacts_ohm / cable_ohm(cable, metal_K);
    if (cable->by_reading || !(joints > 0.0)) {
        add_step(steps, cable->record, cable->by_reading ? "measured-drop" : "area",
                 cable->by_reading ? LOST_IN_BOTH : LOST_IN_METAL, back, lost_V);
        return;
    }
    add_step(steps, cable->record, "contacts", LOST_IN_JOINTS, back, joints * lost_V);
    const Protection *typed = cable->protect != NULL ? cable->protect->data : NULL;
    g_array_index(steps, VoltageStep, steps->len - 1).guarded =
        !back && typed != NULL && (typed->kind == PROTECT_FUSE || typed->kind == PROTECT_BREAKER);
    add_step(steps, cable->record, "area", LOST_IN_METAL, back, (1.0 - joints) * lost_V);
}

static void
add_hop(const Wiring *wiring, const Flow *flow, const Hop *hop, bool back, GArray *steps)
{
    double fall_V = flow_pole_V(flow, hop->from, back) - flow_pole_V(flow, hop->to, back);
    double lost_V = back ? -fall_V : fall_V;
    if (hop->cable != NULL)
        add_cable(steps, hop, flow->metal_K[hop->index], back, lost_V);
    else
        add_step(steps, wiring_place(wiring, hop->to)->record, NULL, LOST_IN_BOLTS, back, lost_V);
}

static GArray *
steps_of(const Wiring *wiring, const Flow *flow, size_t device, size_t *source)
{
    *source = NO_PLACE;
    g_autoptr(GArray) out = hops_to(wiring, flow, device, false, source);
    g_autoptr(GArray) home = out != NULL ? hops_to(wiring, flow, device, true, source) : NULL;
    if (home == NULL)
        return NULL;
    GArray *steps = g_array_new(FALSE, TRUE, sizeof(VoltageStep));
    for (guint i = 0; i < out->len; i++)
        add_hop(wiring, flow, &g_array_index(out, Hop, i), false, steps);
    for (guint i = home->len; i-- > 0;)
        add_hop(wiring, flow, &g_array_index(home, Hop, i), true, steps);
    return steps;
}

static void
say_why_not(FigureStore *store)
{
    size_t n;
    boat_records(store->wiring->boat, &section_circuits, &n);
    store->why_not =
        n == 0 ? "no circuit is written down, so no way to a device is known (circuits.ID)"
        : store->record != NULL
            ? figure_text(store, "no current reaches %s%s", record_words(store->record),
                          store->wiring->only_situation != NULL ? " in that situation" : "")
            : "no device on a circuit runs, or nothing that feeds reaches one";
}

const char *
path_situation(FigureStore *store, const char *situation)
{
    if (situation == NULL)
        return "nothing else running";
    return figure_situation(store, store->wiring->boat, situation);
}

void
path_finish(FigureStore *store, VoltagePathPicture *fig, const GArray *steps)
{
    VoltageStep *step = figure_block(store, steps->len * sizeof *step);
    for (guint i = 0; i < steps->len; i++)
        step[i] = g_array_index(steps, VoltageStep, i);
    fig->steps = steps->len;
    fig->step = step;
    const Vessel *vessel = boat_single(store->wiring->boat, &section_boat)->data;
    fig->caption = figure_text(store, "%s, %s: %s, %s", vessel->name, store->stage, fig->device,
                               fig->situation);
}

void *
figure_voltage_path(FigureStore *store)
{
    const Wiring *wiring = store->wiring;
    Worst worst = worst_device(store);
    MainsWorst mains = worst_mains_device(store);
    if (mains.flow != NULL && mains.share > worst.share)
        return figure_mains_path(store, &mains);
    size_t source;
    g_autoptr(GArray) steps =
        worst.flow != NULL ? steps_of(wiring, worst.flow, worst.place, &source) : NULL;
    if (steps == NULL) {
        say_why_not(store);
        return NULL;
    }
    const Place *place = wiring_place(wiring, worst.place);
    VoltagePathPicture *fig = figure_block(store, sizeof *fig);
    *fig = (VoltagePathPicture){
        .device_path = place->record->path,
        .device = record_words(place->record),
        .source = record_words(wiring_place(wiring, source)->record),
        .situation = path_situation(store, worst.flow->only != NULL ? NULL : worst.flow->situation),
        .source_V = flow_volts(worst.flow, source),
        .device_V = flow_volts(worst.flow, worst.place),
        .nominal_V = place_load_V(place),
        .allowed_V = allowed_V(store, worst.place),
        .least_V = least_V(place)};
    path_finish(store, fig, steps);
    return fig;
}
