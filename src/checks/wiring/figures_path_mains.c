/* The way of mains current from its source to a device: cable by cable, each out and back.
 * Invariant: the steps add up to what lies between the voltage of the source and that of the device. */
#include <math.h>

#include "checks/wiring/figures_path.h"
#include "checks/wiring/mains.h"

static bool
is_mains_device(const Wiring *wiring, size_t i)
{
    const Place *place = wiring_place(wiring, i);
    return (place->load != NULL || place->heater != NULL) && mains_is_load(wiring, i);
}

void
list_mains_devices(const Wiring *wiring, GPtrArray *records)
{
    for (guint i = 0; i < wiring->places->len; i++)
        if (is_mains_device(wiring, i))
            g_ptr_array_add(records, (gpointer) wiring_place(wiring, i)->record);
}

/* As the check judges the cable that ends here; NAN: it does not. */
static double
allowed_V(const FigureStore *store, size_t place)
{
    for (guint i = 0; i < store->wiring->mains->len; i++) {
        const Cable *cable = mains_cable(store->wiring, i);
        g_autofree char *id = g_strconcat("wiring.mains-loss.", cable->record->id, NULL);
        const Finding *judged =
            cable->to == place ? result_finding_find(store->answered, id) : NULL;
        if (judged != NULL && judged->measured)
            return judged->limit;
    }
    return NAN;
}

MainsWorst
worst_mains_device(const FigureStore *store)
{
    const Wiring *wiring = store->wiring;
    MainsWorst worst = {NO_PLACE, NULL, -INFINITY};
    for (guint i = 0; i < wiring->places->len; i++) {
        const Record *record = wiring_place(wiring, i)->record;
        if (!is_mains_device(wiring, i) || (store->record != NULL && record != store->record))
            continue;
        double allowed = allowed_V(store, i);
        for (guint k = 0; k < wiring->mains_flows->len; k++) {
            const MainsFlow *flow = mains_flow(wiring, k);
            if (mains_is_structure(flow) || !mains_live(flow, i) || !flow->running[i])
                continue;
            double share = (flow->voltage_V[flow->root[i]] - flow->voltage_V[i]) / allowed;
            if (share > worst.share)
                worst = (MainsWorst){i, flow, share};
        }
    }
    return worst;
}

static GArray *
steps_of(const Wiring *wiring, const MainsFlow *flow, size_t device)
{
    GArray *steps = g_array_new(FALSE, TRUE, sizeof(VoltageStep));
    for (size_t at = device; at != flow->root[device]; at = flow->above[at]) {
        bool bolted = flow->feeder[at] == NO_PLACE;
        const Record *record = bolted ? wiring_place(wiring, at)->record
                                      : mains_cable(wiring, flow->feeder[at])->record;
        VoltageStep step = {.path = record->path,
                            .field = bolted ? NULL : "area",
                            .name = record_words(record),
                            .in = bolted ? LOST_IN_BOLTS : LOST_OUT_AND_BACK,
                            .lost_V = flow->voltage_V[flow->above[at]] - flow->voltage_V[at]};
        g_array_prepend_val(steps, step);
    }
    return steps;
}

void *
figure_mains_path(FigureStore *store, const MainsWorst *worst)
{
    const Wiring *wiring = store->wiring;
    g_autoptr(GArray) steps = steps_of(wiring, worst->flow, worst->place);
    const Place *place = wiring_place(wiring, worst->place);
    size_t root = worst->flow->root[worst->place];
    VoltagePathPicture *fig = figure_block(store, sizeof *fig);
    *fig = (VoltagePathPicture){.device_path = place->record->path,
                                .device = record_words(place->record),
                                .source = record_words(wiring_place(wiring, root)->record),
                                .situation = path_situation(store, worst->flow->situation),
                                .source_V = worst->flow->voltage_V[root],
                                .device_V = worst->flow->voltage_V[worst->place],
                                .nominal_V = worst->flow->voltage_V[root],
                                .allowed_V = allowed_V(store, worst->place),
                                .least_V = NAN};
    path_finish(store, fig, steps);
    return fig;
}
