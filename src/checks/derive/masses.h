/* What the records weigh, where, and how sure: typed, or typical of the kind. */
#pragma once

#include <glib.h>

#include "boat/aboard.h"
#include "boat/boat.h"
#include "boat/model.h"
#include "catalog/catalog.h"
#include "physics/afloat/ledger.h"
#include "physics/afloat/liquid.h"

enum { GROUP_INDEPENDENT, GROUP_BY_EYE, GROUP_CATALOGUE }; /* masses of one group err together */

typedef struct {
    LedgerItem ledger;  /* spreads are 95 % */
    const Record *item; /* NULL: growth, people */
    const char *name;   /* owned by the boat, or static */
    Basis basis;        /* of the mass */
    bool liquid, person;
    Source source;          /* of a typical mass */
    double plate_spread_kg; /* what hull.plate adds to its spread; all of it errs together */
} Mass;

/* Shell and deck, for kinds that are reckoned from them; NAN what is not known. */
typedef struct {
    double area_m2, plate_m, plate_spread_m;
} Plating;

/* Mass of an item at its place; false when mass or place is not known (a gap). */
bool mass_of_item(const Record *item, const Catalog *catalog, const Plating *plating, Mass *mass);

/* Box and liquid of a tank; false when neither volume nor ranges are known. *assumed_shape: nobody stated the box. */
bool tank_of_item(const Record *item, double fill_frac, Tank *tank, bool *assumed_shape);
