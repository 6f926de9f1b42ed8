/* The unit system and the lock that guards it. Inside base only. */
#pragma once

#include <glib.h>
#include <stdbool.h>
#include <udunits2.h>

#include "base/kind.h"

typedef struct Units {
    ut_system *plain, *strict;
    GHashTable *known;         /* word -> ut_unit * of strict */
    GPtrArray *words;          /* const char *: in the order of the table */
    ut_unit *kinds[Q_N_KINDS]; /* SI unit of each kind, strict */
} Units;

/* The system, held until units_unlock. */
const Units *units_lock(void);
void units_unlock(void);

/* Both of the strict system; the lock is held. */
bool units_same_dimension(const ut_unit *a, const ut_unit *b);

/* The first kind of the dimension, or -1. */
int units_kind(const Units *units, const ut_unit *strict);
