/* The list of sections and look-ups in their tables.
 *
 * Invariant: every section of the boat file stands in boat_sections once, a role after what it is a
 * role of. */
#include "boat/section.h"

#include <glib.h>
#include <string.h>

#include "boat/document.h"
#include "boat/model.h"
#include "boat/work.h"

const Section *const boat_sections[] = {
    &section_boat,
    &section_berth,
    &section_shore,
    &section_slots,
    &section_route,
    &section_marks,
    &section_hull,
    &section_form,
    &section_tape,
    &section_strings,
    &section_plumb,
    &section_diagonals,
    &section_stations,
    &section_appendages,
    &section_coating,
    &section_houses,
    &section_spaces,
    &section_openings,
    &section_items,
    &section_tank,
    &section_ballast,
    &section_person_place,
    &section_anode,
    &section_metal,
    &section_battery,
    &section_heater,
    &section_load,
    &section_sources,
    &section_source_protect,
    &section_busbars,
    &section_busbar_protect,
    &section_circuits,
    &section_circuit_protect,
    &section_measured_drop,
    &section_situations,
    &section_options,
    &section_ashore,
    &section_measured,
    &section_limits,
    &section_work,
    &section_may_find,
    &section_hands,
    &section_purchases,
    &section_milestones,
    &section_prices,
    &section_log,
    NULL,
};

const Section *
section_find(const char *key)
{
    for (size_t i = 0; boat_sections[i] != NULL; i++)
        if (boat_sections[i]->role_of == NULL && strcmp(boat_sections[i]->key, key) == 0)
            return boat_sections[i];
    return NULL;
}

const Section *
section_sub(const Section *section, const char *key)
{
    for (size_t i = 0; boat_sections[i] != NULL; i++)
        if (boat_sections[i]->role_of != NULL &&
            strcmp(boat_sections[i]->role_of, section->key) == 0 &&
            strcmp(boat_sections[i]->key, key) == 0)
            return boat_sections[i];
    return NULL;
}

const Field *
section_field(const Section *section, const char *key)
{
    for (size_t i = 0; i < section->n_fields; i++)
        if (*section->fields[i].key == *key && strcmp(section->fields[i].key, key) == 0)
            return &section->fields[i];
    return NULL;
}

bool
field_is_place(const Field *field)
{
    return field->type == FIELD_ALONG || field->type == FIELD_ACROSS || field->type == FIELD_HEIGHT;
}

bool
field_is_number(const Field *field)
{
    return field->type == FIELD_QUANTITY || field->type == FIELD_COUNT ||
           field->type == FIELD_MONEY || field->type == FIELD_TIME ||
           field->type == FIELD_DENSITY || field->type == FIELD_WIRE || field_is_place(field);
}

const Field *
section_field_at(const char *path, const Section **found)
{
    g_auto(GStrv) parts = path_split(path);
    const Section *none = NULL;
    found = found == NULL ? &none : found;
    *found = NULL;
    if (parts == NULL)
        return NULL;
    size_t n = g_strv_length(parts), i = 0;
    if (n > 3 && strcmp(parts[0], "options") == 0 && strcmp(parts[2], "changes") == 0)
        i = 3;
    const Section *section = section_find(parts[i++]);
    while (section != NULL) {
        if (section->keyed && i++ >= n)
            return NULL;
        if (i >= n) {
            *found = section;
            return NULL;
        }
        const Field *field = section_field(section, parts[i]);
        if (field != NULL) {
            *found = i + 1 == n ? section : NULL;
            return i + 1 == n ? field : NULL;
        }
        section = section_sub(section, parts[i++]);
    }
    return NULL;
}
