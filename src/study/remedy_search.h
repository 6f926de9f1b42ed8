/* How far levers must be moved: bracketing on the whole solve. */
#pragma once

#include "study/knob.h"
#include "study/remedies.h"

typedef struct {
    const SolveInput *solve;
    const char *finding;
    const char *cause; /* the finding that explains it and must go too, or NULL */
    bool alone;        /* its discipline needs no other to be solved */
    double lacks_now;  /* remedy_lacks of the base; NAN when it has no number */
    const StudyHow *how;
    gint *solves; /* counted */
} Search;

/* Levers moved together, each to the same share of its greatest amount. boat has all of their fields. Returns the amounts
 * (whole steps) in amount[n]; false when not even the greatest clear it, or it was cancelled. */
bool search_amounts(const Search *search, const Boat *boat, size_t n, const Knob knob[],
                    double amount[]);
/* How remedy_lacks changes when a knob is moved by a small amount, per unit of the amount; 0 when it does not. */
double search_slope(const Search *search, const Boat *boat, const Knob *knob);
