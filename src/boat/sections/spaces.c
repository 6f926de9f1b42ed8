/* Houses on deck, rooms below it, marks that places are measured from, openings. */
#include "boat/field_macros.h"

static const Field houses[] = {
    ALONG_RANGE(House, along, "along", .label = "Along",
                .help = "From where to where, from the stern forward."),
    ACROSS_RANGE(House, across, "across", .label = "Across",
                 .help = "From side to side, such as 1.2 m port to 1.2 m starboard."),
    HEIGHT_RANGE(House, height, "height", .label = "Height",
                 .help = "From the deck to its roof, above the base line."),
    FLAG(House, weathertight, "weathertight", .label = "Weathertight",
         .help = "Keeps water out in any sea: `yes (date or evidence)`; it then counts as closed "
                 "volume."),
};

const Section section_houses = {
    .key = "houses",
    .title = "Houses",
    .keyed = true,
    .what = "What stands above the deck: windage, and closed volume if weathertight.",
    .size = sizeof(House),
    .fields = houses,
    .n_fields = N_FIELDS(houses)};

static const Choice covers[] = {
    {"cloth", "a cloth or loose boards: keeps rain out, not a sea"},
    {"hatches", "hatches made tight: neither rain nor sea comes in"},
    {"deck", "a deck or roof: neither rain nor sea comes in"},
    {"none", "open to the sky: a well, a cockpit, an open hold, a deck between bulwarks"},
    {NULL, NULL},
};
static const Choice vapours[] = {
    {"petrol", "a petrol engine or tank is in it, or open to it"},
    {"gas", "gas bottles or their fittings are in it, or open to it"},
    {"none", "shut off tight from both, said on purpose"},
    {NULL, NULL},
};
static const Field spaces[] = {
    TEXT(Space, what, "what", .label = "What", .help = "The room in the owner's words."),
    ALONG_RANGE(Space, along, "along", .label = "Along",
                .help = "From where to where, from the stern forward."),
    ACROSS_RANGE(Space, across, "across", .label = "Across",
                 .help = "Left out: from shell to shell."),
    HEIGHT_RANGE(Space, height, "height", .label = "Height",
                 .help = "Left out: from the bottom up to the deck."),
    QUANTITY(
        Space, permeability_frac, "permeability", Q_FRACTION, "%", .min = 0.05, .max = 1.0,
        .standard = 0.95, .has_standard = true, .standard_spread = 0.05, .label = "Open to water",
        .help =
            "Share of the space that water can fill: rooms 95 %, engine rooms 85 %, stores 60 %."),
    CHOICE(Space, cover, "cover", covers, .label = "Cover", .standard_word = "deck",
           .help = "What is over it. In a well that is open, water from above may lie."),
    QUANTITY(Space, bulwark_m, "bulwark", Q_LENGTH, "m", .min = 0.0, .max = 5.0, .label = "Bulwark",
             .help = "Bulwark or coaming round it, above the deck; left out: none."),
    QUANTITY(Space, scuppers_m2, "scuppers", Q_SMALL_AREA, "cm2", .min = 0.0, .max = 5.0,
             .label = "Scuppers",
             .help = "Area of all holes at its floor that let water out over the side; a round "
                     "hole of 38 mm has 11 cm2. 0 cm2: none."),
    CHOICE(Space, vapour, "vapour", vapours, .label = "Vapour",
           .help = "What that a spark could light can gather in it; diesel counts as none."),
    QUANTITY(Space, vents_m2, "vents", Q_OPENING_AREA, "cm2", .min = 0.0, .max = 10.0,
             .label = "Ways for air",
             .help =
                 "Where batteries stand: free area of each of two openings to the open, one low "
                 "and one high. 0 cm2: none."),
};

const Section section_spaces = {.key = "spaces",
                                .title = "Spaces",
                                .keyed = true,
                                .what = "Rooms, wells and decks: where people are, what can flood, "
                                        "what is heated, where water may lie.",
                                .size = sizeof(Space),
                                .fields = spaces,
                                .n_fields = N_FIELDS(spaces)};

static const Field marks[] = {
    ALONG(Mark, along_m, "along", .label = "Along",
          .help = "From the stern forward, or from another mark."),
    ACROSS(Mark, across_m, "across", .label = "Across",
           .help = "From the centreline, starboard or port."),
    HEIGHT(Mark, height_m, "height", .label = "Height",
           .help = "Above the base line, or above another mark."),
};

const Section section_marks = {
    .key = "marks",
    .title = "Marks",
    .keyed = true,
    .what =
        "Bulkheads, floors and frames that places are measured from; stern and base always exist.",
    .size = sizeof(Mark),
    .fields = marks,
    .n_fields = N_FIELDS(marks)};

static const Choice opening_kinds[] = {
    {"vent", "air inlet or outlet"},
    {"hatch", "hatch in the deck or a roof"},
    {"door", "door in a house or bulkhead"},
    {"window", "window or port in the side"},
    {"companionway", "way down with washboards or doors"},
    {"hose", "hose that ends at a skin fitting or over the side"},
    {"gland", "where a shaft or cable passes the shell"},
    {"drain", "scupper or deck drain"},
    {"exhaust", "exhaust outlet"},
    {"other", "any other way for water to get in"},
    {NULL, NULL},
};
static const Choice closes[] = {
    {"never", "open at all times"},
    {"by-hand", "somebody has to close it: counts as open"},
    {"by-itself", "a flap, float or valve closes without help"},
    {"weathertight", "keeps out spray and rain, not standing water"},
    {"watertight", "holds against standing water"},
    {NULL, NULL},
};
static const Field openings[] = {
    TEXT(Opening, what, "what", .label = "What", .help = "The opening in the owner's words."),
    CHOICE(Opening, kind, "kind", opening_kinds, .label = "Kind", .standard_word = "other",
           .help = "What it is for."),
    WHERE(Opening),
    QUANTITY(Opening, size_m, "size", Q_SMALL_LENGTH, "mm", .min = 0.001, .max = 20.0,
             .label = "Size", .help = "Diameter, or the side of a square as large."),
    CHOICE(Opening, closes, "closes", closes, .label = "Closes", .standard_word = "never",
           .help = "What keeps water out; what needs a hand counts as open."),
};

const Section section_openings = {
    .key = "openings",
    .title = "Openings",
    .keyed = true,
    .what = "Places where water or air can get in or out; height is the lowest edge.",
    .size = sizeof(Opening),
    .fields = openings,
    .n_fields = N_FIELDS(openings)};
