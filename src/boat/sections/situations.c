/* How she is used, what might be changed, what was measured, which limits the owner has read. */
#include "boat/field_macros.h"

static const Choice stages[] = {
    {"both", "as she lies today, and when all planned work is done"},
    {"now", "as she lies today"},
    {"done", "when all planned work is done"},
    {NULL, NULL},
};
static const Choice loose[] = {
    {"aboard", "where the items say"},
    {"ashore", "taken off"},
    {NULL, NULL},
};
static const Field situations[] = {
    TEXT(Situation, what, "what", .label = "What", .help = "The situation in the owner's words."),
    CHOICE(Situation, stage, "stage", stages, .label = "Stage", .standard_word = "both",
           .help = "At which stage it is judged."),
    MAP(Situation, people, "people", Q_COUNT, "", "spaces person-place", .min = 0.0, .max = 500.0,
        .label = "People",
        .help = "How many are where: keys are spaces or items that are a place for people."),
    MAP(Situation, tanks, "tanks", Q_FRACTION, "%", "tank", .min = 0.0, .max = 1.0,
        .label = "Tanks",
        .help = "How full: keys are items with a tank. Unstated tanks are tried all ways."),
    CHOICE(Situation, loose_ballast, "loose-ballast", loose, .label = "Loose ballast",
           .standard_word = "aboard", .help = "Whether loose ballast is aboard."),
    LIST(Situation, sources, "sources", "sources", .label = "Sources",
         .help =
             "What feeds: ids of sources. Left out: nothing electrical is asked of the situation."),
    MAP(Situation, running, "running", Q_FRACTION, "%", "items", .min = 0.0, .max = 1.0,
        .per_day = true, .label = "Running",
        .help = "What is on: keys are items, values a share of the time (`40 %`) or hours a day "
                "(`4 h`)."),
};

const Section section_situations = {
    .key = "situations",
    .title = "Situations",
    .keyed = true,
    .what = "How she is used; light, people-side and people-aft exist unless written here.",
    .size = sizeof(Situation),
    .fields = situations,
    .n_fields = N_FIELDS(situations)};

static const Field options[] = {
    TEXT(OptionSection, why, "why", .label = "Why", .help = "What speaks for it."),
};

const Section section_options = {
    .key = "options",
    .title = "Options",
    .keyed = true,
    .what =
        "Named patches: `changes:` repeats the keys that differ; the word remove takes one away.",
    .size = sizeof(OptionSection),
    .fields = options,
    .n_fields = N_FIELDS(options)};

static const Choice measured_kinds[] = {
    {"freeboards", "deck edge above the water, at several places of both sides"},
    {"draughts", "draught marks: depth of the base line"},
    {"heel-test", "a known weight moved across, the heel read on a plumb line"},
    {"roll", "time of a full roll"},
    {"trial", "a trial of the trials paper: a weight or people moved, and what the water then did"},
    {"hull-potential", "volts between her bare steel and a reference electrode beside her"},
    {"cranking",
     "volts at battery and starter, and the current, while the starter turns the engine"},
    {"clamp", "current of one device by a clamp meter round one of its conductors"},
    {NULL, NULL},
};
static const Choice electrodes[] = {
    {"silver-chloride", "silver in silver chloride: for salt water"},
    {"zinc", "a piece of pure zinc: for salt water, good to 50 mV"},
    {"copper-sulphate", "copper in copper sulphate: the one that serves in fresh water too"},
    {NULL, NULL},
};
static const Field measured[] = {
    CHOICE(Measurement, kind, "kind", measured_kinds, .label = "Kind",
           .standard_word = "freeboards", .help = "What was read."),
    DATE(Measurement, date, "date", .label = "Date",
         .help = "Day of the readings: what was aboard then is weighed."),
    REFERENCE(Measurement, situation, "situation", "situations", .label = "Situation",
              .help = "People and tanks at the time."),
    DENSITY(Measurement, density_kg_per_m3, "density", .label = "Water density",
            .help = "Of the water then; left out: the boat's."),
    ROWS(Measurement, readings, "readings", .min = -5.0, .max = 30.0, .label = "Readings",
         .help =
             "Freeboards: `12 m port 1.30 m` is along, side, height of the deck edge above the "
             "water. Draughts: `1 m centreline 0.90 m`. A trial: `7 m port down 38 mm` is how far "
             "that point of the deck edge went, `up` or `down`."),
    ROWS(Measurement, moves, "moves", .min = -2.0, .max = 2.0, .label = "Moves",
         .help = "Heel test: `90 kg 2.4 m starboard 38 mm` is the weight, how far and to which "
                 "side of where it began, and where the "
                 "plumb line then hangs (that side +)."),
    QUANTITY(Measurement, pendulum_m, "pendulum", Q_LENGTH, "m", .min = 0.3, .max = 20.0,
             .label = "Plumb line", .help = "Heel test, trial: from its nail to where it is read."),
    QUANTITY(Measurement, period_s, "period", Q_TIME, "s", .min = 0.5, .max = 60.0,
             .label = "Roll period", .help = "Roll: there and back, the mean of ten."),
    QUANTITY(Measurement, weight_kg, "weight", Q_MASS, "kg", .min = 1.0, .max = 1e5,
             .label = "Weight moved",
             .help = "Trial: the weight or the people that were moved or came aboard, weighed."),
    ALONG(Measurement, from_along_m, "from-along", .label = "From, along",
          .help = "Trial: where the weight was before; left out: it came aboard."),
    ACROSS(Measurement, from_across_m, "from-across", .standard = 0.0, .has_standard = true,
           .label = "From, across", .help = "Trial: likewise; left out: on the centreline."),
    ALONG(Measurement, to_along_m, "to-along", .label = "To, along",
          .help = "Trial: where the weight then was."),
    ACROSS(Measurement, to_across_m, "to-across", .standard = 0.0, .has_standard = true,
           .label = "To, across", .help = "Trial: likewise; left out: on the centreline."),
    HEIGHT(Measurement, weight_height_m, "weight-height", .label = "Height of the weight",
           .help = "Trial: its centre; left out: that of somebody standing there on deck."),
    QUANTITY(Measurement, swing_m, "swing", Q_SMALL_LENGTH, "mm", .min = -2.0, .max = 2.0,
             .label = "Plumb line swings",
             .help = "Trial: where the plumb line hangs then, to the side the weight went to +."),
    QUANTITY(Measurement, potential_V, "potential", Q_VOLTAGE, "V", .min = -3.0, .max = 3.0,
             .label = "Potential",
             .help = "Hull potential: red lead on bare steel of the hull, black on the electrode, "
                     "shore lead out, afloat; mostly negative."),
    CHOICE(Measurement, electrode, "electrode", electrodes, .label = "Electrode",
           .help = "Hull potential: what hung in the water."),
    TEXT(Measurement, spot, "spot", .label = "Spot",
         .help = "Hull potential: where it hung, such as `beside the rudder`."),
    REFERENCE(Measurement, device, "device", "items", .label = "Device",
              .help = "Cranking, clamp: the item that ran."),
    QUANTITY(Measurement, current_A, "current", Q_CURRENT, "A", .min = 0.001, .max = 5000.0,
             .label = "Current", .help = "Cranking, clamp: by the clamp meter."),
    QUANTITY(Measurement, rest_V, "rest-voltage", Q_VOLTAGE, "V", .min = 1.0, .max = 700.0,
             .label = "Voltage at rest",
             .help = "Cranking: between the battery's own two posts, before anything ran."),
    QUANTITY(Measurement, battery_V, "battery-voltage", Q_VOLTAGE, "V", .min = 0.1, .max = 700.0,
             .label = "Voltage at the battery",
             .help = "Cranking: between the posts themselves, not their clamps."),
    QUANTITY(Measurement, device_V, "device-voltage", Q_VOLTAGE, "V", .min = 0.1, .max = 700.0,
             .label = "Voltage at the device",
             .help = "Cranking: between the starter's own stud and its case."),
};

const Section section_measured = {.key = "measured",
                                  .title = "Measurements",
                                  .keyed = true,
                                  .what = "What was measured on the boat.",
                                  .size = sizeof(Measurement),
                                  .fields = measured,
                                  .n_fields = N_FIELDS(measured)};

static const Field limits[] = {
    ANY(OwnLimit, value, "value", .label = "Value", .help = "The limit as read, with its unit.",
        .demanded = true),
    TEXT(OwnLimit, read_in, "read-in", .label = "Read in",
         .help = "The document, with edition or page."),
    DATE(OwnLimit, date, "date", .label = "Date", .help = "Day of reading."),
};

const Section section_limits = {
    .key = "limits",
    .title = "Limits",
    .keyed = true,
    .what = "Limits that the owner has read himself; they settle what is known from memory only.",
    .size = sizeof(OwnLimit),
    .fields = limits,
    .n_fields = N_FIELDS(limits)};

static const Field ashore[] = {
    ALONG(Ashore, block_along_m, "block", .label = "First block",
          .help = "Where the keel touches first, from the stern forward."),
    ALONG(Ashore, sling_aft_m, "sling-aft", .label = "Aft sling",
          .help = "Where the aft sling lies."),
    ALONG(Ashore, sling_fore_m, "sling-fore", .label = "Fore sling",
          .help = "Where the fore sling lies."),
    QUANTITY(Ashore, sling_angle_rad, "sling-angle", Q_ANGLE, "deg", .min = 0.0, .max = 1.2,
             .standard = 0.0, .has_standard = true, .label = "Sling angle",
             .help = "Of the legs from the vertical; 0 with spreaders, the usual way."),
    ALONG(Ashore, davit_along_m, "davit-along", .label = "Davit along",
          .help = "Head of her own davit or derrick, swung out."),
    ACROSS(Ashore, davit_across_m, "davit-across", .label = "Davit across",
           .help = "Its head, how far out and to which side."),
    HEIGHT(Ashore, davit_height_m, "davit-height", .label = "Davit height",
           .help = "Its head, above the base line."),
    QUANTITY(Ashore, davit_load_kg, "davit-load", Q_MASS, "kg", .min = 0.0, .max = 1e5,
             .label = "Davit load", .help = "The heaviest thing it lifts."),
    QUANTITY(Ashore, every_s, "every", Q_TIME, "years", .min = 2.0e6, .max = 6.4e8,
             .standard = 3.0 * 31536000.0, .standard_spread = 31536000.0, .has_standard = true,
             .label = "Comes ashore every",
             .help = "From one time ashore to the next: so long her anodes must last."),
};

const Section section_ashore = {
    .key = "ashore",
    .title = "Ashore and in the air",
    .what = "Where she is set down and lifted; left out: where it would be easiest on her.",
    .size = sizeof(Ashore),
    .fields = ashore,
    .n_fields = N_FIELDS(ashore)};
