/* The afloat discipline from inside: the body, the weights and the positions of rest that its checks share. */
#pragma once

#include <glib.h>

#include "boat/boat.h"
#include "boat/model.h"
#include "catalog/catalog.h"
#include "checks/check.h"
#include "checks/derive/masses.h"
#include "physics/afloat/lever.h"
#include "physics/afloat/load.h"
#include "physics/afloat/profile.h"
#include "physics/afloat/rest.h"
#include "physics/shape/tape.h"

typedef struct {
    const char *situation; /* id */
    const char *variant;   /* what was assumed of tanks and sides, NULL when all is stated */
    GArray *masses;        /* Mass: the ship, liquids, people */
    GArray *tanks;         /* Tank */
    bool crowded;          /* people stand where they make her heel or trim on purpose */
    bool assumed_tanks;    /* tank levels nobody stated */
    LedgerSum sum;
    Load load;
    Rest rest;
    double g_x_m, g_y_m, g_z_m; /* G with the liquids as they lie at rest */
    SideView side;              /* lines only; areas when asked: case_side */
    double km_slope_m_per_kg;
    double draught_spread_m;     /* from the readings of the hull */
    double highest_m, deepest_m; /* above and below the water */
} Case;

typedef struct { /* an opening as judged; record NULL: the gunwale of an open boat */
    const Record *record;
    const char *id, *path, *name;
    Closes closes;
    bool edge; /* the whole deck edge; place NAN */
    double x_m, y_m, z_m;
    double spread_m; /* of its height */
    Basis basis;
} Inlet;

typedef struct Survey Survey;

struct Afloat {
    const Boat *boat;
    const Catalog *catalog;
    Stage stage;
    const char *only_situation;
    bool brief; /* answers that no afloat check reads are left out: checks/solve.h */
    bool fine;
    const Vessel *vessel;
    double density_kg_per_m3, density_spread;
    Basis density_basis;

    Loft *hull;         /* NULL when there are not enough stations */
    GPtrArray *lofts;   /* Loft * of houses, owned */
    GArray *body_lofts; /* Loft, hull first: what body.loft points at */
    GArray *balls;
    GArray *rectangles; /* SideRectangle */
    Body body;
    double within_m, length_m, beam_m;
    Upright upright; /* the ship alone: where the search for every case begins */
    bool
        from_form; /* no stations: the hull was drawn from a few numbers, and all of it errs together */
    Tape *tape;             /* string and plumb readings that gave the hull, or NULL */
    const char *form_fault; /* why hull.form gives no shape, or NULL */
    double volume_frac;     /* then the spread of its volume as a share, 95 % */

    Plating plating;
    GPtrArray *surveys;    /* Survey *: what readings of the water say */
    GPtrArray *heel_tests; /* HeelTest * */
    GPtrArray *trials;     /* QuayTrial *: trials on the quay, typed in */
    const Survey *survey;  /* the one that takes the list's place, or NULL */
    GArray *ship;          /* Mass: everything that is part of her at this stage */
    GPtrArray *gaps;       /* const Record *: items without mass or place */
    GArray *inlets;        /* Inlet */
    GPtrArray *cases;      /* Case * */
    GPtrArray *between;    /* Case *: stripped, nothing fitted yet */

    const Case
        *governing; /* least GM: the one whose lever curves are drawn; NULL when none floats */
    LeverCurve starboard, port; /* of the governing case; n 0 when none */
    LeverFacts facts;           /* of the side with the smaller area */
    int facts_side;             /* +1 starboard, -1 port */
    double
        flooding_rad; /* least heel at which an inlet that is not weathertight comes under; NAN: none */
    const Inlet *flooding_inlet;
    int flooding_side;
    double
        stern_load_kg; /* weight on the stern that brings the first inlet under; NAN when none was found */
    const Case *stern_case; /* where it was added */
    const Inlet *stern_inlet;
    Rest stern_rest; /* with that weight aboard */
    SideView stern_side;
};

Afloat *afloat_new(const Boat *boat, const Catalog *catalog, Stage stage, const char *situation,
                   bool fine);
void afloat_free(Afloat *afloat);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Afloat, afloat_free)

/* Steps of afloat_new, in their order. */
void afloat_build_hull(Afloat *afloat);
void afloat_weigh(Afloat *afloat);
/* People of a situation at their places, appended to masses. */
void afloat_add_people(const Afloat *afloat, const Map *people, GArray *masses);
/* Centre of somebody who stands at a place on the centreline: above the deck, or above the bottom of an open boat. NAN off her. */
double afloat_standing_m(const Afloat *afloat, double x_m);
void afloat_weigh_between(Afloat *afloat, GArray *ship);
void afloat_find_inlets(Afloat *afloat);
void afloat_hold_upright(Afloat *afloat);
void afloat_float(Afloat *afloat);  /* cases and their rest */
void afloat_curves(Afloat *afloat); /* governing case, lever curves, flooding */

void case_free(Case *c);
void case_float(const Afloat *afloat, Case *c); /* sum, rest and what is read from it */
void case_add_liquid_of(Case *c, const Record *item,
                        const Situation *typed); /* unstated: half full */
bool case_floats(const Case *c);
bool inlet_floods(const Inlet *inlet); /* counts as open: never closed, or by hand only */
void case_side(const Afloat *afloat, const Case *c, SideView *view); /* with the areas */
double inlet_height_m(const Inlet *inlet, const Case *c);
/* Worst case of all for an inlet; NULL when none floats. */
const Case *afloat_lowest(const Afloat *afloat, const Inlet *inlet);
const char *case_title(Result *result, const Case *c); /* "evening at berth, all tanks 98 %" */
