/* Units as people type them, on a udunits2 unit system of our own made in code (rad is
 * dimensionless, rev = 2 pi rad, % = 0.01; the kind says which of the pure numbers it takes).
 *
 * Thread safe: one mutex guards the parser; a Unit is a plain value. */
#pragma once

#include <stdbool.h>

#include "base/kind.h"

typedef struct {
    double factor; /* SI = factor * number + offset */
    double offset; /* 0 but for temperatures; differences use the factor alone */
} Unit;

/* Reads a unit of one kind. On failure returns false and sets *problem to a sentence that says what
 * was expected and, where there is one, the right spelling (caller frees with g_free).
 * Ambiguous spellings (gal, ton, oz, nm, NM, a, M, bare C and F) are refused with the question. */
bool unit_parse(const char *text, QuantityKind kind, Unit *unit, char **problem);

/* Reads a unit that must convert to the given SI unit text (calculator contracts: "kg m/m"). */
bool unit_parse_as(const char *text, const char *si, Unit *unit, char **problem);

/* Whether the text is any unit we know at all. */
bool unit_known(const char *text);

/* Numbers in the unit to SI and back; a difference (spread, tolerance) leaves the offset out. */
double unit_si(const Unit *unit, double number);
double unit_si_difference(const Unit *unit, double number);
double unit_number(const Unit *unit, double si);
double unit_number_difference(const Unit *unit, double si);
