/* Ids that name other records.
 *
 * Invariant: in a boat without errors every reference under a described key finds its record. */
#include "boat/read_internal.h"

#include <string.h>

static const Section *
any_section(const char *key)
{
    for (size_t i = 0; boat_sections[i] != NULL; i++)
        if (strcmp(boat_sections[i]->key, key) == 0)
            return boat_sections[i];
    g_return_val_if_reached(NULL);
}

/* A role is named by the id of the record that bears it. */
static const char *
reference_id(const Record *record)
{
    return record->section->role_of != NULL && !record->section->keyed ? record->parent->id
                                                                       : record->id;
}

static bool
found_in(const Boat *boat, const Section *section, const char *id)
{
    return boat_find(boat, section, id) != NULL ||
           (section == &section_situations && situation_is_built_in(id));
}

static void
dangling(Reader *r, const WaitingReference *reference, char *const sections[])
{
    g_autoptr(GPtrArray) words = g_ptr_array_new();
    g_autoptr(GString) where = g_string_new(NULL);
    for (size_t i = 0; sections[i] != NULL; i++) {
        size_t n;
        const Section *section = any_section(sections[i]);
        const Record *const *records = boat_records(r->boat, section, &n);
        for (size_t j = 0; j < n && r->near_left > 0; j++)
            g_ptr_array_add(words, (gpointer) reference_id(records[j]));
        if (section->role_of != NULL)
            g_string_append_printf(where, "%s%s with `%s`", i > 0 ? " or " : "", section->role_of,
                                   section->key);
        else
            g_string_append_printf(where, "%s%s", i > 0 ? " or " : "", section->key);
    }
    g_autofree char *near = reader_nearest(r, reference->id, words);
    reader_error(r, reference->node, "there is no `%s` among %s%s", reference->id, where->str,
                 near);
}

void
references_resolve(Reader *r)
{
    for (size_t i = 0; !r->patch && i < r->references->len; i++) {
        const WaitingReference *reference = &g_array_index(r->references, WaitingReference, i);
        g_auto(GStrv) sections = g_strsplit(reference->refers_to, " ", -1);
        bool found = false;
        for (size_t j = 0; sections[j] != NULL && !found; j++)
            found = found_in(r->boat, any_section(sections[j]), reference->id);
        if (!found)
            dangling(r, reference, sections);
    }
}
