/* Things aboard, and the roles that afloat asks about: tank, ballast, a person's place. */
#include "boat/field_macros.h"

static const Choice states[] = {
    {"aboard", "in place now and when all is done"},
    {"to-remove", "in place now, gone when all is done"},
    {"to-fit", "not in place yet, there when all is done"},
    {"gone", "no longer aboard; kept for readings taken before"},
    {NULL, NULL},
};
static const Field items[] = {
    TEXT(Item, what, "what", .label = "What", .help = "The thing in the owner's words."),
    TEXT(Item, kind, "kind", .label = "Kind",
         .help = "Word of the catalogue of typical masses; serves when no mass is known."),
    WHERE(Item),
    QUANTITY(Item, mass_kg, "mass", Q_MASS, "kg", .min = 0.0, .max = 1e6, .label = "Mass",
             .help = "Without liquids; `4 x 27 kg` for several alike."),
    CHOICE(Item, state, "state", states, .label = "State", .standard_word = "aboard",
           .help = "Aboard now, to come or to go."),
    DATE(Item, since, "since", .label = "Since",
         .help = "Day from which the state holds; readings before it weigh the old one."),
    QUANTITY(Item, power_W, "power", Q_POWER, "kW", .min = 0.0, .max = 1e7, .label = "Power",
             .help = "Rated power, where the catalogue asks for it."),
    QUANTITY(Item, volume_m3, "volume", Q_LIQUID, "L", .min = 0.0, .max = 1000.0, .label = "Volume",
             .help = "Volume, where the catalogue asks for it."),
    QUANTITY(Item, length_m, "length", Q_LENGTH, "m", .min = 0.0, .max = 1000.0, .label = "Length",
             .help = "Length, where the catalogue asks for it."),
    QUANTITY(Item, area_m2, "area", Q_AREA, "m2", .min = 0.0, .max = 5000.0, .label = "Area",
             .help = "Area, where the catalogue asks for it."),
    QUANTITY(Item, thickness_m, "thickness", Q_SMALL_LENGTH, "mm", .min = 0.0001, .max = 2.0,
             .label = "Thickness", .help = "Thickness, where the catalogue asks for it."),
    MONEY(Item, price_money, "price", .min = 0.0, .max = 1e9, .label = "Price",
          .help = "A plain number in the currency of the boat."),
    FLAG(Item, ignition_protected, "ignition-protected", .label = "Ignition-protected",
         .help = "Cannot light petrol vapour or gas: `yes (mark read 2027-03-14)`; asked where "
                 "vapour can gather."),
};

const Section section_items = {
    .key = "items",
    .title = "Items",
    .keyed = true,
    .what = "Things aboard: where, how heavy, and what else they are (their roles).",
    .size = sizeof(Item),
    .fields = items,
    .n_fields = N_FIELDS(items)};

static const Choice holds[] = {
    {"water", "fresh water, 1000 kg/m3"},
    {"fuel", "diesel oil, 840 kg/m3 give or take 20"},
    {"sewage", "black or grey water, 1000 kg/m3 give or take 20"},
    {"other", "anything else: state its density"},
    {"petrol", "petrol, 748 kg/m3 give or take 28"},
    {NULL, NULL},
};
static const Field tank[] = {
    CHOICE(TankRole, holds, "holds", holds, .label = "Holds", .standard_word = "water",
           .help = "Decides its density."),
    QUANTITY(TankRole, volume_m3, "volume", Q_LIQUID, "L", .min = 0.0, .max = 1000.0,
             .label = "Volume", .help = "When full to the brim."),
    ALONG_RANGE(TankRole, along, "along", .label = "Along",
                .help = "From end to end; left out: a box of the volume about the item's place."),
    ACROSS_RANGE(TankRole, across, "across", .label = "Across",
                 .help = "From side to side; a wide tank costs stability."),
    HEIGHT_RANGE(TankRole, height, "height", .label = "Height",
                 .help = "From its bottom to its top."),
    QUANTITY(TankRole, density_kg_per_m3, "density", Q_DENSITY, "kg/m3", .min = 300.0,
             .max = 3000.0, .label = "Density",
             .help = "Of the liquid; left out: by what it holds."),
};

const Section section_tank = {.key = "tank",
                              .title = "Tank",
                              .role_of = "items",
                              .what = "The item holds a liquid.",
                              .size = sizeof(TankRole),
                              .fields = tank,
                              .n_fields = N_FIELDS(tank)};

static const Choice held[] = {
    {"fixed", "stays where it is when she heels"},
    {"loose", "is moved or taken ashore by hand"},
    {NULL, NULL},
};
static const Field ballast[] = {
    CHOICE(BallastRole, held, "held", held, .label = "Held", .standard_word = "loose",
           .help = "Loose ballast may be ashore in a situation."),
};

const Section section_ballast = {.key = "ballast",
                                 .title = "Ballast",
                                 .role_of = "items",
                                 .what = "The item is ballast.",
                                 .size = sizeof(BallastRole),
                                 .fields = ballast,
                                 .n_fields = N_FIELDS(ballast)};

static const Field person_place[] = {
    COUNT(PersonPlace, people, "people", .min = 0.0, .max = 500.0, .standard = 1.0,
          .has_standard = true, .label = "People", .help = "How many sit or stand there at most."),
};

const Section section_person_place = {
    .key = "person-place",
    .title = "Place for people",
    .role_of = "items",
    .what = "The item is a seat, bench or standing place: people are reckoned there.",
    .size = sizeof(PersonPlace),
    .fields = person_place,
    .n_fields = N_FIELDS(person_place)};
