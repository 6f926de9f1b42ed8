/* Plans side by side: what an option changes against the base plan, at both stages. Plain data; made by study/compare, freed
 * by comparison_free. */
#pragma once

#include "result/finding.h"

typedef struct {
    const char *name, *label; /* of a governing answer */
    QuantityKind kind;
    double value, spread;
    double base;        /* of the base plan at the same stage; NAN when it has none */
    double diff_spread; /* of the difference: what both plans share cancels */
    bool differs;       /* beyond it */
} PlanAnswer;

typedef struct {
    const char *item, *name; /* id and words */
    double kilos;            /* more than in the base plan */
    double x_m, y_m, z_m;    /* where it is (or was) */
} PlanMass;

typedef struct {
    const char *option, *why; /* NULL: the base plan */
    Stage stage;
    const char *fault; /* why it could not be solved, or NULL */
    size_t n_answers;
    const PlanAnswer *answer;
    size_t n_gained,
        n_lost; /* ids of findings that are worse, or better, than in the base plan at the stage */
    const char *const *gained, *const *lost;
    size_t level[LEVEL_FINE +
                 1]; /* how many findings of each, as the check counts them (result_count) */
    double kilos, x_m, y_m,
        z_m; /* what it weighs more, and the centre of that; the centre NAN when next to nothing */
    size_t n_masses;
    const PlanMass *mass; /* heaviest change first */
    size_t holes_below;   /* openings under water with nobody aboard */
    double money;         /* of what is to be fitted; NAN when not one price is known */
    size_t n_unpriced;    /* how many of those things have none */
} Plan;

typedef struct {
    size_t n;
    const Plan *plan;     /* base now, base done, then each option likewise */
    const char *currency; /* of the base plan, or NULL */
    size_t solves;
    void *owner;
} Comparison;
