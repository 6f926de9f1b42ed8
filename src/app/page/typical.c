/* Masses that nobody stated, taken from what is typical of a kind, as forms show them; and the words that name a kind. */
#include "app/page/typical.h"

#include <math.h>
#include <string.h>

#include "boat/model.h"
#include "checks/derive/masses.h"
#include "report/words.h"

static bool
is_item_field(const Record *record, const Field *field, const char *key)
{
    return record->section == &section_items && strcmp(field->key, key) == 0;
}

/* The area of a shell that the file leaves out follows from her shape, which a form does not reckon. */
static bool
typical(const Page *page, const Record *record, const Field *field, Mass *mass)
{
    if (!is_item_field(record, field, "mass") || isfinite(record_number(record, "mass")))
        return false;
    const HullSection *hull = boat_single(page->boat, &section_hull)->data;
    Plating plating = {NAN, hull->plate_m, 0.0};
    mass_of_item(record, site_catalog(page->site), &plating, mass);
    return mass->ledger.group == GROUP_CATALOGUE && mass->ledger.mass_kg > 0.0;
}

bool
page_is_typical(const Page *page, const Record *record, const Field *field)
{
    Mass mass;
    return typical(page, record, field, &mass);
}

char *
page_typical_words(const Page *page, const Record *record, const Field *field)
{
    Mass mass;
    if (!typical(page, record, field, &mass))
        return NULL;
    g_autofree char *number = value_spread_words(mass.ledger.mass_kg, mass.ledger.mass_spread_kg,
                                                 field->kind, page->units);
    return g_strdup_printf("%s, typical of its kind, assumed", number);
}

const char *
page_kinds_of(const Record *record, const Field *field)
{
    return is_item_field(record, field, "kind") ? "kinds" : NULL;
}

void
page_kinds(Page *page, const Section *section)
{
    if (section != &section_items || page->fixed)
        return;
    const Catalog *catalog = site_catalog(page->site);
    const char *const *kinds;
    size_t n = catalog_kinds(catalog, &kinds);
    markup_open(page->out, "datalist", "id", "kinds", NULL);
    for (size_t i = 0; i < n; i++)
        markup_element(page->out, "option", catalog_kind_meaning(catalog, kinds[i]), "value",
                       kinds[i], NULL);
    markup_close(page->out);
}
