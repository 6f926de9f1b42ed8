/* Sentences, names and numbers in the owner's words, for every kind of report. All texts g_free. */
#pragma once

#include "report/report.h"

/* The finding's sentence, its placeholders filled. */
char *finding_sentence(const Result *result, const Finding *finding, UnitsChoice units);
/* "at least 0.30 m", "at most 7 deg" */
char *limit_words(const Finding *finding, UnitsChoice units);
/* "Height of opening above the water: engine vent, with everybody aft" */
char *answer_words(const Result *result, const Answer *answer);
/* What a path means: its `what`, else its id with blanks; "the boat" for "". */
char *path_words(const Result *result, const char *path);
/* "engine vent (openings.engine-vent)" */
char *path_named(const Result *result, const char *path);
/* "evening at the berth", "light", "everybody at one side" */
char *situation_words(const Result *result, const char *situation);
const char *stage_word(Stage stage);     /* "now", "done", "between" */
const char *stage_sentence(Stage stage); /* "as she lies now" */
/* "rests on guesses: mass of old engine (by-eye), ..."; NULL when nothing unsettled stands in the
 * working. */
char *guesses_words(const Working *working);
/* "Derrett 1999, p. 130 [read]"; NULL without a text */
char *source_words(const Source *source);
const char *boat_name(const Result *result);
/* Whether it is the governing one: discipline and name alone. */
bool answer_governs(const Answer *answer);
/* Owner's text with control characters made visible, fit for a terminal. */
char *text_clean(const char *text);
