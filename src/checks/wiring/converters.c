/* What converters of direct current draw.
 * Invariant: none gives what it does not draw: an input that is dead, or asked for too much, switches it off. */
#include "checks/wiring/converters.h"

#include <math.h>

#define SETTLED_FRAC 1e-7
#define ALIVE_FRAC                                                                                 \
    0.5 /* of its nominal voltage: below that no converter works (common practice, no source) */

bool
place_converts(const Place *place)
{
    return place->source != NULL &&
           ((const SourceSection *) place->source->data)->kind == SOURCE_CONVERTER;
}

size_t
converter_input(const Wiring *wiring, const Place *converter)
{
    return wiring_place_find(wiring, ((const SourceSection *) converter->source->data)->of.id);
}

bool
converter_gives(const Wiring *wiring, const Flow *flow, const Place *converter)
{
    size_t at = converter_input(wiring, converter);
    return at != NO_PLACE && !flow->collapsed[at];
}

void
converters_off(const Wiring *wiring, Flow *flow)
{
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        size_t at = place_converts(place) ? converter_input(wiring, place) : NO_PLACE;
        if (at != NO_PLACE)
            flow->collapsed[at] = true;
    }
}

static double
given_A(const Wiring *wiring, const Flow *flow, size_t converter)
{
    double amperes = 0.0;
    for (guint i = 0; i < wiring->cables->len; i++) {
        const Cable *cable = wiring_cable(wiring, i);
        if (cable->typed->wires == WIRES_NEGATIVE)
            continue;
        amperes += cable->from == converter ? flow->cable_A[i] : 0.0;
        amperes -= cable->to == converter ? flow->cable_A[i] : 0.0;
    }
    return amperes;
}

static bool
is_alive(const Wiring *wiring, const Flow *flow, size_t input)
{
    return flow_volts(flow, input) > ALIVE_FRAC * wiring_place(wiring, input)->nominal_V;
}

bool
converters_draw(const Wiring *wiring, Flow *flow)
{
    bool changed = false;
    for (guint i = 0; i < wiring->places->len; i++) {
        const Place *place = wiring_place(wiring, i);
        if (!place_converts(place) || !converter_gives(wiring, flow, place) ||
            flow->outcome != NETWORK_SOLVED)
            continue;
        const SourceSection *source = place->source->data;
        size_t at = converter_input(wiring, place);
        if (!is_alive(wiring, flow, at)) {
            flow->collapsed[at] = changed = true;
            continue;
        }
        double watts =
            fmax(0.0, given_A(wiring, flow, i) * flow_volts(flow, i)) / source->efficiency_frac;
        double *draws_W = &flow->inverts_W[at];
        changed |= fabs(watts - *draws_W) > SETTLED_FRAC * (1.0 + watts);
        *draws_W = watts;
    }
    return changed;
}
