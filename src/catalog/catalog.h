/* Trade tables from data/ (compiled into the binary), each row with its source and standing. */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "base/kind.h"
#include "base/source.h"

typedef struct Catalog Catalog;

/* The tables compiled in; parsed once. NULL never: a table that does not parse is a fault of ours and stops the tests. */
Catalog *catalog_load(void);
void catalog_free(Catalog *catalog);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Catalog, catalog_free)

/* Typical mass of a kind of thing. Where a row asks a size (power_W, volume_m3, length_m, area_m2, thickness_m, charge_As) the mass
 * is interpolated between the rows of that kind or is proportional; size NAN when not stated. */
typedef struct {
    const char *kind;            /* "bilge-pump" */
    const char *asks;            /* "power", "volume", "length", "area", "area thickness", or NULL */
    double mass_kg, spread_kg;   /* of the size given; NAN when the size asked for is missing */
    Source source;
    bool outside;                /* size outside the rows: end value or proportion held */
} TypicalMass;

typedef struct { double power_W, volume_m3, length_m, area_m2, thickness_m; } ItemSize;

bool catalog_mass(const Catalog *catalog, const char *kind, const ItemSize *size, TypicalMass *out);  /* false: no such kind */
size_t catalog_kinds(const Catalog *catalog, const char *const **kinds);     /* sorted */
const char *catalog_kind_meaning(const Catalog *catalog, const char *kind);

/* A limit of a rule by id, with its source; NAN and false when there is none. */
typedef struct { const char *id, *what; double value; QuantityKind kind; Source source; } Limit;
const Limit *catalog_limit(const Catalog *catalog, const char *id);

/* A caution to print, by id ("AF1"): own words and whom to ask. */
typedef struct { const char *id, *text, *ask; Source source; } Caution;
const Caution *catalog_caution(const Catalog *catalog, const char *id);
