/* Numbers and symbols of a formula as MathML; used by formula_math alone. */
#pragma once

#include "base/markup.h"
#include "report/formula.h"

void write_number_math(const Term *number, Markup *out);
/* A name with its index, raised where an exponent is given (write_exponent writes it), else NULL. */
void write_symbol_math(const Term *name, void (*write_exponent)(const Term *exponent, Markup *out),
                       const Term *exponent, Markup *out);
