/* A unit read on behalf of a quantity, so that the sentence about it can name the number. Inside
 * base only. */
#pragma once

#include <stdbool.h>

#include "base/kind.h"
#include "base/unit.h"

typedef struct {
    const char *si;     /* what it must convert to */
    int kind;           /* a QuantityKind, or -1: any kind with that SI unit */
    const char *number; /* as typed in front of the unit, or NULL */
} UnitAsked;

bool unit_read(const char *text, const UnitAsked *asked, Unit *unit, char **problem);

/* "a length, such as 4.5 m": what is expected, g_free. */
char *unit_expected(const UnitAsked *asked);

/* Whether numbers of this kind bear no unit. */
bool unit_not_due(const UnitAsked *asked);
