/* The wiring from inside: places, cables, and what flows in each situation. Direct current; the mains side is mains.h. */
#pragma once

#include <glib.h>

#include "boat/boat.h"
#include "boat/model.h"
#include "catalog/catalog.h"
#include "checks/check.h"
#include "physics/wiring/cable_heating.h"
#include "physics/wiring/network.h"

#define NO_PLACE ((size_t) -1)

typedef struct { /* where cables end: an item, a busbar, or a source that is no item */
    const char *id;
    const Record *record;
    const Record *load, *heater; /* roles of an item, or NULL */
    const Record *source;        /* what gives direct current here, or NULL */
    const Record *battery;
    const Record *mains_source; /* what gives mains voltage here, or NULL */
    const Record *charger;      /* a source of kind charger that this item is, or NULL */
    size_t fed_by;              /* of a busbar bolted to another place, else NO_PLACE */
    bool direct, mains;         /* what can reach it */
    bool joined;                /* out and back, by known cables, to something that feeds */
    double nominal_V;
} Place;

typedef struct {
    double table_A, place_factor, bundle_factor, allowed_A; /* NAN: not known */
    double ambient_K;
    Source source;
} Ampacity;

typedef struct { /* a circuit */
    const Record *record;
    const Circuit *typed;
    const Record *protect; /* its own, or NULL */
    const Record *measured;
    size_t from, to;
    double ohm_per_m; /* at 20 degC; NAN: not known */
    Source resistance_source;
    Validity resistance_validity;
    Ampacity ampacity;
    bool by_reading; /* conductor or joints not known: its resistance is what was measured */
    bool cranks;     /* leads to a starter */
} Cable;

typedef struct {
    const char *situation; /* id, or "alone" with the load */
    const Record *only;    /* the load that is tried alone, or NULL */
    NetworkOutcome outcome;
    double *voltage_V;         /* [2 places + 1]: positive 2 i + 1, negative 2 i + 2 */
    double *cable_A, *metal_K; /* [cables]: current, temperature of the metal */
    bool *running, *collapsed; /* [places] */
    size_t starts;  /* place of a motor that comes up and draws its inrush, or NO_PLACE */
    double short_s; /* the longest that a load of it runs that must cool then; 0: there is none */
    double *lasting_A; /* [cables]: without those that run so briefly; NULL: there is none */
    double *inverts_W; /* [places]: drawn there to make mains voltage; 0: nothing */
} Flow;

struct Wiring {
    const Boat *boat;
    const Catalog *catalog;
    Stage stage;
    const char *only_situation;
    bool brief; /* answers of the worst situation alone: checks/solve.h */
    UnitsChoice units;
    GArray *places;         /* Place */
    GHashTable *place_at;   /* id of each -> its index, from 1 */
    GArray *cables;         /* Cable: those of direct current whose two ends are aboard */
    GArray *mains;          /* Cable: those of mains voltage */
    GPtrArray *mains_flows; /* MainsFlow * */
    GPtrArray *flows;       /* Flow * */
    GArray *links;          /* Cable: as cables, but usually apart; nothing flows in them */
    GPtrArray *
        starts; /* Flow *: each motor once, as it starts in the situation in which most else runs */
    double *fault_A;      /* [places]: a dead short there, all banks new, full and warm; NAN none */
    double *weak_fault_A; /* [places]: the same with the banks as they are */
};

Wiring *wiring_new(const Boat *boat, const Catalog *catalog, Stage stage, const char *situation);
void wiring_free(Wiring *wiring);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Wiring, wiring_free)
void wiring_give_answers(const Wiring *wiring, Result *result);

bool situation_counts(const Wiring *wiring, const Record *situation);

static inline const Place *
wiring_place(const Wiring *wiring, size_t i)
{
    return &g_array_index(wiring->places, Place, i);
}

static inline const Cable *
wiring_cable(const Wiring *wiring, size_t i)
{
    return &g_array_index(wiring->cables, Cable, i);
}

static inline const Flow *
wiring_flow(const Wiring *wiring, size_t i)
{
    return g_ptr_array_index(wiring->flows, i);
}

/* One step of marking what direct current reaches from what is marked: true while it goes on. */
bool wiring_spread(const Wiring *wiring, bool *reached);

/* Steps of wiring_new, in their order. */
void wiring_find_places(Wiring *wiring);
size_t wiring_place_find(const Wiring *wiring, const char *id); /* NO_PLACE: none; id may be NULL */
void wiring_find_cables(Wiring *wiring);
void wiring_flow_all(Wiring *wiring);

/* What a load draws at its own voltage; NAN: not known. */
double place_current_A(const Place *place);
double place_load_V(const Place *place);
bool place_source_known(const Place *place); /* voltage and inner resistance, or limit */
bool place_is_starter(const Place *place);
bool place_is_thruster(const Place *place);
double place_runs_for_s(const Place *place); /* NAN: as long as one likes */
bool place_inverts(const Place *place);      /* makes mains voltage from a battery */

/* Share of a thruster's voltage that its armature takes at its plate's current: 5 mohm of 12.6 V at 277 A are 0.11
 * (docs/methods/wires.md, check W-M2); no plate says it, and 0.05 more or less moves the thrust by 1 %. */
#define THRUSTER_ARMATURE 0.11

/* Loop of a cable at a temperature of its metal, contacts included; one conductor alone counts once. */
#define COLD_METAL_K 293.15 /* as tables of conductors have it */
double cable_ohm(const Cable *cable, double metal_K);
double cable_ways(const Cable *cable); /* 2, or 1 of a conductor alone */
double circuit_ohm_per_m(const Wiring *wiring, const Circuit *typed, double area_m2,
                         Validity *validity); /* at 20 degC; NAN: not known */
void cable_find_ampacity(const Wiring *wiring, Cable *cable);
void cable_find_fixed_ampacity(const Wiring *wiring, Cable *cable); /* of a mains cable */

/* For its heating: resistance at the temperature its insulation bears. */
LoadedCable cable_loaded(const Cable *cable, double ampacity_A, double reference_K);
/* What a cable may carry in a flow: lasting, or for as long as the brief load of it runs. */
double cable_allowed_A(const Cable *cable, const Flow *flow, size_t i);

/* Open voltage and inner resistance of a battery; best: new, full and warm. */
double battery_open_V(const BatteryRole *battery, bool best);
double battery_ohm(const BatteryRole *battery, bool best);

/* A dead short at a place, all banks new, full and warm, with a cable (or link) taken away; NAN: nothing feeds it. */
double wiring_fault_without_A(const Wiring *wiring, const Cable *cable, size_t place);

/* The last cable that brings a place its current, or NULL. */
const Cable *cable_to(const Wiring *wiring, const Place *place);
/* What stands in the way of current into a cable: its own protection, that of its board, or of what feeds that. NULL: none. */
const Record *cable_protection(const Wiring *wiring, const Cable *cable);

/* The flow in which a cable carries most, with *amperes; NULL when it carries nothing in any. */
const Flow *cable_worst(const Wiring *wiring, size_t cable, double *amperes);
/* That in which it comes nearest to what it may carry. */
const Flow *cable_hottest(const Wiring *wiring, size_t cable, double *amperes, double *allowed_A);
void flow_free(Flow *flow);
double flow_volts(const Flow *flow, size_t place);
/* Of its positive, or of its negative (back), against the reference. */
double flow_pole_V(const Flow *flow, size_t place, bool back);
double flow_source_V(const Wiring *wiring, const Flow *flow, size_t place);
const char *flow_words(Result *result, const Flow *flow);
/* "radio, horn and 3 more"; the records' own words. */
const char *named_records(Result *result, const GPtrArray *records, guint most);
const char *wiring_shown(const Wiring *wiring, Result *result, double value, QuantityKind kind);
