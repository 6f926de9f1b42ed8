/* Formulas evaluated apart from the code under test: a reader of the plain notation with a value made from each name, and a
 * reader of MathML that gives plain notation back. */
#pragma once

#include <glib.h>
#include <stdbool.h>

/* Sides of the first equation into side[2]; one alone gives side[1] NAN. false: it cannot be read. sum() is three halves of
 * what it holds, a function that is not known is made from its name. */
bool plain_evaluate(const char *formula, double side[2]);

/* Plain notation of all <math> in the markup, joined; NULL: not well formed, or an element outside the set that is enough
 * (docs of the page). */
char *plain_from_math(const char *markup);
/* Whether something in it stands as text. */
bool math_has_text(const char *markup);
