/* Trials on the quay: a weight or people moved, and how far points of her go up or down.
 *
 * The same reckoning serves a trial that is planned (study/trial_plan) and one whose result was typed into the boat file. */
#pragma once

#include "checks/afloat/afloat.h"
#include "checks/afloat/sensitivity.h"

typedef struct {
    double mass_kg, x_m, y_m, z_m;
} TrialLoad; /* mass 0: none */

typedef enum {
    READ_FREEBOARD, /* height of a point of the boat before anything is moved */
    READ_SINKS,     /* how far a point goes down */
    READ_RISES,
    READ_PLUMB /* how far a plumb line of length_m swings to the side of y_m */
} TrialRead;

typedef struct {
    TrialRead read;
    const char *label;
    double x_m, y_m, z_m;
    double length_m; /* of the plumb line */
} TrialPoint;

/* How she lies in a case with a load more. */
Attitude trial_rest(const Afloat *afloat, const Case *c, const TrialLoad *with,
                    double density_kg_per_m3, Rest *rest);
double trial_point_m(const TrialPoint *point, const Attitude *before, const Attitude *after);
typedef struct {
    TrialPoint point;
    double read_m, within_m; /* as typed, and how closely it was read; 95 % */
    double reckoned_m;
    Linear by; /* what the reckoned depends on, first order */
    double reckoned_spread_m;
} QuayReading;

typedef struct {
    const Record *record;
    GArray *then; /* Mass: the items aboard on the day */
    Case *day;
    TrialLoad before, after;
    const char *lacks; /* key of what was not typed or cannot be, or NULL */
    Rest first, second;
    double
        weight_frac; /* what weight and places leave open: a share of every reading alike, 95 % */
    size_t n;
    QuayReading *reading;
} QuayTrial;

void quay_trial_free(QuayTrial *trial);
/* The trials of the file; after the surveys. */
void afloat_quay_trials(Afloat *afloat);
/* Off by how many of what is allowed: the spreads of reading and reckoning together. */
double quay_reading_allowed_m(const QuayTrial *trial, const QuayReading *reading);
double quay_reading_off(const QuayTrial *trial, const QuayReading *reading);
