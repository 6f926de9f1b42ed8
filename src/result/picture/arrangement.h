/* Profile, plan and midship section to one scale, with the water line she lies at. */
#pragma once

#include "result/picture/parts.h"

typedef struct { /* a line along the hull: deck edge, keel, knuckle; drawn on both sides in plan */
    const char *name;
    enum { HULL_DECK_EDGE, HULL_BOTTOM, HULL_KNUCKLE } kind;
    size_t n;
    const double *x_m, *y_m, *z_m; /* [n], aft to forward, y >= 0 */
} HullLine;

typedef struct {
    const char *name; /* "aft", "amidships", "fore" */
    double x_m, draught_m, spread_m;
} DraughtMark;

typedef struct {
    const char *name;
    Spot deck;                    /* the deck edge there */
    double freeboard_m, spread_m; /* above the water at rest */
} FreeboardMark;

typedef struct { /* a place along the hull where it was measured */
    const char *path, *name;
    double x_m;
} StationMark;

typedef struct {
    const char *caption; /* one sentence: boat, stage, situation */
    const char *situation;
    size_t lines, sections;
    const HullLine *line;
    const HalfSection *section; /* the stations as measured, aft to forward */
    HalfSection midship;        /* at mid-length */
    Lie lie;                    /* origin_depth NAN: no water line is drawn */
    size_t houses, spaces, tanks, items, openings, draughts, freeboards, balls, stations;
    const Block *house, *space;
    const TankBlock *tank;
    const MassMark *item;
    const OpeningMark *opening;
    const DraughtMark *draught;
    const FreeboardMark *freeboard;
    const MassMark *ball; /* appendages: name and place only, mass NAN */
    const StationMark *station;
    Spot g, b, m; /* centre of gravity, of buoyancy, metacentre */
} ArrangementPicture;
