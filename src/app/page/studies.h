/* Studies that run while pages are read: one at a time, each on all cores, with progress, stopped when nobody wants it.
 *
 * What is finished is kept by what was looked at and dropped when newer ones need the room. */
#pragma once

#include "app/page/shown.h"
#include "result/study/compare.h"
#include "result/study/doubt.h"
#include "result/study/remedy.h"
#include "result/work/forecast.h"

typedef enum { STUDY_DOUBT, STUDY_REMEDIES, STUDY_COMPARE, STUDY_FORECAST, N_STUDIES } StudyKind;
const char *study_word(StudyKind kind); /* "doubt": of an address */
bool study_find(const char *word, StudyKind *kind);

typedef enum { STUDY_WAITS, STUDY_RUNS, STUDY_DONE, STUDY_STOPPED } StudyState;

typedef struct Studies Studies;

/* A study as it stood when it was asked for. */
typedef struct {
    StudyState state;
    size_t done, all; /* solves; all 0: not known yet */
    /* of STUDY_DONE, one of them; they live as long as the view */
    const Doubt *doubt;
    const Remedies *remedies;
    const Comparison *comparison;
    const WorkForecast *forecast;
    void *held;
} StudyView;
void study_view_clear(StudyView *view);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(StudyView, study_view_clear)

Studies *studies_new(size_t most);
void studies_free(Studies *studies); /* stops what runs and waits for it */
/* Its state; begins it when start is true and it is not there (or was stopped). about: of remedies, the finding, else NULL. */
StudyView studies_get(Studies *studies, const void *desk, Shown *shown, StudyKind kind,
                      const char *about, bool start);
/* How many forecasts have been reckoned so far. */
int studies_forecasts(const Studies *studies);
void studies_stop(Studies *studies, const void *desk, const Shown *shown, StudyKind kind,
                  const char *about);
