/* What a calculator found: validity, and values by output name in the order they were set.
 * Invariant: when refused there is no value but what was set after results_refuse_but, and no value is NAN or infinite. */
#pragma once

#include <glib.h>

#include "base/validity.h"
#include "calc/calculator.h"

typedef struct {
    const Output *output;
    char *index;      /* "0", a word, or NULL */
    double value;     /* SI */
    const char *word; /* of a word output, else NULL */
} CalcValue;

CalcResults *results_new(const Calculator *calculator);
void results_free(CalcResults *results);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(CalcResults, results_free)

/* For run(). Names must be the calculator's outputs. A value that is not finite is left out. */
void results_set(CalcResults *results, const char *name, double value);
void results_set_at(CalcResults *results, const char *name, size_t index, double value);
void results_set_of(CalcResults *results, const char *name, const char *index, double value);
void results_word(CalcResults *results, const char *name, const char *word);
void results_word_at(CalcResults *results, const char *name, size_t index, const char *word);
void results_word_of(CalcResults *results, const char *name, const char *index, const char *word);
void results_limit(CalcResults *results,
                   Validity validity); /* the worse of this and what was said before */
void results_refuse(CalcResults *results, const char *reason); /* a sentence */
/* Refused, yet what is set from here on still holds: the limit that was passed, for one. */
void results_refuse_but(CalcResults *results, const char *reason);

/* The input itself is wrong, such as a row that lacks what its kind needs: the run gives an error instead of results. */
void results_error(CalcResults *results, const char *what);

/* After run(). */
const char *results_error_said(const CalcResults *results); /* or NULL */
const Calculator *results_calculator(const CalcResults *results);
Validity results_validity(const CalcResults *results);
const char *results_reason(const CalcResults *results); /* why refused, or NULL */
size_t results_count(const CalcResults *results);
const CalcValue *results_value(const CalcResults *results, size_t i);
/* By "name", "name[0]" or "name[word]" (any case); NULL when not given. */
const CalcValue *results_find(const CalcResults *results, const char *address);

/* The output "figures": "memory" as soon as one of the figures behind a result was not seen in its source. */
#define OUT_FIGURES OUT_WORD("figures", figures_words)
extern const char *const figures_words[];
void results_figures(CalcResults *results, Standing worst);
