/* Inside the slicing: outlines, halves. */
#pragma once

#include "physics/shape/mesh_parts.h"
#include "physics/shape/mesh_slice.h"

typedef struct {
    double y, z;
} Spot;

/* A line of spots; closed: the last is joined to the first. */
typedef struct {
    size_t n;
    Spot *spot;
    bool closed;
} Chain;

typedef struct {
    size_t n, gaps;
    Chain *chain;
    Spot *spots;
    double widest_gap, area; /* area: of all lines, by Green, open ones closed straight */
} Chains;

typedef struct {
    const Mesh *mesh;
    const MeshLook *look;
    double *place; /* [3 * vertices], in the boat */
    double gap_m, half_beam_m, depth_m;
} Placed;

/* Outlines at x of the given triangles; half: closed along the middle. False when they are cut more
 * than a million times. */
bool chains_cut(const Placed *placed, double x_m, size_t n, const uint32_t triangle[], bool half,
                Chains *chains);
void chains_free(Chains *chains);

/* One side of a section from keel to deck edge, y >= 0. */
typedef struct {
    size_t n;
    Spot *spot;
} Half;

typedef struct {
    Half side[2]; /* port, starboard; n 0: not there */
    size_t pieces;
} Halves;

bool halves_find(const Placed *placed, const Chains *chains, bool half, Halves *halves);
void halves_free(Halves *halves);

/* Mean of both sides, or the one there is; *apart: their root mean square distance, NAN. */
Half half_mean(const Halves *halves, double *apart_m);
double half_area_m2(const Half *half);
double half_girth_m(const Half *half);

/* Keeps what stands farther than near from the lines between what is kept (Douglas and Peucker). */
size_t spots_simplify(size_t n, const Spot spot[], double near, Spot out[]);

/* Stations of the halves [n] at x; halves of no spots are left out by the caller. */
Shape *halves_stations(size_t n, const double x_m[], const Half half[], size_t points,
                       size_t *knuckles);
