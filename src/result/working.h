/* The steps behind a value, as a worked example in a handbook would show them.
 *
 * A working grows from givens (typed, defaults, tables) by steps that apply a formula to symbols already there.
 * A formula is plain notation (+ - * / ^, named functions, sum(a * b) over lists); a value found by iteration states
 * the equations that hold at it. Every step carries unit, source and standing, and the least settled basis it rests on. */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "base/kind.h"
#include "base/quantity.h"
#include "base/source.h"
#include "base/validity.h"
#include "boat/boat.h"

typedef enum {
    STEP_GIVEN,  /* a number put in */
    STEP_EQUALS, /* symbol = expression of earlier symbols */
    STEP_FOUND /* found by iteration: expression is an equation "left = right" that holds (to rounding) */
} StepType;

typedef struct {
    StepType type;
    const char *symbol;     /* unique within the working: "GM", "m", "z" */
    const char *label;      /* "metacentric height" */
    const char *expression; /* EQUALS: right-hand side; FOUND: an equation; GIVEN: NULL */
    size_t n;               /* 1, or the length of a list */
    const double *value;    /* SI */
    QuantityKind kind;
    double spread; /* SI, 95 % */
    bool followed; /* its doubt stands in the spread of what is reckoned from it */
    Basis basis;
    Source source; /* text NULL: none of its own */
    Validity validity;
    const char *path;         /* boat-file path of a given, or NULL */
    const char *const *names; /* of a list: what each entry is, or NULL */
} Step;

typedef struct Working Working;

const char *working_title(const Working *working);
size_t working_steps(const Working *working);
const Step *working_step(const Working *working, size_t i);
const Step *working_find(const Working *working, const char *symbol);
const Step *working_last(const Working *working);
Basis working_basis(const Working *working);       /* the least settled of all givens */
Standing working_standing(const Working *working); /* the least trustworthy of all steps */
Validity working_validity(const Working *working); /* the worst of all steps */
/* First given that is unsettled (assumed or by eye) and whose doubt is in no spread; NULL when there is none. */
const Step *working_unfollowed(const Working *working);
/* What would narrow the result most: the boat-file path and what to do, or NULL. */
const char *working_settle_path(const Working *working);
const char *working_settle_text(const Working *working);

/* Building. All texts but the program's own are copied into the result that owns the working. A symbol used twice is a fault of ours. */
void working_from_boat(Working *w, const char *symbol, const Record *record, const char *key);
/* A given is followed when it carries a spread or is settled; working_followed_is says otherwise. */
void working_given(Working *w, const char *symbol, const char *label, double value,
                   QuantityKind kind, double spread, Basis basis, const Source *source);
void working_list(Working *w, const char *symbol, const char *label, size_t n, const double value[],
                  const char *const names[], QuantityKind kind, Basis basis, const Source *source);
/* Takes the expression from method->formula ("GM = KM - KG"); symbol must be its left-hand side. */
void working_equals(Working *w, const char *symbol, const char *label, double value,
                    QuantityKind kind, double spread, const Method *method);
/* The same with an expression of the caller's own. */
void working_reckon(Working *w, const char *symbol, const char *label, const char *expression,
                    double value, QuantityKind kind, double spread, const Source *source);
void working_found(Working *w, const char *symbol, const char *label, const char *equation,
                   double value, QuantityKind kind, double spread, const Source *source,
                   Validity validity);
void working_validity_is(Working *w, Validity validity); /* of the last step */
void working_followed_is(Working *w, bool followed);     /* of the last step */
void working_path_is(Working *w, const char *path);      /* of the last step */
void working_path_of(Working *w, const Record *record, const char *key);
void working_settles(Working *w, const char *path, const char *text);
