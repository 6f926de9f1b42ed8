/* Trade tables from data/ (compiled into the binary), each row with its source and standing.
 *
 * A Catalog never changes after it is made and may be read from many threads. */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "base/kind.h"
#include "base/source.h"
#include "catalog/trade_table.h"

typedef struct Catalog Catalog;

/* The tables compiled in; parsed once. NULL never: a table that does not parse is a fault of ours and stops the tests. */
Catalog *catalog_load(void);
void catalog_free(Catalog *catalog);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Catalog, catalog_free)

/* The same from texts of these three tables, the tables of figures as compiled in. NULL and *error (domain CATALOG_ERROR or CSV_ERROR) with table,
 * line and column where a row is not what the table promises. */
Catalog *catalog_parse(const char *masses, const char *limits, const char *cautions,
                       GError **error);

#define CATALOG_ERROR catalog_error_quark()
GQuark catalog_error_quark(void);

/* Typical mass of a kind of thing. Where a kind asks a size its mass follows the rows of the kind by straight
 * lines; a kind with one row is proportional to its size. size members are NAN when not stated. */
typedef struct {
    const char *kind; /* "bilge-pump" */
    const char *asks; /* "power", "volume", "length", "area", "area thickness", or NULL */
    double mass_kg,
        spread_kg; /* of the size given; NAN when the size asked for is missing or not positive */
    Source source; /* of the nearest row */
    bool outside;  /* size outside the rows: mass per size of the nearest row held */
} TypicalMass;

typedef struct {
    double power_W, volume_m3, length_m, area_m2, thickness_m;
} ItemSize;

bool catalog_mass(const Catalog *catalog, const char *kind, const ItemSize *size,
                  TypicalMass *out);                                     /* false: no such kind */
size_t catalog_kinds(const Catalog *catalog, const char *const **kinds); /* sorted */
const char *catalog_kind_meaning(const Catalog *catalog, const char *kind); /* NULL: no such kind */

/* A limit of a rule by id, with its source; NULL when there is none. */
typedef struct {
    const char *id, *what;
    double value;
    QuantityKind kind;
    Source source;
} Limit;
const Limit *catalog_limit(const Catalog *catalog, const char *id);
size_t catalog_limits(const Catalog *catalog, const Limit **limits); /* in the order of the table */

/* A caution to print, by id ("AF1"): when, own words and whom to ask; NULL when there is none. */
typedef struct {
    const char *id, *trigger, *text, *ask;
    Source source;
} Caution;
const Caution *catalog_caution(const Catalog *catalog, const char *id);
size_t catalog_cautions(const Catalog *catalog,
                        const Caution **cautions); /* in the order of the table */

/* A table of figures; lives as long as the catalogue. */
const TradeTable *catalog_table(const Catalog *catalog, TradeTableId id);
