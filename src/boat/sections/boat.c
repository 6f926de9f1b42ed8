/* What is asked about the boat as a whole. The words of `waters` choose the criteria of stability.
 */
#include "boat/field_macros.h"

static const Choice kinds[] = {
    {"keeled-barge",
     "barge with a keel and shaped ends, such as a sailing barge or its motor sister"},
    {"flat-barge", "flat-bottomed barge or lighter"},
    {"narrowboat", "canal boat about 2.1 m wide"},
    {"tug", "tug or pusher"},
    {"motor-yacht", "motor yacht or cruiser"},
    {"sailing-yacht", "yacht whose keel and rig decide her stability"},
    {"fishing-boat", "former or present fishing boat"},
    {"launch", "decked launch, ferry or workboat"},
    {"open-boat", "boat without a deck"},
    {"pontoon", "flat pontoon or houseboat float; the pontoon criterion applies to this kind only"},
    {"other", "none of these"},
    {NULL, NULL},
};
static const Choice uses[] = {
    {"pleasure", "sailed by the owner for pleasure"},
    {"home", "lived aboard"},
    {"work", "earns money with goods or services"},
    {"passengers", "carries passengers for money"},
    {"hire", "let to others without crew"},
    {NULL, NULL},
};
static const Choice waters[] = {
    {"canal", "sheltered by banks: inland freeboard and clearance, wind heel"},
    {"river", "current and wash: inland freeboard and clearance, wind heel"},
    {"sheltered", "estuaries and small lakes: small-craft category D, 46 CFR protected waters"},
    {"coastal",
     "within reach of a harbour: small-craft category C, 46 CFR partially protected waters"},
    {"open-sea",
     "category A or B, 46 CFR exposed waters, weather criterion, general intact criteria"},
    {NULL, NULL},
};
static const Choice units[] = {
    {"metric", "metres, kilograms, litres"},
    {"imperial", "feet, pounds, gallons"},
    {NULL, NULL},
};
static const Choice decks[] = {
    {"flush", "one watertight deck from end to end"},
    {"stepped", "deck with a step, well or cockpit"},
    {"open", "no deck: water that comes over the side stays in"},
    {NULL, NULL},
};

static const Choice climates[] = {
    {"tropical", "above 20 degC over the year"},
    {"subtropical", "12 to 20 degC"},
    {"temperate", "7 to 12 degC"},
    {"arctic", "below 7 degC"},
    {NULL, NULL},
};

static const Field fields[] = {
    TEXT(Vessel, name, "name", .label = "Name", .help = "As painted on her.", .demanded = true),
    CHOICE(Vessel, kind, "kind", kinds, .label = "Kind",
           .help = "What she was built as; some rules hold for one kind only."),
    CHOICE(Vessel, use, "use", uses, .label = "Use", .help = "Decides who may ask for papers."),
    CHOICE(Vessel, waters, "waters", waters, .label = "Waters",
           .help = "The roughest waters she is meant for; selects the criteria."),
    CHOICE(Vessel, deck, "deck", decks, .label = "Deck", .standard_word = "flush",
           .help = "Where water that comes aboard goes; an open-boat has none."),
    TEXT(Vessel, flag, "flag", .label = "Flag", .help = "Country of registry."),
    COUNT(Vessel, built_year, "built", .min = 1700.0, .max = 2200.0, .label = "Built",
          .help = "Year of building."),
    DENSITY(Vessel, density_kg_per_m3, "density", .label = "Water density",
            .help = "fresh (1000), brackish (1012 ± 12), salt (1025 kg/m3), or a measured one; "
                    "left out: by waters."),
    QUANTITY(Vessel, conductivity_S_per_m, "conductivity", Q_CONDUCTIVITY, "uS/cm", .min = 1e-4,
             .max = 10.0, .label = "Conductivity of the water",
             .help =
                 "By a meter where she lies: rivers have 200 to 1000 uS/cm, the sea 50000; left "
                 "out: the usual one of her water. Decides what anodes give."),
    CHOICE(Vessel, climate, "climate", climates, .label = "Warmth of the water",
           .standard_word = "temperate",
           .help = "Where she lies; decides how much current bare steel asks of anodes."),
    COUNT(Vessel, people, "people", .min = 0.0, .max = 500.0, .standard = 2.0, .has_standard = true,
          .label = "People",
          .help = "How many come aboard at once; they are put on one side and right aft."),
    QUANTITY(Vessel, growth_frac, "growth", Q_FRACTION, "%", .min = 0.0, .max = 1.0,
             .standard = 0.0, .has_standard = true, .label = "Growth",
             .help = "Share added to the listed masses for what was forgotten."),
    TEXT(Vessel, currency, "currency", .label = "Currency", .standard_word = "EUR",
         .help = "Every price in this file is in it."),
    CHOICE(Vessel, units, "units", units, .label = "Units", .standard_word = "metric",
           .help = "In which answers are shown."),
    FLAG(Vessel, demo, "demo", .label = "Invented",
         .help = "`yes (invented)` where no such boat exists: every paper then says so."),
};

const Section section_boat = {.key = "boat",
                              .title = "The boat",
                              .what = "The boat as a whole.",
                              .size = sizeof(Vessel),
                              .fields = fields,
                              .n_fields = N_FIELDS(fields)};
