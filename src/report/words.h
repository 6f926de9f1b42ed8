/* Sentences, names and numbers in the owner's words, for every kind of report. All texts g_free. */
#pragma once

#include "report/report.h"

/* The finding's sentence, its placeholders filled. */
char *finding_sentence(const Result *result, const Finding *finding, UnitsChoice units);
/* "at least 0.30 m", "at most 7 deg" */
char *limit_words(const Finding *finding, UnitsChoice units);
/* How far the value is from the limit: "0.05 m to spare", "3 V too much"; NULL where either is not known. */
char *gap_words(const Finding *finding, UnitsChoice units);
/* "Height of opening above the water: engine vent, with everybody aft" */
char *answer_words(const Result *result, const Answer *answer);
/* The same without the situation. */
char *answer_label(const Result *result, const Answer *answer);
/* What a path means: its `what`, else its id with blanks; "the boat" for "". */
char *path_words(const Result *result, const char *path);
/* Why a revision was made, with its paths in words: "along of stove: 6.9 m -> 7 m". result may be NULL. */
char *reason_words(const Result *result, const char *reason);
/* "engine vent (openings.engine-vent)" */
char *path_named(const Result *result, const char *path);
/* "evening at the berth", "light", "everybody at one side" */
/* The id a finding's situation begins with: "people-side" of "people side, tanks full". g_free. */
char *situation_id(const char *situation);
char *situation_words(const Result *result, const char *situation);
/* A name that may be an id: "engine-beds" becomes "engine beds", other texts stay. */
char *name_words(const char *name);
/* A value with the digits that its spread supports; without one, three digits. NAN: "not known". */
char *value_words(double value, double spread, QuantityKind kind, UnitsChoice units);
/* The same with "± spread" behind it where there is one. */
char *value_spread_words(double value, double spread, QuantityKind kind, UnitsChoice units);
const char *stage_word(Stage stage);     /* "now", "done", "between" */
const char *stage_sentence(Stage stage); /* "as she lies now" */
/* with_paths: for a reader who can type them; a page has links instead.
 * "assumed; most of the doubt: mass of old engine (items.old-engine.mass)": the least settled basis,
 * and what would settle most. NULL without a working. */
char *sure_words(const Result *result, const Finding *finding, bool with_paths);
/* "weigh the old engine (items.old-engine.mass)"; NULL when nothing is named. */
char *settle_words(const Result *result, const Finding *finding, bool with_paths);
/* "mass of old engine (by-eye), ..."; NULL when nothing unsettled stands in the working. */
char *guesses_words(const Working *working);
/* "Derrett 1999, p. 130 [read]"; NULL without a text */
char *source_words(const Source *source);
const char *boat_name(const Result *result);
/* Behind the name of an invented boat; "" of any other. */
const char *demo_words(const Result *result);
/* Whether it is the governing one: discipline and name alone. */
bool answer_governs(const Answer *answer);
/* Owner's text with control characters made visible, fit for a terminal. */
char *text_clean(const char *text);
