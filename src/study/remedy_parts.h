/* What the files that make Remedies share. */
#pragma once

#include "result/work/plan.h"
#include "study/remedy_search.h"

typedef struct { /* a remedy that was tried on the text; owns its texts */
    GStringChunk *texts;
    GArray *part, *edit, *move; /* RemedyPart, RemedyEdit, RemedyMove */
    GPtrArray *gained, *lost, *exchanged;
    Remedy remedy;
} Tried;

typedef struct {
    const char *finding; /* borrowed from the base result */
    const char *cause;   /* likewise: the finding that explains it and must go too, or NULL */
    size_t levers;
    GPtrArray *good, *rejected; /* Tried */
    const char *nothing;
} RemedyList;

typedef struct {
    const SolveInput *solve;
    const PlanText *text;
    const Result *base;
    const StudyHow *how;
    gint solves;
    size_t n_lists;
    RemedyList *list;
    char *ballast_path; /* items.ID of the first heap */
    size_t n_places;
    BallastPlace place[MOST_BALLAST_PLACES];
    Boat *ballasted
        [MOST_BALLAST_PLACES];   /* the boat with ballast there; NULL when it cannot be written */
    WorkPlan *plan;              /* NULL when no finding of the work is asked about */
    double chance_frac, p50_day; /* of the plan as it stands */
} RemedyWork;

void remedy_list_init(RemedyList *list, const Result *base, const Finding *finding);
void remedy_list_clear(RemedyList *list);

/* The boat with edits (Edit) made in her text; NULL when they cannot be. paths: where they went, or NULL. */
Boat *remedy_boat(const RemedyWork *work, const GArray *edits, GPtrArray *paths);

/* Makes the edits, solves, and adds to the list what clears: among the good, or among the rejected with its danger. */
void remedy_prove(RemedyWork *work, RemedyList *list, size_t n, const Knob knob[],
                  const double amount[]);
/* The words of every LEVER_CHOICE, in their order. */
void remedy_try_words(RemedyWork *work, RemedyList *list, const Finding *finding);

/* Solves the edited text; NULL when it does not clear the finding. */
Tried *remedy_try_edits(RemedyWork *work, const RemedyList *list, const GArray *edits);
/* Among the good, or the rejected with its danger. */
void remedy_add(RemedyList *list, Tried *tried);
const char *tried_keep(Tried *tried, const char *text);

/* A converter before the circuit of one device, and that made for the next usual voltage. */
void remedy_try_step_up(RemedyWork *work, RemedyList *list, const Finding *finding);
/* The typed numbers of a load as it is made for the next usual voltage, as edits. */
void remedy_step_load(const RemedyWork *work, const Record *load, GStringChunk *texts,
                      GArray *edits);
/* A bank and all that hangs on it, at the next usual voltage. */
void remedy_try_voltage(RemedyWork *work, RemedyList *list, const Finding *finding);

/* The plan as it stands, and its chance. */
void remedy_plan_begin(RemedyWork *work);
/* Days, hands, slots, tasks left out, ties: levers of the work. */
void remedy_try_plan(RemedyWork *work, RemedyList *list, const Finding *finding);
/* What it does to the chance, when it is of a finding of the work. */
void remedy_note_chance(const RemedyWork *work, const RemedyList *list, const Boat *boat,
                        Tried *tried);

Remedies *remedies_gather(RemedyWork *work);
