/* The table of typical masses: rows of one kind stand together, by growing size. */
#pragma once

#include "catalog/catalog.h"

typedef struct MassTable MassTable;

MassTable *masses_parse(const char *text, GError **error);
void masses_free(MassTable *masses);
bool masses_find(const MassTable *masses, const char *kind, const ItemSize *size, TypicalMass *out);
size_t masses_kinds(const MassTable *masses, const char *const **kinds);
const char *masses_meaning(const MassTable *masses, const char *kind);
