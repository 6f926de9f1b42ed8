/* The text of a unit taken apart into words and put together again in one plain form. Inside base
 * only. */
#pragma once

#include <glib.h>
#include <stdbool.h>

typedef struct {
    char *plain;      /* what udunits reads: words, exponents, / and blanks for products */
    GPtrArray *words; /* char *: in order */
} UnitText;

void unit_text_clear(UnitText *text);

/* The caller clears the result. false and *problem when the text cannot be a unit whatever its
 * words mean. */
bool unit_text_read(const char *typed, UnitText *text, char **problem);

/* The same unit with a blank after every exponent and brackets round all that follows the first
 * stroke (W/m2K -> W/(m2 K)), or NULL when that changes nothing. */
char *unit_text_bracketed(const char *typed);

/* What a word with two meanings may mean, or NULL. */
const char *unit_text_question(const char *word);
