/* Where she lies, and what she must pass on her way. */
#include "boat/field_macros.h"

static const Field berth[] = {
    POSITION(Berth, place, "place", .label = "Place",
             .help = "Latitude and longitude, such as 52.1 N, 4.6 E."),
    TEXT(Berth, zone, "zone", .label = "Time zone",
         .help = "Name in the time zone table, such as Europe/Amsterdam."),
    DATE(Berth, until, "until", .label = "Until", .help = "Day on which the berth must be left."),
    MONEY_RATE(Berth, cost_money_per_day, "cost", .min = 0.0, .max = 1e6, .label = "Cost",
               .help = "A plain number per day, week, month or year."),
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
static const Field shore[] = {
    QUANTITY(ShoreSupply, voltage_V, "voltage", Q_VOLTAGE, "V", .min = 1.0, .max = 700.0,
             .label = "Voltage", .help = "At the socket on the quay."),
    QUANTITY(ShoreSupply, current_A, "current", Q_CURRENT, "A", .min = 0.0, .max = 400.0,
             .label = "Current", .help = "What the breaker on the quay lets through."),
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
