/* A lever that can be moved by an amount: a number of the file, or the mass of ballast at a place. */
#pragma once

#include "result/study/remedy.h"
#include "study/ballast.h"
#include "study/plan.h"

typedef struct {
    RemedyKind kind;  /* NUMBER, BALLAST, BULKHEAD or ANODE */
    const char *path; /* of the number; of ballast: items.ID */
    double sign;      /* which way */
    double most;      /* greatest amount */
    double step;      /* what a builder can hold to; amounts are whole steps */
    const Field *field;
    double from;
    const BallastPlace *place;
    const double *sizes; /* sizes it is sold in, rising; NULL: any */
    size_t n_sizes;
} Knob;

/* Of a lever LEVER_MORE or LEVER_LESS; false when the boat has no such number or no room is left. */
bool knob_of_number(const Boat *boat, const Lever *lever, bool more, Knob *knob);
/* Of LEVER_NEXT_SIZE_UP: the conductors of the catalogue. */
bool knob_of_size(const Boat *boat, const Catalog *catalog, const Lever *lever, Knob *knob);
/* Of LEVER_HEAVIER: the usual masses of its metal. */
bool knob_of_anode(const Boat *boat, const Catalog *catalog, const Lever *lever, Knob *knob);
/* Of LEVER_BULKHEAD: how much is cut off at the fore or the aft end of a space, and becomes a space of its own. False where she has
 * no such space from shell to shell, or it is too short. */
bool knob_of_bulkhead(const Boat *boat, const Lever *lever, bool fore, Knob *knob);
Knob knob_of_ballast(const BallastPlace *place, const char *item_path);

double knob_round(const Knob *knob, double amount); /* up to a whole step, never beyond the most */
/* Sets it on a copy of a boat that has the field (ballast: the item). */
void knob_set(const Knob *knob, Boat *copy, double amount);
/* Appends Edit with texts owned by the chunk. */
void knob_edits(const Knob *knob, const Boat *boat, Stage stage, double amount, GStringChunk *texts,
                GArray *edits);
RemedyPart knob_part(const Knob *knob, double amount);
