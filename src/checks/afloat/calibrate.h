/* What the water says she weighs: freeboards or draughts read on a day, against the list of what was aboard then.
 *
 * A reading weighs what was aboard on its date. Where it is surer than the list, it takes the list's place: the boat as she
 * lay then becomes one mass, what has gone since is taken off it and what has come is added, each with its own spread. */
#pragma once

#include "checks/afloat/afloat.h"
#include "physics/afloat/floating_survey.h"
#include "physics/afloat/inclining.h"
#include "physics/afloat/survey_fit.h"

struct Survey {
    const Record *record;
    const char *situation; /* id, or NULL: tanks and people of the day were not noted */
    size_t n;
    FreeboardReading *reading;
    ReadingFit *fit_of;
    size_t left_out; /* the reading that was left out as a blunder; n when none */
    size_t too_high; /* a freeboard above her whole side: no water is that low; n when none */
    Validity validity;
    SurveyFit fit;
    FloatingSurvey water;
    double density_kg_per_m3;
    GArray *then;   /* Mass: all that was aboard on the day, liquids and people too */
    LedgerSum list; /* their sum */
    bool used;      /* surer than the list */
    Mass weighed;   /* the boat of the day without liquids and people, as the water weighed her */
    double unexplained_kg, unexplained_spread_kg, unexplained_x_m, unexplained_y_m;
};

Survey *survey_new(const Afloat *afloat, const Record *record);
void survey_free(Survey *survey);

/* The surveys of the file, and the one that is used (the latest that is surer than the list), or NULL. */
void afloat_survey(Afloat *afloat);

/* What was aboard on the day of a measurement (Mass): the items alone, or with liquids and people. */
GArray *list_of_day(const Afloat *afloat, const Record *measured, bool loaded);
/* The boat as she lay on that day, the water's weight counted. */
Case *case_of_day(const Afloat *afloat, const Record *measured);

typedef struct {
    const Record *record;
    size_t n;
    double *moment_kgm, *deflection_m; /* port + */
    double moment_spread_frac;
    Case *day; /* how she lay, weights as known before the test */
    Validity validity;
    Inclining found;
    bool used; /* surer of the height of her weight than the list: taken */
} HeelTest;

HeelTest *heel_test_new(const Afloat *afloat, const Record *record);
void heel_test_free(HeelTest *test);
/* The heel tests of the file; after the surveys. */
void afloat_heel_tests(Afloat *afloat);

/* Masses of a list of items, the surveyed boat in place of what it weighed; a copy of the list when no survey is used. */
GArray *calibrated(const Afloat *afloat, const GArray *list);
