/* What is typical of a kind, on forms: the mass that stands in for one nobody stated, and the kinds there are. */
#pragma once

#include "app/page/page.h"

/* Whether the field is a mass that the catalogue of typical masses gives, since the file does not. */
bool page_is_typical(const Page *page, const Record *record, const Field *field);
/* "95 kg ± 24 kg, typical of its kind, assumed"; NULL where it is not. g_free. */
char *page_typical_words(const Page *page, const Record *record, const Field *field);

/* Id of the list of kinds for the input of this field, or NULL; and the list itself, once a page with forms of items. */
const char *page_kinds_of(const Record *record, const Field *field);
void page_kinds(Page *page, const Section *section);
