/* What every report is told besides the result: how to write it, and what was asked for. */
#pragma once

#include <stdbool.h>

#include "result/result.h"
#include "result/study/doubt.h"
#include "result/study/remedy.h"
#include "result/work/forecast.h"

typedef struct {
    bool colour; /* the reader's terminal takes it */
    UnitsChoice units;
    int width; /* columns; 0: 80 */
} Style;

typedef struct {
    const char *text, *ask; /* ask: whom, or NULL */
} CautionText;

typedef struct {
    size_t n_options;
    const char *const *options; /* ids, in the order given */
    const char *situation;      /* only this one, or NULL */
    Date today;                 /* year 0: not given */
    /* All checks there are (solve_checks): tells what is not built from what did not apply. 0: only
     * those of the result. */
    size_t n_checks;
    const CheckInfo *const *check;
    /* Text of a caution by id (catalog_caution); false when there is none. NULL: findings' cautions
     * are left out. */
    bool (*caution)(const void *context, const char *id, CautionText *out);
    const void *context;
    const Remedies *remedies;     /* of the same boat; NULL: not asked for */
    const Doubt *doubt;           /* likewise */
    const WorkForecast *forecast; /* likewise */
} Asked;
