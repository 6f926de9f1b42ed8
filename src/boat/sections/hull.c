/* The hull below the deck: its stations, and what hangs on it outside. */
#include "boat/field_macros.h"

static const Field hull[] = {
    QUANTITY(HullSection, within_m, "within", Q_SMALL_LENGTH, "mm", .min = 0.0, .max = 0.5,
             .standard = 0.020, .has_standard = true, .label = "Measured within",
             .help = "Give or take of every half breadth and height of the stations."),
    QUANTITY(HullSection, plate_m, "plate", Q_SMALL_LENGTH, "mm", .min = 0.0005, .max = 0.1,
             .label = "Plate thickness",
             .help =
                 "Mean thickness of shell and deck, from which the bare hull's mass is estimated."),
};

const Section section_hull = {.key = "hull",
                              .title = "The hull",
                              .what = "Shell and deck.",
                              .size = sizeof(HullSection),
                              .fields = hull,
                              .n_fields = N_FIELDS(hull)};

static const Choice form_types[] = {
    {"punt", "scow: flat, with a swim at both ends"},
    {"keeled-barge", "full, nearly flat bottom, small round or knuckled bilge, bar keel"},
    {"single-chine", "flat or vee bottom, one knuckle"},
    {"double-chine", "two knuckles"},
    {"round-bilge", "rounded from keel to deck"},
    {NULL, NULL},
};
static const Choice form_ends[] = {
    {"usual", "not known: as boats of the type have them"},
    {"fine", "sharp, hollow or long"},
    {"middling", "between"},
    {"full", "bluff"},
    {NULL, NULL},
};
static const Choice form_sterns[] = {
    {"usual", "not known: as boats of the type have it"},
    {"transom", "flat board"},
    {"canoe", "comes to a point"},
    {"counter", "overhangs the water"},
    {NULL, NULL},
};
#define SIZE(m, k, most, title, text)                                                              \
    QUANTITY(FormSection, m, k, Q_LENGTH, "m", .min = 0.0, .max = most, .label = title,            \
             .help = text)
static const Field form[] = {
    CHOICE(FormSection, type, "type", form_types, .label = "Type",
           .help = "The family she belongs to.", .demanded = true),
    CHOICE(FormSection, ends, "ends", form_ends, .label = "Ends", .standard_word = "usual",
           .help = "How full her ends are."),
    CHOICE(FormSection, stern, "stern", form_sterns, .label = "Stern", .standard_word = "usual",
           .help = "How her stern is made."),
    SIZE(length_m, "length", 100.0, "Length",
         "Of the shell at the deck, rudder and platform not counted."),
    SIZE(beam_aft_m, "beam-aft", 20.0, "Beam at the stern", "Over the shell, at the deck."),
    SIZE(beam_quarter_m, "beam-quarter", 20.0, "Beam at a quarter",
         "A quarter of the length forward of the stern."),
    SIZE(beam_mid_m, "beam-mid", 20.0, "Beam amidships", "Over the shell, at the deck."),
    SIZE(beam_three_quarter_m, "beam-three-quarter", 20.0, "Beam at three quarters",
         "Three quarters of the length forward of the stern."),
    SIZE(beam_fore_m, "beam-fore", 20.0, "Beam at the bow", "At the very end; 0 for a sharp stem."),
    SIZE(depth_aft_m, "depth-aft", 20.0, "Deck height at the stern",
         "Deck edge above the base line."),
    SIZE(depth_quarter_m, "depth-quarter", 20.0, "Deck height at a quarter",
         "Deck edge above the base line."),
    SIZE(depth_mid_m, "depth-mid", 20.0, "Deck height amidships", "Deck edge above the base line."),
    SIZE(depth_three_quarter_m, "depth-three-quarter", 20.0, "Deck height at three quarters",
         "Deck edge above the base line."),
    SIZE(depth_fore_m, "depth-fore", 20.0, "Deck height at the bow",
         "Deck edge above the base line."),
    SIZE(sheer_aft_m, "sheer-aft", 5.0, "Sheer aft",
         "Deck edge at the stern above amidships, where its height is not known."),
    SIZE(sheer_fore_m, "sheer-fore", 5.0, "Sheer fore",
         "Deck edge at the bow above amidships, where its height is not known."),
    SIZE(stern_rake_m, "stern-rake", 10.0, "Rake of the stern",
         "Along, from the deck's end to the foot."),
    SIZE(stem_rake_m, "stem-rake", 10.0, "Rake of the stem",
         "Along, from the deck's end to the foot."),
    SIZE(bottom_aft_m, "bottom-aft", 5.0, "Bottom at the stern",
         "Above the base line, at the foot of the stern."),
    SIZE(bottom_fore_m, "bottom-fore", 5.0, "Bottom at the bow",
         "Above the base line, where the shell ends."),
    SIZE(forefoot_m, "forefoot", 5.0, "Forefoot",
         "Keel above the base line where the stem begins."),
    SIZE(run_m, "run", 50.0, "Run", "Along, from the stern to where the keel begins to rise."),
    SIZE(keel_m, "keel", 3.0, "Bar keel", "Below the bottom, amidships."),
    QUANTITY(FormSection, deadrise_rad, "deadrise", Q_ANGLE, "deg", .min = 0.0, .max = 1.0,
             .label = "Deadrise", .help = "Rise of the bottom amidships, from the keel outward."),
    SIZE(bilge_m, "bilge", 3.0, "Bilge",
         "Radius of a round bilge, or half the width of a bilge panel, amidships."),
    QUANTITY(FormSection, within_m, "within", Q_SMALL_LENGTH, "mm", .min = 0.0, .max = 0.5,
             .label = "Measured within", .help = "Give or take of every length here."),
};
#undef SIZE

const Section section_form = {.key = "form",
                              .title = "Her form",
                              .role_of = "hull",
                              .what = "Her shape in few numbers; used, with a wide spread, while "
                                      "no stations are given. Leave out what you do not know.",
                              .size = sizeof(FormSection),
                              .fields = form,
                              .n_fields = N_FIELDS(form)};

#define READ(T, m, k, low, title, text)                                                            \
    QUANTITY(T, m, k, Q_LENGTH, "m", .min = low, .max = 100.0, .label = title, .help = text)
static const Field tape[] = {
    READ(TapeSection, base_aft_along_m, "base-aft", -5.0, "Aft base point",
         "Where the keel's underside was levelled, forward of the stern."),
    READ(TapeSection, base_aft_height_m, "base-aft-height", -20.0, "Its height",
         "Above the level of hose or instrument."),
    READ(TapeSection, base_fore_along_m, "base-fore", -5.0, "Fore base point",
         "Where the keel's underside was levelled, forward of the stern."),
    READ(TapeSection, base_fore_height_m, "base-fore-height", -20.0, "Its height",
         "Above the level of hose or instrument."),
    READ(TapeSection, stern_height_m, "stern-height", -20.0, "Height of the stern",
         "Of the aftmost shell plate above the level."),
    QUANTITY(TapeSection, list_rad, "list", Q_ANGLE, "deg", .min = -0.5, .max = 0.5,
             .label = "List ashore",
             .help = "How she leans on the blocks, starboard down +; left out: from the rails of "
                     "both sides."),
    QUANTITY(TapeSection, within_m, "within", Q_SMALL_LENGTH, "mm", .min = 0.0, .max = 0.5,
             .standard = 0.010, .has_standard = true, .label = "Read within",
             .help = "Give or take of every length read."),
};

const Section section_tape = {
    .key = "tape",
    .title = "Readings ashore",
    .role_of = "hull",
    .what = "String and plumb line: what was read once. With the strings and "
            "the plumb readings it gives the stations while none are written.",
    .size = sizeof(TapeSection),
    .fields = tape,
    .n_fields = N_FIELDS(tape)};

static const Field strings[] = {
    READ(StringSection, length_m, "length", 0.0, "Length of the string", "Between its two ends."),
    READ(StringSection, aft_height_m, "aft-height", -20.0, "Height of its aft end",
         "Above the level."),
    READ(StringSection, fore_height_m, "fore-height", -20.0, "Height of its fore end",
         "Above the level."),
    READ(StringSection, stern_along_m, "stern", -20.0, "The stern on it",
         "Place on the string abreast of the aftmost shell plate."),
    READ(StringSection, out_aft_m, "out-aft", 0.0, "Aft end from the centreline",
         "Level, from the keel's centreline; only where the string does not run as the keel does, "
         "or where distances are taken from it."),
    READ(StringSection, out_fore_m, "out-fore", 0.0, "Fore end from the centreline",
         "As out-aft, at its fore end."),
};

const Section section_strings = {.key = "strings",
                                 .title = "Strings",
                                 .role_of = "hull",
                                 .keyed = true,
                                 .what = "The string stretched beside her: port, starboard.",
                                 .size = sizeof(StringSection),
                                 .fields = strings,
                                 .n_fields = N_FIELDS(strings)};

static const Choice plumb_sides[] = {
    {"port", "read on the port side"}, {"starboard", "read on the starboard side"}, {NULL, NULL}};
static const Choice inward_from[] = {{"plumb-line", "athwart, from the plumb line"},
                                     {"string", "square off the upright plane through the string"},
                                     {NULL, NULL}};
static const Field plumb[] = {
    CHOICE(PlumbSection, side, "side", plumb_sides, .label = "Side", .standard_word = "port",
           .help = "On which side it was read."),
    READ(PlumbSection, along_m, "along", -5.0, "Along the string", "From the string's aft end."),
    READ(PlumbSection, rail_m, "rail", -20.0, "Rail", "Above the string; below it is negative."),
    CHOICE(PlumbSection, from, "from", inward_from, .label = "Inward from",
           .standard_word = "plumb-line", .help = "What the distances inward are taken from."),
    READ(PlumbSection, rail_inward_m, "rail-inward", -20.0, "Rail inward",
         "Rail from the plumb line, where that hangs from a batten, or from the string's plane."),
    READ(PlumbSection, beam_m, "beam", 0.0, "Beam here",
         "Level, between the plumb lines of both sides; not needed from the string."),
    READ(PlumbSection, keel_m, "keel", -20.0, "Keel here",
         "Underside of the keel above the level."),
    READ(PlumbSection, keel_forward_m, "keel-forward", -20.0, "Keel forward",
         "How far forward of this place the keel was read; aft of it is negative."),
    ROWS(PlumbSection, readings, "readings", .min = 0.0, .max = 60.0, .label = "Readings",
         .help = "From the rail down: inward (outward is negative) and below the rail, `0.12 m "
                 "0.90 m knuckle chine` where the plating bends, `0.12 m 0.90 m 40 mm forward` or "
                 "`aft` where the hull was touched forward or aft of the line (raked ends, a tape "
                 "that was not square)."),
};

const Section section_plumb = {.key = "plumb",
                               .title = "Plumb line",
                               .role_of = "hull",
                               .keyed = true,
                               .what = "Places where the plumb line hung from the rail.",
                               .size = sizeof(PlumbSection),
                               .fields = plumb,
                               .n_fields = N_FIELDS(plumb)};

static const Field diagonals[] = {
    REFERENCE(DiagonalSection, from, "from", "plumb", .label = "From",
              .help = "Station whose rail it starts at."),
    CHOICE(DiagonalSection, side, "side", plumb_sides, .label = "Side", .standard_word = "port",
           .help = "On which side it starts; it ends on the other."),
    REFERENCE(DiagonalSection, to, "to", "plumb", .label = "To",
              .help = "Station whose rail it ends at, on the other side."),
    READ(DiagonalSection, length_m, "length", 0.0, "Length", "Level, from rail to rail."),
};
#undef READ

const Section section_diagonals = {.key = "diagonals",
                                   .title = "Diagonals",
                                   .role_of = "hull",
                                   .keyed = true,
                                   .what = "Level distances over the rails, from a station of one "
                                           "side to a station of the other: they judge whether "
                                           "she is straight and the stations agree.",
                                   .size = sizeof(DiagonalSection),
                                   .fields = diagonals,
                                   .n_fields = N_FIELDS(diagonals)};

static const Field stations[] = {
    ALONG(StationSection, along_m, "along", .label = "Along", .demanded = true,
          .help = "Where the section was taken, from the stern forward."),
    ROWS(StationSection, points, "points", .min = 0.0, .max = 60.0, .label = "Points",
         .demanded = true,
         .help = "Half breadth and height from keel to deck edge, `1.80 m 0.22 m knuckle chine` "
                 "where the plating bends."),
};

const Section section_stations = {
    .key = "stations",
    .title = "Stations",
    .role_of = "hull",
    .keyed = true,
    .what = "Sections across the hull, keyed so that one can be corrected alone.",
    .size = sizeof(StationSection),
    .fields = stations,
    .n_fields = N_FIELDS(stations)};

static const Field appendages[] = {
    TEXT(Appendage, what, "what", .label = "What",
         .help = "Keel, skeg, rudder, leeboard, bilge keel."),
    WHERE(Appendage),
    QUANTITY(Appendage, volume_m3, "volume", Q_LIQUID, "L", .min = 0.0, .max = 500.0,
             .label = "Volume", .help = "Water it pushes aside beyond the stations."),
    QUANTITY(Appendage, area_m2, "area", Q_AREA, "m2", .min = 0.0, .max = 500.0, .label = "Area",
             .help = "Seen from the side."),
};

const Section section_appendages = {
    .key = "appendages",
    .title = "Appendages",
    .role_of = "hull",
    .keyed = true,
    .what = "What hangs on the hull outside the stations; places are of its middle.",
    .size = sizeof(Appendage),
    .fields = appendages,
    .n_fields = N_FIELDS(appendages)};
