/* Circuits by their labels and their ends.
 * Invariant: a label depends on the file alone, never on stage or order of asking. */
#include "boat/circuits.h"

#include <string.h>

#include "boat/aboard.h"
#include "boat/model.h"

enum { FEEDERS = 32 }; /* a chain of boards longer than this is a ring */

static bool
typed_elsewhere(const Boat *boat, const char *label)
{
    size_t n;
    const Record *const *records = boat_records(boat, &section_circuits, &n);
    for (size_t i = 0; i < n; i++) {
        const char *typed = ((const Circuit *) records[i]->data)->label;
        if (typed != NULL && strcmp(typed, label) == 0)
            return true;
    }
    return false;
}

char *
circuit_label(const Boat *boat, const Record *circuit)
{
    const char *typed = ((const Circuit *) circuit->data)->label;
    if (typed != NULL && *typed != '\0')
        return g_strdup(typed);
    size_t n, place = 0;
    const Record *const *records = boat_records(boat, &section_circuits, &n);
    while (place < n && records[place] != circuit)
        place++;
    char *label = g_strdup_printf("%zu", place + 1);
    for (char letter = 'a'; letter <= 'z' && typed_elsewhere(boat, label); letter++) {
        g_free(label);
        label = g_strdup_printf("%zu%c", place + 1, letter);
    }
    return label;
}

const Record *
circuit_end(const Boat *boat, const char *id)
{
    const Section *const sections[] = {&section_busbars, &section_sources, &section_items};
    const Record *found = NULL;
    for (size_t i = 0; id != NULL && found == NULL && i < G_N_ELEMENTS(sections); i++)
        found = boat_find(boat, sections[i], id);
    return found;
}

static bool
end_aboard(const Boat *boat, const char *id, Stage stage)
{
    const Record *end = circuit_end(boat, id);
    if (end != NULL && end->section == &section_sources) {
        const char *of = ((const SourceSection *) end->data)->of.id;
        const Record *item = of != NULL ? boat_find(boat, &section_items, of) : NULL;
        end = item != NULL ? item : end;
    }
    return end != NULL && (end->section != &section_items || item_aboard(end->data, stage));
}

bool
circuit_aboard(const Boat *boat, const Record *circuit, Stage stage)
{
    const Circuit *typed = circuit->data;
    return end_aboard(boat, typed->from.id, stage) && end_aboard(boat, typed->to.id, stage);
}

static bool
gives_mains(const SourceSection *source)
{
    return source->kind == SOURCE_SHORE || source->kind == SOURCE_GENERATOR ||
           source->kind == SOURCE_INVERTER || source->kind == SOURCE_INVERTER_CHARGER;
}

/* Up the chain of what feeds what. */
static bool
mains_reaches(const Boat *boat, const char *id, int hops)
{
    const Record *end = circuit_end(boat, id);
    if (end == NULL || hops > FEEDERS)
        return false;
    if (end->section == &section_sources)
        return gives_mains(end->data);
    const char *fed_by =
        end->section == &section_busbars ? ((const Busbar *) end->data)->fed_by.id : NULL;
    if (fed_by != NULL)
        return mains_reaches(boat, fed_by, hops + 1);
    size_t n;
    const Record *const *records = boat_records(boat, &section_circuits, &n);
    for (size_t i = 0; i < n; i++) {
        const Circuit *feeder = records[i]->data;
        if (feeder->to.id != NULL && strcmp(feeder->to.id, id) == 0)
            return mains_reaches(boat, feeder->from.id, hops + 1);
    }
    return false;
}

bool
circuit_is_mains(const Boat *boat, const Record *circuit)
{
    return mains_reaches(boat, ((const Circuit *) circuit->data)->from.id, 0);
}
