/* Inside the hull form: which numbers there are, and the stations that follow from them. */
#pragma once

#include "physics/shape/form.h"

enum {
    N_LENGTH,
    N_BEAM,
    N_DEPTH = N_BEAM + FORM_PLACES,
    N_STERN_RAKE = N_DEPTH + FORM_PLACES,
    N_STEM_RAKE,
    N_BOTTOM_AFT,
    N_BOTTOM_FORE,
    N_FOREFOOT,
    N_RUN,
    N_KEEL,
    N_DEADRISE,
    N_BILGE,
    N_ENTRANCE, /* exponent e of the lines of breadth forward */
    N_TAIL,     /* and aft, of a pointed stern */
    N_CORNER,   /* c: breadth at the corner over breadth at the deck, mid */
    N_NARROWING,
    N_CHINE_RISE,
    N_ROCKER, /* p */
    N_TUCK,   /* share of bottom_aft by which the corner rises to a transom */
    N_ALL
};

enum { FORM_STATIONS_MOST = 15 };

/* Fills every number; the one called moved is shifted by by after it is found, and what follows
 * from it moves along. moved = N_ALL: none. NULL, or why the numbers contradict each other. */
const char *form_numbers(const FormGiven *given, size_t moved, double by, FormNumber number[]);

/* Places of the stations as shares of the length, closer at the ends and one at each corner of the
 * keel line; returns how many. */
size_t form_places(const FormGiven *given, const FormNumber number[],
                   double frac[FORM_STATIONS_MOST]);

Shape *form_shape(const FormGiven *given, const FormNumber number[], size_t n, const double frac[]);
