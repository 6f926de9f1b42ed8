/* Keys of the boat file that no table describes yet: they are let through unread, references below
 * them too.
 *
 * Invariant: a key that has a table does not stand here. A line goes when its table lands. */
#include "boat/section.h"

#include <string.h>

#include "boat/model.h"

static const struct {
    const char *section, *key; /* section NULL: at the top of the file */
} pending[] = {
    {NULL, "survey"},       {"items", "engine"},     {"items", "motor"},  {"items", "charger"},
    {"items", "inverter"},  {"items", "alternator"}, {"items", "solar"},  {"items", "pump"},
    {"items", "propeller"}, {"items", "thruster"},   {"items", "rudder"}, {"items", "anchor"},
};

const char *
pending_nth(const Section *section, size_t i)
{
    for (size_t j = 0; j < sizeof pending / sizeof pending[0]; j++) {
        const char *of = pending[j].section;
        bool same = section == NULL ? of == NULL : of != NULL && strcmp(of, section->key) == 0;
        if (same && i-- == 0)
            return pending[j].key;
    }
    return NULL;
}

bool
pending_key(const Section *section, const char *key)
{
    const char *known;
    for (size_t i = 0; (known = pending_nth(section, i)) != NULL; i++)
        if (strcmp(known, key) == 0)
            return true;
    return false;
}
