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
    {NULL, "sources"},         {NULL, "busbars"},   {NULL, "circuits"},   {NULL, "work"},
    {NULL, "survey"},          {"berth", "shore"},  {"items", "heater"},  {"items", "battery"},
    {"items", "engine"},       {"items", "motor"},  {"items", "charger"}, {"items", "inverter"},
    {"items", "alternator"},   {"items", "solar"},  {"items", "pump"},    {"items", "propeller"},
    {"items", "thruster"},     {"items", "rudder"}, {"items", "anchor"},  {"situations", "sources"},
    {"situations", "running"},
};

bool
pending_key(const Section *section, const char *key)
{
    for (size_t i = 0; i < sizeof pending / sizeof pending[0]; i++) {
        bool same = section == NULL ? pending[i].section == NULL
                                    : pending[i].section != NULL &&
                                          strcmp(pending[i].section, section->key) == 0;
        if (same && strcmp(pending[i].key, key) == 0)
            return true;
    }
    return false;
}
