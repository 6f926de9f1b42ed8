/* Boats for the tests of checks: read from text or from examples/, solved, and judged. */
#pragma once

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "checks/figures.h"
#include "checks/solve.h"

typedef struct {
    Boat *boat;
    Catalog *catalog;
    Result *result;
} Solved;

/* Fails the test when the text is no boat without errors. */
Boat *boat_of_text(const char *text);
Boat *boat_of_example(const char *name, const char *option); /* option NULL: base plan */
Solved solve_boat(Boat *boat, Stage stage);                  /* takes the boat */
void solved_clear(Solved *solved);

double answer(const Solved *solved, const char *name);        /* fails when there is none */
const Finding *finding(const Solved *solved, const char *id); /* fails when there is none */

typedef struct {
    Boat *boat;
    Catalog *catalog;
    Figure *figure; /* NULL: why_not */
    char *why_not;
} Drawn;

/* Takes the boat. record, situation NULL: the usual ones. */
Drawn draw_boat(Boat *boat, const char *picture, const char *record, const char *situation);
const void *drawn_data(const Drawn *drawn); /* fails when there is no picture */
void drawn_clear(Drawn *drawn);
