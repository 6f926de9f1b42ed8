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
