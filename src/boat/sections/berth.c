/* Where she lies, and what she must pass on her way. */
#include "boat/field_macros.h"

static const Choice lying[] = {
    {"afloat", "in the water"},
    {"ashore", "on blocks, until she is launched"},
    {"dries-out", "afloat, but on the ground at low water"},
    {NULL, NULL},
};
static const Field berth[] = {
    POSITION(Berth, place, "place", .label = "Place",
             .help = "Latitude and longitude, such as 52.1 N, 4.6 E."),
    TEXT(Berth, zone, "zone", .label = "Time zone",
         .help = "Name in the time zone table, such as Europe/Amsterdam."),
    DATE(Berth, until, "until", .label = "Until", .help = "Day on which the berth must be left."),
    MONEY_RATE(Berth, cost_money_per_day, "cost", .min = 0.0, .max = 1e6, .label = "Cost",
               .help = "A plain number per day, week, month or year."),
    MONEY_RATE(Berth, overrun_money_per_day, "overrun", .min = 0.0, .max = 1e6,
               .label = "Cost of an overrun",
               .help = "What is asked when she is still there afterwards, per day, week or month."),
    QUANTITY(Berth, chance_frac, "chance", Q_FRACTION, "%", .min = 0.01, .max = 0.99,
             .standard = 0.8, .has_standard = true, .label = "Chance wanted",
             .help =
                 "How likely you want to be done in time: the last day to begin a plan is reckoned "
                 "from it."),
    CHOICE(Berth, lies, "lies", lying, .standard_word = "afloat", .label = "Lies",
           .help = "How she lies there today."),
    MAP(Berth, hours, "hours", Q_NONE, "", NULL, .label = "Hours of the yard",
        .help = "When one may work there: days `mon` to `sun`, each with its hours, such as `8:00 "
                "to 18:00`; left out: always."),
    MAP(Berth, closed, "closed", Q_NONE, "", NULL, .label = "Closed",
        .help = "Days without work: a name for each and its days, such as `new-year: 2026-12-24 "
                "to 2027-01-03`."),
    MAP(Berth, temperatures, "temperatures", Q_TEMPERATURE, "degC", NULL, .min = 223.0,
        .max = 333.0, .label = "Temperatures",
        .help = "Usual temperature of the air by month, `jan` to `dec`; left out: those of a mild "
                "coast at 52 degrees of latitude."),
    QUANTITY(Berth, indoors_K, "indoors", Q_TEMPERATURE, "degC", .min = 223.0, .max = 333.0,
             .label = "Indoors",
             .help = "Temperature kept inside her while work goes on; left out: she is not "
                     "heated."),
    QUANTITY(Berth, rain_m, "rain", Q_SMALL_LENGTH, "mm", .min = 0.0, .max = 2.0, .standard = 0.050,
             .has_standard = true, .label = "Rain",
             .help = "Most that may fall before somebody bails her: a wet night is 50 mm, a wet "
                     "fortnight 100 mm."),
};

const Section section_berth = {.key = "berth",
                               .title = "The berth",
                               .what = "Where she lies.",
                               .size = sizeof(Berth),
                               .fields = berth,
                               .n_fields = N_FIELDS(berth)};

static const Choice earthings[] = {
    {"tn", "the quay gives a protective conductor that leads back to its supply"},
    {"tt", "the quay has an earth electrode of its own"},
    {NULL, NULL},
};
static const Choice quay_curves[] = {
    {"B", "trips at once from 3 to 5 times its rating"},
    {"C", "trips at once from 5 to 10 times its rating"},
    {"D", "trips at once from 10 to 20 times its rating"},
    {NULL, NULL},
};
static const Field shore[] = {
    QUANTITY(ShoreSupply, voltage_V, "voltage", Q_VOLTAGE, "V", .min = 1.0, .max = 700.0,
             .label = "Voltage", .help = "At the socket on the quay."),
    QUANTITY(ShoreSupply, current_A, "current", Q_CURRENT, "A", .min = 0.0, .max = 400.0,
             .label = "Current", .help = "What the breaker on the quay lets through."),
    CHOICE(ShoreSupply, curve, "curve", quay_curves, .label = "Curve of its breaker",
           .help = "The letter before the rating of the breaker on the quay; left out: whichever "
                   "is worst."),
    CHOICE(ShoreSupply, earthing, "earthing", earthings, .label = "Earthing", .standard_word = "tn",
           .help = "Decides how fast a fault to earth must be cut off; the harbour's electrician "
                   "knows."),
};

const Section section_shore = {.key = "shore",
                               .title = "Shore supply",
                               .role_of = "berth",
                               .what = "What the socket on the quay gives.",
                               .size = sizeof(ShoreSupply),
                               .fields = shore,
                               .n_fields = N_FIELDS(shore)};

static const Field route[] = {
    TEXT(Passage, what, "what", .label = "What",
         .help = "The bridge, lock or shallow in the owner's words."),
    QUANTITY(Passage, air_draught_m, "air-draught", Q_LENGTH, "m", .min = 0.0, .max = 100.0,
             .label = "Headroom", .help = "Height above the water that is free."),
    QUANTITY(Passage, draught_m, "draught", Q_LENGTH, "m", .min = 0.0, .max = 30.0,
             .label = "Depth", .help = "Depth of water that is sure."),
    QUANTITY(Passage, beam_m, "beam", Q_LENGTH, "m", .min = 0.0, .max = 100.0, .label = "Breadth",
             .help = "Breadth that passes."),
    QUANTITY(Passage, length_m, "length", Q_LENGTH, "m", .min = 0.0, .max = 400.0,
             .label = "Length", .help = "Length that passes, of a lock."),
};

const Section section_route = {.key = "route",
                               .title = "The route",
                               .keyed = true,
                               .what = "What she must pass: bridges, locks, shallows.",
                               .size = sizeof(Passage),
                               .fields = route,
                               .n_fields = N_FIELDS(route)};
