/* Formulas evaluated apart from the code under test: a reader of the plain notation with a value made from each name, and a
 * reader of MathML that gives plain notation back. */
#pragma once

#include <glib.h>
#include <stdbool.h>

/* Sides of the first equation into side[2]; one alone gives side[1] NAN. false: it cannot be read. sum() is made from what
 * it holds, a function that is not known from its name too. */
bool plain_evaluate(const char *formula, double side[2]);

/* Plain notation of all <math> in the markup, joined, as the eye reads it: rows are nothing, silent products are blanks, a sum
 * sign reaches over all factors behind it. NULL: not well formed, or an element outside the set that is enough (reference of
 * the page). */
char *plain_from_math(const char *markup);
/* Whether something in it stands as text. */
bool math_has_text(const char *markup);
