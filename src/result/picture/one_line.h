/* Every conductor from source to load as one line. */
#pragma once

#include "result/picture/parts.h"

#define NO_NODE ((size_t) -1)

typedef enum {
    NODE_BOARD,
    NODE_BATTERY,
    NODE_SHORE,
    NODE_GENERATOR,
    NODE_ALTERNATOR,
    NODE_SOLAR,
    NODE_CHARGER,
    NODE_INVERTER,
    NODE_CONVERTER, /* of one direct voltage to another; nominal_V is what it gives */
    NODE_STARTER,
    NODE_MOTOR,
    NODE_LAMP,
    NODE_HEATER,
    NODE_OTHER_LOAD,
    NODE_UNKNOWN /* an end of which the file says nothing */
} NodeKind;

typedef enum { GUARD_UNSAID, GUARD_NONE, GUARD_FUSE, GUARD_BREAKER } GuardKind;

typedef struct {
    GuardKind kind;
    double rating_A; /* NAN: not known */
    char curve;      /* of a breaker: 'B', 'C', 'D'; 0: not known */
} Guard;

typedef struct { /* an item, a board, or a source that is no item */
    const char *path, *name;
    NodeKind kind;
    bool source;       /* something feeds from here */
    double nominal_V;  /* NAN: not known */
    ItemChange change; /* of the item, at the end of the refit */
    bool missing;      /* not aboard at the stage that is drawn */
    Guard guard;       /* a board's own; GUARD_UNSAID: none is written */
} OneLineNode;

typedef enum { CONDUCTORS_PAIR, CONDUCTORS_POSITIVE, CONDUCTORS_NEGATIVE } Conductors;

typedef struct
{ /* a circuit; or a board bolted to what feeds it: path is then the board's and bolted is set */
    const char *path, *name;
    size_t from, to; /* nodes */
    bool bolted;
    Conductors conductors;
    Guard guard;
    double area_m2, length_m;
    double current_A, drop_V; /* in its worst situation, or in the one asked for; NAN: not known */
    double lost_frac;  /* lost on the way to its end over what is allowed there; NAN: not known */
    double load_frac;  /* current over what the conductor may carry; NAN: not known */
    const char *label; /* at both its ends, as the papers have it; NULL: it bears none */
    const char *size;  /* as it was written, where that is a gauge: "8 AWG"; NULL: show area_m2 */
} OneLineLink;

typedef struct {
    const char *caption;
    size_t nodes, links;
    const OneLineNode *node;
    const OneLineLink *link;
} OneLinePicture;
