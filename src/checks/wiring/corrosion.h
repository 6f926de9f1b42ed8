/* What keeps her steel from rusting below the water, gathered: water, paint, anodes, other metals, and what they must give. */
#pragma once

#include "checks/wiring/wiring.h"
#include "physics/wiring/hull_anodes.h"
#include "result/result.h"

typedef enum { WATER_IS_FRESH, WATER_IS_BRACKISH, WATER_IS_SALT } WaterIs;

typedef struct {
    const Wiring *wiring;
    const Answer *wetted; /* afloat.wetted-surface in her deepest situation; NULL: hull not known */
    WaterIs water;
    bool tides; /* salt or tidal: worn paint asks for more there */
    Coating coating;
    Basis coating_basis;
    double age_s; /* of the paint when the anodes are new */
    Basis age_basis;
    double renewal_s;
    GPtrArray *anodes, *metals; /* const Record *: roles of items aboard */
    const Record *anode;        /* the largest kind of those that work, or NULL */
    AnodeMetal metal;           /* of it, or the one for her water */
    double painted_m2,
        bare_m2;           /* the hull's with what is painted like it; bare metal joined to it */
    const Record *unsized; /* metal whose area is not known, or NULL */
    double fitted_kg, given_A; /* of all anodes that work, the mass as if all were of that metal */
    bool shape_assumed, mass_assumed; /* not typed, but taken from its mass, its shape */
} Corrosion;

/* What the anodes must weigh, or give on the last day. Trades differ by a factor of ten: the offshore method of sound paint asks
 * least, surveyors most; taken is the offshore method of her own paint within that, and nobody should set less than is asked. */
typedef struct {
    double least, asked, taken, most;
} Demand;

Corrosion *corrosion_new(const Wiring *wiring, const Result *result);
void corrosion_free(Corrosion *corrosion);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Corrosion, corrosion_free)

Demand corrosion_mass_kg(const Corrosion *c);
Demand corrosion_current_A(const Corrosion *c);
double demand_spread(const Demand *demand);
/* Whether an anode of this role can work at all: not painted over. */
bool anode_works(const Record *role);
/* How much less her anodes may give in the worst water of the kind she lies in, and more in the best. */
double corrosion_gives_less_A(const Corrosion *c);
double corrosion_gives_more_A(const Corrosion *c);
const char *anode_metal_word(AnodeMetal metal);

/* Mass that is needed, last step M; or current asked of all on the last day, last step I_taken. */
Working *corrosion_working(const Corrosion *c, bool mass, Result *result);
void corrosion_give_answer(const Wiring *wiring, Result *result);
