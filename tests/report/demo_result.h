/* A result made by hand: one finding of each level, one under another's cause, answers with and without record and situation,
 * a working of every kind of step. Invented boat. */
#pragma once

#include "report/report.h"

typedef struct {
    Boat *boat;
    Result *result;
    const CheckInfo *check[3];
    Asked asked;
} Demo;

/* hostile: the boat's texts would break a terminal, JSON and markup. */
Demo *demo_new(bool hostile);
void demo_free(Demo *demo);
