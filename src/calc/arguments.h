/* Inputs of a calculator as typed, turned into numbers in SI, words, lists and tables.
 *
 *     name=value;name=value     or one name=value an argument
 *     value: 4.5 m   fresh   [1 m, 2 m], one member also as 1 m   @table.csv (header cells column/unit, or column for words and pure numbers)
 *
 * Words in any case. Nothing is half-read: one error says what was wrong, with the nearest right spelling. */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "calc/calculator.h"

/* Tables are looked for relative to folder; folder NULL: none may be read. */
CalcArguments *arguments_parse(const Calculator *calculator, const char *text, const char *folder,
                               GError **error);
CalcArguments *arguments_parse_each(const Calculator *calculator, size_t n,
                                    const char *const argument[], const char *folder,
                                    GError **error);
void arguments_free(CalcArguments *arguments);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(CalcArguments, arguments_free)

/* For run(). The name must be one of the calculator's inputs of that kind: anything else is a fault in our code. */
bool argument_has(
    const CalcArguments *in,
    const char *
        name); /* whether the calculator has such an input at all: for helpers that several share */
bool argument_given(const CalcArguments *in,
                    const char *name); /* false when left out without a standard */
double argument_number(const CalcArguments *in, const char *name); /* NAN when not given */
size_t argument_choice(const CalcArguments *in,
                       const char *name); /* index into the input's words */
const char *argument_word(const CalcArguments *in, const char *name);
const char *argument_text(const CalcArguments *in,
                          const char *name); /* as typed, NULL when not given */
const double *argument_list(const CalcArguments *in, const char *name, size_t *n);
size_t argument_rows(const CalcArguments *in, const char *table); /* 0 when not given */
const double *argument_column(const CalcArguments *in, const char *table, const char *column);
const size_t *argument_column_choice(const CalcArguments *in, const char *table,
                                     const char *column);
const char *const *argument_column_text(const CalcArguments *in, const char *table,
                                        const char *column);

#define CALC_ERROR calc_error_quark()
GQuark calc_error_quark(void);
