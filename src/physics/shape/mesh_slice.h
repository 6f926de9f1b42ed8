/* Stations from a mesh: sliced across, halves averaged, corners kept.
 *
 * Where a plane across the boat cuts triangles lie short lines; they are joined by the edges they
 * share, then over gaps up to a tenth of beam and depth. The largest outline is the hull. It is
 * followed from the keel up both sides to the deck edge: where it turns inboard nearly level (flatter
 * than 1 : 3) over more than 4 % of the half beam, and stays inboard. The halves are averaged by
 * girth. Corners (15 deg within 3 % of the girth) that run through at least six stations of ten
 * become knuckles with names; between them every station has as many points by girth.
 *
 * Given    mesh looked at, pose; stations 5 to 201 (0: 41), points 5 to 200 (0: 40)
 * Gives    MeshHull; free with mesh_hull_free
 * Returns  VALID; EXTRAPOLATED when a station is missing or patched, one side is missing, the halves
 *          differ by more than 2 % of the beam, or the stations hold 1 % more or less than the mesh;
 *          REFUSED with fault
 * Source   divergence theorem and Green's theorem; D. Douglas and T. Peucker 1973 for the corners;
 *          the rules for gaps, deck edge and corners are judgement of this project
 * Checked  tests/physics/test_mesh.c */
#pragma once

#include "base/source.h"
#include "base/validity.h"

#include "physics/shape/mesh_pose.h"
#include "physics/shape/shape.h"

typedef struct {
    double x_m;
    double area_m2;    /* of the whole outline, deck, coaming and house included */
    double half_m2[2]; /* port, starboard, up to the deck edge; NAN: not there */
    double apart_m;    /* root mean square distance of the halves; NAN */
    size_t pieces;     /* outlines beside the hull's: not counted in the station */
    size_t gaps;       /* holes bridged */
    double widest_gap_m;
    bool missing; /* no outline here: no station; at an end the outermost point stands for it */
} MeshSection;

typedef struct {
    const char *fault;
    Shape *shape;
    size_t sections;
    MeshSection *section;
    size_t knuckles; /* named "knuckle-1" ... from the keel */
    double
        mesh_m3; /* volume by the divergence theorem; the open deck closed athwart, holes by fans */
    double volume_m3;     /* of the stations, up to the deck edge */
    double above_deck_m3; /* what the mesh holds above it: camber, coaming, house */
    double within_m;      /* root mean square distance of the halves from their mean, 95 % */
    double asymmetry_m;   /* the same at the worst station */
} MeshHull;

Validity mesh_hull(const Mesh *mesh, const MeshLook *look, const MeshPose *pose, size_t stations,
                   size_t points, MeshHull *hull);
void mesh_hull_free(MeshHull *hull);

/* Volume of what is kept, in the boat's axes, m3. */
double mesh_volume_m3(const Mesh *mesh, const MeshLook *look, const MeshPose *pose);

extern const Method mesh_volume_method, mesh_section_method;
