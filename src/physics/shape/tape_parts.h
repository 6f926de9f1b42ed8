/* Inside the tape: poses, sections, and what is found from them. */
#pragma once

#include "physics/shape/tape.h"

typedef struct {
    double x_m, y_m, z_m; /* y: half-breadth of its own side */
} TapePoint;

/* How string and boat lie; the working switches them on one after the other. */
typedef struct {
    double list_rad, trim_rad, base_m; /* base line above the level abreast of the stern */
    bool slopes, list_assumed;
} TapePose;

TapePose tape_pose(const TapeSurvey *survey);

/* Level distance forward of the stern. */
double tape_level_x_m(const TapeSurvey *survey, const TapePose *pose, const TapeStation *station);
double tape_rail_height_m(const TapeSurvey *survey, const TapePose *pose,
                          const TapeStation *station);

/* Underside of the keel above the level: as taken, or straight between the places where it was. */
double tape_keel_height_m(const TapeSurvey *survey, const TapePose *pose,
                          const TapeStation *station);

/* Points of one station, keel to rail: station->n + 2 of them; step n + 1 - i is point i. */
void tape_points(const TapeSurvey *survey, const TapePose *pose, const TapeStation *station,
                 TapePoint point[]);

/* One side of one place, or the mean of both. */
typedef struct {
    double x_m;
    size_t n;
    TapePoint *point; /* keel to rail */
    StationPoint *station_point;
    size_t source[2]; /* stations as given */
    size_t sources;
} TapeSection;

typedef struct {
    size_t n, pairs;
    TapeSection *section; /* aft to forward */
    TapePoint *point;     /* of all stations as given */
    size_t *start;        /* [survey->n + 1] of each station's points there */
    double difference_sum, difference_most;
    size_t differences;
} TapeSections;

/* side 0 or 1: that side alone; 2: both, places taken twice averaged. */
TapeSections tape_sections(const TapeSurvey *survey, const TapePose *pose, int side);
void tape_sections_free(TapeSections *sections);

/* Every point at its section's x, moved along the lines of the loft. */
Shape *tape_shape(const TapeSections *sections);

/* Loft of the sections as they are, at their mean x. */
Loft *tape_loft(const TapeSections *sections);

/* Column of the loft that holds point i of section s. */
size_t tape_column(const Loft *loft, size_t s, double y_m, double z_m);

void tape_judge(const TapeSurvey *survey, const TapePose *pose, Tape *tape);
void tape_spreads(const TapeSurvey *survey, double z_m, Tape *tape);
void tape_compare(const TapeSurvey *survey, const TapePose *pose, Tape *tape);

double tape_within_m(const TapeSurvey *survey);

/* Nearest place of a polyline to (y, z): segment, share along it, and the distance, positive on its
 * outer side (to the right hand from keel to deck edge). */
typedef struct {
    size_t segment;
    double share, out_m;
} TapeNearest;
TapeNearest tape_nearest(size_t n, const double y[], const double z[], double y_m, double z_m);
