/* Formulas of the plain notation as MathML Core. */
#pragma once

#include <stdbool.h>

#include "base/markup.h"

typedef enum {
    MATH_INLINE, /* in a line of text */
    MATH_BLOCK,  /* on a line of its own */
    MATH_BROKEN /* a long one: a <math> for each term of a side, so that lines can break between them */
} MathShape;

/* One <math> for each equation of the text, or more; "= a * b" is taken too. false: it is no formula, and stands there as the
 * text that it is. */
bool write_formula_math(const char *formula, MathShape shape, Markup *out);
/* Columns of the widest piece that MATH_BROKEN leaves whole, roughly; of the text when it is no formula. */
int formula_math_columns(const char *formula);
