/* The words of the trade for units, as data. Inside base only. */
#pragma once

#include <stddef.h>

typedef struct {
    const char *words;    /* spellings of one unit, separated by blanks */
    const char *is;       /* in words of earlier rows; NULL: a base unit */
    const char *prefixes; /* those that the spellings bear, separated by blanks: "k m u" */
} UnitWords;

typedef struct {
    const char *typed, *stands_for; /* "US gal" -> "US_gal" */
} UnitPhrase;

typedef struct {
    const char *word, *question; /* spellings with two meanings */
} UnitQuestion;

typedef struct {
    const char *name, *number;
} UnitPrefix;

extern const UnitWords unit_words[];
extern const size_t n_unit_words;
extern const UnitPhrase unit_phrases[];
extern const size_t n_unit_phrases;
extern const UnitQuestion unit_questions[];
extern const size_t n_unit_questions;
extern const UnitPrefix unit_prefixes[];
extern const size_t n_unit_prefixes;
