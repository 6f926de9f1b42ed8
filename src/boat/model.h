/* Typed structs of the sections. Doubles are SI, NAN when nobody stated them and no default exists.
 */
#pragma once

#include "boat/section.h"

typedef enum { USE_PLEASURE, USE_HOME, USE_WORK, USE_PASSENGERS, USE_HIRE } VesselUse;

typedef enum {
    KIND_KEELED_BARGE,
    KIND_FLAT_BARGE,
    KIND_NARROWBOAT,
    KIND_TUG,
    KIND_MOTOR_YACHT,
    KIND_SAILING_YACHT,
    KIND_FISHING_BOAT,
    KIND_LAUNCH,
    KIND_OPEN_BOAT,
    KIND_PONTOON,
    KIND_OTHER
} VesselKind;
typedef enum {
    WATERS_CANAL,
    WATERS_RIVER,
    WATERS_SHELTERED,
    WATERS_COASTAL,
    WATERS_OPEN_SEA
} Waters;
typedef enum { VESSEL_FLUSH, VESSEL_STEPPED, VESSEL_OPEN } VesselDeck;

typedef enum { WATER_TROPICAL, WATER_SUBTROPICAL, WATER_TEMPERATE, WATER_ARCTIC } WaterClimate;

typedef struct { /* boat */
    const char *name, *flag, *currency;
    int kind, use, waters, units, deck, climate;
    double built_year, density_kg_per_m3, people, growth_frac, conductivity_S_per_m;
    Flag demo; /* invented: papers say so */
} Vessel;

typedef enum { LIES_AFLOAT, LIES_ASHORE, LIES_DRIES_OUT } BerthLies;
typedef struct { /* berth */
    const char *zone;
    EarthPosition place;
    Date until;
    int lies; /* BerthLies */
    double cost_money_per_day, overrun_money_per_day, chance_frac, rain_m, indoors_K;
    Map hours, closed, temperatures; /* by weekday, by name, by month */
} Berth;

typedef struct { /* route.ID: what the boat must pass */
    const char *what;
    double air_draught_m, draught_m, beam_m, length_m;
} Passage;

typedef struct {
    double within_m, plate_m;
    /* never typed: how much broader and higher she is than her form or tape drew her (study/inputs) */
    double stray_frac, stray_m;
} HullSection; /* hull; plate: mean thickness of shell and deck */
typedef enum {
    SHAPE_PUNT,
    SHAPE_KEELED_BARGE,
    SHAPE_SINGLE_CHINE,
    SHAPE_DOUBLE_CHINE,
    SHAPE_ROUND_BILGE
} ShapeType;
typedef enum { ENDS_AS_USUAL, ENDS_ARE_FINE, ENDS_ARE_MIDDLING, ENDS_ARE_FULL } ShapeEnds;
typedef enum { STERN_AS_USUAL, STERN_IS_TRANSOM, STERN_IS_CANOE, STERN_IS_COUNTER } ShapeStern;
typedef struct { /* hull.form: her shape in few numbers, used while no stations are given */
    int type, ends, stern;
    double length_m;
    double beam_aft_m, beam_quarter_m, beam_mid_m, beam_three_quarter_m, beam_fore_m;
    double depth_aft_m, depth_quarter_m, depth_mid_m, depth_three_quarter_m, depth_fore_m;
    double sheer_aft_m, sheer_fore_m, stern_rake_m, stem_rake_m, bottom_aft_m, bottom_fore_m;
    double forefoot_m, run_m, keel_m, deadrise_rad, bilge_m, within_m;
} FormSection;
typedef struct {
    double along_m;
    Rows points;
} StationSection; /* hull.stations.ID */
typedef struct {
    const char *what;
    double along_m, across_m, height_m, volume_m3, area_m2;
} Appendage; /* hull.appendages.ID */
typedef struct {
    Range along, across, height;
    Flag weathertight;
} House; /* houses.ID */
typedef enum { COVER_CLOTH, COVER_HATCHES, COVER_DECK, COVER_NONE } Cover;
typedef enum { VAPOUR_PETROL, VAPOUR_GAS, VAPOUR_NONE } Vapour;
typedef struct {
    const char *what;
    Range along, across, height;
    double permeability_frac, bulwark_m, scuppers_m2, vents_m2;
    int cover, vapour; /* Cover, Vapour */
} Space;               /* spaces.ID */
typedef struct {
    double along_m, across_m, height_m;
} Mark; /* marks.ID */

typedef enum {
    CLOSES_NEVER,
    CLOSES_BY_HAND,
    CLOSES_BY_ITSELF,
    CLOSES_WEATHERTIGHT,
    CLOSES_WATERTIGHT
} Closes;
typedef enum {
    OPENING_VENT,
    OPENING_HATCH,
    OPENING_DOOR,
    OPENING_WINDOW,
    OPENING_COMPANIONWAY,
    OPENING_HOSE,
    OPENING_GLAND,
    OPENING_DRAIN,
    OPENING_EXHAUST,
    OPENING_OTHER
} OpeningKind;
typedef struct { /* openings.ID */
    const char *what;
    int kind, closes;
    double along_m, across_m, height_m, size_m;
} Opening;

typedef enum { ITEM_ABOARD, ITEM_TO_REMOVE, ITEM_TO_FIT, ITEM_GONE } ItemState;
typedef struct { /* items.ID */
    const char *what, *kind;
    double along_m, across_m, height_m, mass_kg;
    int state;
    Date since;
    double power_W, volume_m3, length_m, area_m2, thickness_m; /* what a catalogue row may ask */
    double price_money;
    Flag ignition_protected;
} Item;

typedef enum { HOLDS_WATER, HOLDS_FUEL, HOLDS_SEWAGE, HOLDS_OTHER, HOLDS_PETROL } TankHolds;
typedef struct { /* items.ID.tank */
    int holds;   /* TankHolds */
    double volume_m3;
    Range along, across, height; /* shape; missing: a box of the volume about the item's place */
    double density_kg_per_m3;
} TankRole;
typedef enum { BALLAST_FIXED, BALLAST_LOOSE } BallastHeld;
typedef struct {
    int held;
} BallastRole; /* items.ID.ballast */
typedef struct {
    double people;
} PersonPlace; /* items.ID.person-place */

typedef enum { BATTERY_FLOODED, BATTERY_AGM, BATTERY_GEL, BATTERY_LFP } BatteryChemistry;
typedef enum { CELL_GUARD_DISCONNECTS, CELL_GUARD_WARNS_FIRST, CELL_GUARD_NONE } BatteryGuard;
typedef struct {   /* items.ID.battery: the whole of it, as its two terminals show it */
    int chemistry; /* BatteryChemistry */
    double voltage_V, capacity_As, charge_frac, resistance_ohm, cranking_A, short_circuit_A;
    double vents_m2, coldest_K, cells_K; /* cells_K: while it feeds */
    int guard;                           /* BatteryGuard: of lithium */
    Flag frost_guard;
} BatteryRole;
typedef struct {
    double power_W, voltage_V;
} HeaterRole; /* items.ID.heater */
typedef enum { DRAWS_POWER, DRAWS_RESISTANCE, DRAWS_CURRENT, DRAWS_MOTOR } LoadDraws;
typedef enum { LOAD_CRITICAL, LOAD_OTHER, LOAD_STARTER, LOAD_THRUSTER } LoadUse;
typedef struct {    /* items.ID.load */
    int draws, use; /* LoadDraws, LoadUse */
    double voltage_V, power_W, current_A, power_factor, inrush_A, duty_frac, least_V;
    double runs_for_s; /* the longest at a stretch */
} LoadRole;

typedef enum { PAINT_BARE, PAINT_BITUMEN, PAINT_PRIMER, PAINT_EPOXY, PAINT_THICK_EPOXY } PaintKind;
typedef struct { /* hull.coating: below the waterline */
    int kind;    /* PaintKind */
    Date applied;
    double bare_m2; /* steel besides that has no paint left */
} CoatingSection;
typedef enum { METAL_OF_ZINC, METAL_OF_ALUMINIUM, METAL_OF_MAGNESIUM } AnodeWord;
typedef struct { /* items.ID.anode: all of one kind */
    int metal;   /* AnodeWord */
    double mass_kg, count, length_m, width_m, thickness_m, left_frac;
    Flag painted;
} AnodeRole;
typedef enum {
    ALLOY_STEEL,
    ALLOY_CAST_IRON,
    ALLOY_STAINLESS,
    ALLOY_MANGANESE_BRONZE,
    ALLOY_BRONZE,
    ALLOY_BRASS,
    ALLOY_COPPER,
    ALLOY_COPPER_NICKEL,
    ALLOY_ALUMINIUM
} Alloy;
typedef enum { JOINED_TO_HULL, JOINED_NOT } Joined;
typedef struct {       /* items.ID.metal: a thing of metal in the water */
    int alloy, joined; /* Alloy, Joined */
    double area_m2;
    Flag painted;
} MetalRole;

typedef enum { LOOSE_ABOARD, LOOSE_ASHORE } LooseBallast;
typedef enum { SITUATION_BOTH, SITUATION_NOW, SITUATION_DONE } SituationStage;
typedef struct { /* situations.ID */
    const char *what;
    int stage; /* SituationStage */
    Map people, tanks;
    int loose_ballast; /* LooseBallast */
    List sources;      /* what feeds */
    Map running;       /* shares of the day, by item */
} Situation;

typedef enum { SHORE_TN, SHORE_TT } ShoreEarthing;
typedef struct {
    double voltage_V, current_A;
    int earthing; /* ShoreEarthing */
    int curve;    /* ProtectCurve of the breaker on the quay */
} ShoreSupply;    /* berth.shore */
typedef enum {
    SOURCE_SHORE,
    SOURCE_BANK,
    SOURCE_ALTERNATOR,
    SOURCE_CHARGER,
    SOURCE_SOLAR,
    SOURCE_GENERATOR,
    SOURCE_INVERTER,
    SOURCE_INVERTER_CHARGER,
    SOURCE_CONVERTER
} SourceKind;
typedef enum { BOND_FIXED, BOND_NEVER, BOND_WITH_SOURCE } NeutralBond;
typedef enum { EARTH_STRAIGHT, EARTH_GALVANIC_ISOLATOR, EARTH_TRANSFORMER } ShoreEarthPath;
typedef enum { REGULATOR_OWN, REGULATOR_LIMITED, REGULATOR_CONVERTER } SourceRegulator;
typedef struct { /* sources.ID */
    const char *what;
    int kind; /* SourceKind */
    Reference of;
    double along_m, across_m, height_m;
    double voltage_V, current_A, power_W;
    /* of the mains side: */
    double efficiency_frac, charging_W, input_limit_A, loop_ohm, fault_A, shuts_down_s;
    double isolator_A, isolator_surge_A; /* of the galvanic isolator in the shore's earth */
    int neutral_bond, shore_earth;       /* NeutralBond, ShoreEarthPath */
    Flag adds_to_shore;
    List sheds;
    List charges; /* batteries */
    double charging_A, charging_V;
    int regulator; /* SourceRegulator: of an alternator */
} SourceSection;
typedef enum { PROTECT_FUSE, PROTECT_BREAKER, PROTECT_NONE } ProtectKind;
typedef enum {
    FUSE_BLADE,
    FUSE_BOLT_DOWN_SMALL,
    FUSE_BOLT_DOWN,
    FUSE_LIMITER,
    FUSE_TERMINAL_STUD,
    FUSE_CLASS_T,
    FUSE_NH_GG
} FuseFamily; /* the families of data/fuse-families.csv */
typedef enum { PROTECT_ONE_END, PROTECT_BOTH_ENDS } ProtectEnds;
typedef enum { PROTECT_CURVE_B, PROTECT_CURVE_C, PROTECT_CURVE_D } ProtectCurve;
typedef struct { /* circuits.ID.protect, busbars.ID.protect, sources.ID.protect */
    int kind, family, curve, ends;
    double rating_A, breaking_A, from_source_m, residual_A;
} Protection;
typedef enum { BUSBAR_BOARD, BUSBAR_TRANSFER } BusbarKind;
typedef enum { OUTPUT_BACKED_UP, OUTPUT_PASSED_ON } BusbarOutput;
typedef struct {
    const char *what;
    double along_m, across_m, height_m;
    Reference fed_by;
    int kind, output, neutral_bond; /* BusbarKind, BusbarOutput, NeutralBond */
} Busbar;                           /* busbars.ID */
typedef enum { WIRES_PAIR, WIRES_POSITIVE, WIRES_NEGATIVE } CircuitWires;
typedef enum { STRANDS_FLEXIBLE, STRANDS_STRANDED, STRANDS_SOLID } CircuitStrands;
typedef enum { COPPER_TINNED, COPPER_PLAIN } CircuitCopper;
typedef enum { RUNS_CABIN, RUNS_ENGINE_SPACE } CircuitRuns;
typedef enum { LAID_OPEN, LAID_SHEATHED } CircuitLaid;
typedef enum { INSULATION_PVC, INSULATION_CROSS_LINKED, INSULATION_RUBBER } CircuitInsulation;
typedef enum { FIXED_BEHIND_LINING, FIXED_IN_PIPE, FIXED_CLIPPED, FIXED_RACK } CircuitFixing;
typedef enum { POLARITY_RIGHT, POLARITY_REVERSED } CircuitPolarity;
typedef enum { USUALLY_JOINED, USUALLY_APART } CircuitUsually;
typedef struct { /* circuits.ID */
    const char *what, *label, *colour;
    Reference from, to;
    int wires, strands, copper, runs, laid, fixing, polarity, usually, insulated_by;
    double one_way_m, area_m2, earth_area_m2, insulation_K, bundle, contacts_ohm;
    Date tested;
    Flag labelled;
} Circuit;
typedef struct { /* circuits.ID.measured-drop */
    double drop_V, current_A;
    Date date;
} MeasuredDrop;

typedef struct {
    const char *why;
} OptionSection; /* options.ID (changes are read by option.c) */
typedef enum {
    MEASURED_FREEBOARDS,
    MEASURED_DRAUGHTS,
    MEASURED_HEEL_TEST,
    MEASURED_ROLL,
    MEASURED_TRIAL,
    MEASURED_HULL_POTENTIAL,
    MEASURED_CRANKING,
    MEASURED_CLAMP
} MeasuredKind;
typedef enum { READ_BY_SILVER_CHLORIDE, READ_BY_ZINC, READ_BY_COPPER_SULPHATE } ElectrodeWord;
typedef struct {
    Date date;
    Reference situation;
    double density_kg_per_m3;
    int kind;                    /* MeasuredKind */
    Rows readings;               /* freeboards or draughts; of a trial, how far points went down */
    Rows moves;                  /* of a heel test */
    double pendulum_m, period_s; /* of a heel test (or a trial), of a roll */
    double
        weight_kg; /* of a trial: what was moved, or came aboard where it was before is missing */
    double from_along_m, from_across_m, to_along_m, to_across_m, weight_height_m;
    double swing_m;     /* of the plumb line, to the side the weight went to */
    double potential_V; /* of the hull against an electrode in the water */
    int electrode;      /* ElectrodeWord */
    const char *spot;
    Reference device; /* item that ran: a starter, or what the clamp meter was on */
    double current_A, rest_V, battery_V, device_V;
} Measurement; /* measured.ID */
typedef struct {
    Quantity value;
    const char *read_in;
    Date date;
} OwnLimit; /* limits.ID */

typedef struct { /* ashore: on blocks and in the slings */
    double block_along_m, sling_aft_m, sling_fore_m, sling_angle_rad;
    double davit_along_m, davit_across_m, davit_height_m, davit_load_kg;
    double every_s; /* from one time ashore to the next */
} Ashore;

typedef struct { /* hull.tape: what was read once for the whole boat, ashore */
    double base_aft_along_m, base_aft_height_m, base_fore_along_m, base_fore_height_m;
    double stern_height_m, list_rad, within_m;
} TapeSection;
typedef struct { /* hull.strings.port, .starboard: the string beside her */
    double length_m, aft_height_m, fore_height_m, stern_along_m, out_aft_m, out_fore_m;
} StringSection;
typedef enum { PLUMB_PORT, PLUMB_STARBOARD } PlumbSide;
typedef enum { INWARD_FROM_PLUMB, INWARD_FROM_STRING } InwardFrom;
typedef struct {    /* hull.plumb.ID: one place of the plumb line */
    int side, from; /* InwardFrom */
    double along_m, rail_m, rail_inward_m, beam_m, keel_m, keel_forward_m;
    Rows readings; /* across_m: inward, height_m: below the rail, along_m: touched forward of it */
} PlumbSection;
typedef struct { /* hull.diagonals.ID: level, from a rail to the other side's */
    Reference from, to;
    int side; /* PlumbSide it starts on */
    double length_m;
} DiagonalSection;

extern const Section section_form, section_ashore, section_tape, section_strings, section_plumb,
    section_diagonals;
extern const Section section_boat, section_berth, section_route, section_hull, section_stations,
    section_appendages, section_houses, section_spaces, section_marks, section_openings,
    section_items, section_tank, section_ballast, section_person_place, section_situations,
    section_options, section_measured, section_limits;
extern const Section section_coating, section_anode, section_metal;
extern const Section section_shore, section_battery, section_heater, section_load, section_sources,
    section_source_protect, section_busbars, section_busbar_protect, section_circuits,
    section_circuit_protect, section_measured_drop;
