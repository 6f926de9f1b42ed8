/* Stations from string and plumb line: what was read off ashore, put into the boat's axes.
 *
 * A string is stretched beside the boat; hose or level gives the height of its two ends above a
 * level. At each station a plumb line hangs from the rail; level distances are taken from it (or
 * from the upright plane through the string) inward to the hull, at heights below the rail. The boat
 * may lean and the string may slope.
 *
 *     slope = asin((fore - aft) / string)      X = along * cos(slope)     Z = aft + along * sin(slope) + rail - below
 *     Y = beam / 2 - inward   from the middle between the plumb lines, which is the centreline at rail height
 *     skew = asin((out_fore - out_aft) / (string * cos(slope)))    of a string that does not run as the keel does: then
 *     X = along * cos(slope) * cos(skew) + inward * sin(skew)    Y = out - inward * cos(skew), square off its plane
 *     q = X * sin(trim) + Z * cos(trim)
 *     x = X * cos(trim) - Z * sin(trim)    y = Y * cos(list) + q * sin(list)    z = q * cos(list) - Y * sin(list)
 *
 * The points of a leaning boat do not lie at one x; they are moved along the lines through their
 * neighbours to the mean x of their station. Where both sides were taken at one place, the mean of
 * the two counts and their difference is the asymmetry.
 *
 * A reading is a suspect when it lies outside everything that its neighbours foretell: the line
 * between the stations on both sides, and the lines drawn on from two stations aft and two forward
 * (near an end: lines through two of the next three),
 * by more than five times the spread of a reading and half of what these differ among themselves.
 * So a true corner of the keel line is none, and where lines bend strongly only gross errors are
 * seen; named_from_m says how large an error has to be at each reading. Nothing is corrected.
 *
 * Given    TapeSurvey; lengths below 1 km, at least two places with keel height
 * Gives    Tape: stations, working, suspects, spreads (95 %); free with tape_free
 * Returns  VALID; EXTRAPOLATED where the list is not known, it or the trim is above 5 deg, or a
 *          reading is a suspect; REFUSED with fault and fault_station
 * Source   docs/methods/float.md 0, 2.1; the rule for suspects and the spread of an unknown list
 *          are judgement of this project
 * Checked  tests/physics/test_tape.c: hulls of known lines read off by geometry, with noise */
#pragma once

#include "base/source.h"
#include "base/validity.h"

#include "physics/shape/shape.h"

typedef enum { TAPE_PORT, TAPE_STARBOARD } TapeSide;

typedef struct {
    double below_m; /* down the plumb line, from the rail */
    double
        inward_m; /* level, from the plumb line athwart or square off the string plane to the hull;
                       * negative: outward */
    double forward_m; /* how far forward of the station the hull was touched (raked ends), else 0 */
    const char *knuckle; /* its name, or NULL; borrowed, also by the stations made */
} TapeReading;

typedef struct {
    TapeSide side;
    double along_m;       /* on the string, from its aft end */
    double rail_m;        /* rail above the string; negative: below it */
    bool from_string;     /* inward counts from the plane of the string, not from the plumb line */
    double rail_inward_m; /* rail from plumb line (0 when it hangs there) or string plane */
    double beam_m;        /* level, between the plumb lines of both sides; unused from_string */
    double keel_m;        /* underside of the keel here, above the level; NAN: between neighbours */
    double keel_forward_m; /* as forward_m */
    size_t n;
    const TapeReading *reading; /* from the rail down */
} TapeStation;

typedef struct {
    double length_m;              /* between the ends, along the string */
    double aft_m, fore_m;         /* heights of the ends above the level */
    double out_aft_m, out_fore_m; /* its plane from the keel's centreline at the ends; NAN: nobody
                                   * took it, then it runs as the keel does and no station is
                                   * from_string */
    double stern_m;               /* along, abreast of the aftmost shell plate */
} TapeString;

/* Level distance from the rail at the place of one station, on side, to the rail of the other side
 * at the place of another. */
typedef struct {
    size_t from, to;
    TapeSide side;
    double length_m;
} TapeDiagonal;

typedef struct {
    TapeString string[2];  /* by TapeSide; unused where that side has no station */
    double stern_height_m; /* of that shell plate above the level; NAN: as high as the rail there */
    double list_rad;    /* of the boat ashore, + to starboard; NAN: from the rails of both sides */
    double base_x_m[2]; /* level, forward of the stern: two places of the keel's underside, */
    double base_height_m[2]; /* above the level, through which the base line runs */
    double within_m;         /* 95 % of every length read; NAN: 10 mm */
    size_t n;
    const TapeStation *station; /* any order */
    size_t diagonals;
    const TapeDiagonal *diagonal;
} TapeSurvey;

enum { TAPE_RAIL = -1, TAPE_KEEL = -2 };

typedef struct {
    size_t station;
    int reading;          /* as given, from 0; TAPE_RAIL, TAPE_KEEL */
    double x_m, y_m, z_m; /* where it lies in the boat; y is the half-breadth. It is */
    double plain_x_m, plain_y_m, plain_z_m; /* ... were string and boat level, and */
    double slope_x_m, slope_z_m;            /* ... the slope of the string added, */
    double list_y_m, list_z_m;              /* ... the list, */
    double trim_x_m, trim_y_m, trim_z_m;    /* ... the trim */
    double moved_y_m, moved_z_m;            /* afterwards, by moving it to the station's x */
    double share; /* of the variance of the volume that the readings cause */
    bool suspect;
    double out_m;        /* from the middle forecast, + outward or up; NAN: not judged */
    double named_from_m; /* a smaller error would not be noticed here; NAN: not judged */
} TapeStep;

typedef struct {
    const char *fault;
    size_t fault_station;
    Shape *shape;
    size_t steps;
    TapeStep *step; /* station by station as given: rail, readings, keel */
    size_t suspects;
    double list_rad, trim_rad;
    bool list_assumed;               /* nothing says how she leans: upright, +- 1 deg */
    double half_breadth_m, height_m; /* spread of the points of shape */
    double volume_m3, spread_m3;     /* of the whole hull up to the deck edge */
    double readings_m3;              /* of that spread: by the readings, */
    double between_m3;               /* ... by what runs between stations (straight or smooth), */
    double chords_m3;                /* ... by what bulges between readings of one station */
    size_t pairs;                    /* places taken on both sides */
    double asymmetry_m, asymmetry_most_m; /* port over starboard half-breadth: mean, and greatest
                                           * distance of one point; NAN without pairs */
    double diagonal_most_m; /* greatest difference of a diagonal from what the stations say; NAN */
    double skew_m;          /* port rail ahead of starboard, from mirrored diagonals; NAN */
} Tape;

Validity tape_solve(const TapeSurvey *survey, Tape *tape);
void tape_free(Tape *tape);

/* Volume below z_m (upright, keel level) and its spread, m3. */
Validity tape_volume(const TapeSurvey *survey, double z_m, double *volume_m3, double *spread_m3);

extern const Method tape_method;
