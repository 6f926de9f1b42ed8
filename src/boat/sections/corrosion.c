/* What keeps her from rusting below the water: paint, anodes, and what other metals hang there. */
#include "boat/field_macros.h"

static const Choice paints[] = {
    {"bare", "no paint that counts"},
    {"bitumen", "black bitumen, renewed every few years"},
    {"primer", "one thin coat of primer"},
    {"epoxy", "one coat of marine paint or more, 0.25 mm in all or thicker"},
    {"thick-epoxy", "two coats or more, 0.35 mm in all or thicker"},
    {NULL, NULL},
};
static const Field coating[] = {
    CHOICE(CoatingSection, kind, "kind", paints, .label = "Paint below the water",
           .help = "How much of the steel it keeps from the water."),
    DATE(CoatingSection, applied, "applied", .label = "Applied",
         .help = "Day of the last full coat down to steel: paint leaks more every year."),
    QUANTITY(CoatingSection, bare_m2, "bare", Q_AREA, "m2", .min = 0.0, .max = 5000.0,
             .standard = 0.0, .has_standard = true, .label = "Bare besides",
             .help = "Steel below the water that is scraped, welded or rusted bare."),
};

const Section section_coating = {.key = "coating",
                                 .title = "Paint below the water",
                                 .role_of = "hull",
                                 .what = "What keeps the water from her steel.",
                                 .size = sizeof(CoatingSection),
                                 .fields = coating,
                                 .n_fields = N_FIELDS(coating)};

static const Choice anode_metals[] = {
    {"zinc", "for salt water"},
    {"aluminium", "for salt and brackish water"},
    {"magnesium", "for fresh water, never for salt"},
    {NULL, NULL},
};
static const Field anode[] = {
    CHOICE(AnodeRole, metal, "metal", anode_metals, .label = "Metal",
           .help = "Decides in which water it works."),
    QUANTITY(AnodeRole, mass_kg, "mass", Q_MASS, "kg", .min = 0.01, .max = 500.0,
             .label = "Net mass of one",
             .help = "Of the anode metal when new, without its steel strap; of each."),
    COUNT(AnodeRole, count, "count", .min = 1.0, .max = 500.0, .standard = 1.0,
          .has_standard = true, .label = "How many", .help = "Alike, below the water."),
    QUANTITY(AnodeRole, length_m, "length", Q_SMALL_LENGTH, "mm", .min = 0.01, .max = 3.0,
             .label = "Length", .help = "Of one; left out: that of a usual plate of its mass."),
    QUANTITY(AnodeRole, width_m, "width", Q_SMALL_LENGTH, "mm", .min = 0.01, .max = 3.0,
             .label = "Width", .help = "Of one, the shorter side."),
    QUANTITY(AnodeRole, thickness_m, "thickness", Q_SMALL_LENGTH, "mm", .min = 0.005, .max = 0.5,
             .label = "Thickness", .help = "Of one, when new."),
    QUANTITY(AnodeRole, left_frac, "left", Q_FRACTION, "%", .min = 0.0, .max = 1.0, .label = "Left",
             .help = "Seen ashore: how much of it is still there."),
    FLAG(AnodeRole, painted, "painted", .label = "Painted over",
         .help = "`yes` kills it: paint keeps the water from the anode."),
};

const Section section_anode = {.key = "anode",
                               .title = "Anode",
                               .role_of = "items",
                               .what = "The item is eaten so that the hull is not; set on bright "
                                       "metal, on the day that the item's since names.",
                               .size = sizeof(AnodeRole),
                               .fields = anode,
                               .n_fields = N_FIELDS(anode)};

static const Choice alloys[] = {
    {"steel", "the hull's own kind"},
    {"cast-iron", "grey iron"},
    {"stainless", "stainless steel of shafts and rudder stocks"},
    {"manganese-bronze", "what most propellers are cast of, a brass in truth"},
    {"bronze", "tin bronze, gunmetal"},
    {"brass", "brass of cheap fittings"},
    {"copper", "pipes, earth plates"},
    {"copper-nickel", "cooler tubes"},
    {"aluminium", "outdrives, thruster housings"},
    {NULL, NULL},
};
static const Choice joined[] = {
    {"to-hull", "metal touches metal, through a shaft and its gear too"},
    {"insulated", "plastic or rubber keeps it apart, proved with a meter"},
    {NULL, NULL},
};
static const Field metal[] = {
    CHOICE(MetalRole, alloy, "alloy", alloys, .label = "Alloy", .help = "What it is made of."),
    QUANTITY(MetalRole, area_m2, "area", Q_AREA, "m2", .min = 0.0, .max = 500.0,
             .label = "Area in the water", .help = "All its faces below the water together."),
    CHOICE(MetalRole, joined, "joined", joined, .label = "Joined", .standard_word = "to-hull",
           .help = "Whether it is joined to the hull metal to metal."),
    FLAG(MetalRole, painted, "painted", .label = "Painted",
         .help = "Whether it is painted like the hull; a propeller is not."),
};

const Section section_metal = {.key = "metal",
                               .title = "Metal in the water",
                               .role_of = "items",
                               .what = "The item hangs in the water and is of metal: propeller, "
                                       "shaft, rudder, cooler.",
                               .size = sizeof(MetalRole),
                               .fields = metal,
                               .n_fields = N_FIELDS(metal)};
