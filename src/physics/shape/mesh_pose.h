/* Unit and axes of a mesh: a proposal with its reasons, for the owner to confirm.
 *
 * The longest way is fore-and-aft, the side to side way is the one she mirrors over, up is where the
 * rim of an open deck lies or where more flat surface faces (deck over bottom), forward the finer
 * end. The unit is the one that makes her as long as she is said to be, or a likely length. The base
 * line follows the straight middle of her keel; where that is round, a boat drawn along the axes of
 * the file stays level if her lowest place is amidships.
 *
 * Given    mesh and look; hints, or NULL
 * Gives    MeshPose; boat axes: x forward from the stern, y to port, z up from the base line, metres
 * Returns  VALID when every reason is sure; EXTRAPOLATED when one is not: ask; REFUSED with fault
 * Source   judgement of this project
 * Checked  tests/physics/test_mesh.c: hulls turned every way, in five units */
#pragma once

#include "base/validity.h"

#include "physics/shape/mesh.h"

/* Axes of the file, with their sign: 1 x, 2 y, 3 z; -1 ...; 0 not known. */
typedef struct {
    double length_m; /* stated; NAN */
    double unit_m;   /* of one unit of the file; NAN */
    int up, forward;
} MeshHints;

typedef struct {
    const char *because;
    bool sure;
} MeshReason;

typedef struct {
    const char *fault;
    double unit_m;
    const char *unit;                   /* its word, or "by the stated length" */
    double turn[3][3];                  /* rows: boat's x, y, z in axes of the file */
    double origin[3];                   /* subtracted after unit and turn, m */
    bool askew;                         /* she does not lie along the axes of the file */
    bool half;                          /* only one side is there; the other is its mirror */
    double length_m, beam_m, depth_m;   /* of the box in boat axes */
    double trim_rad, roll_rad, yaw_rad; /* by which she was levelled beyond the axes of the file */
    double mirror_frac; /* surface that has no counterpart on the other side, 0 to 1 */
    MeshReason unit_reason, forward, athwart, up, base, bow;
} MeshPose;

Validity mesh_propose(const Mesh *mesh, const MeshLook *look, const MeshHints *hints,
                      MeshPose *pose);

/* Place of a point of the file in the boat, m. */
void mesh_place(const MeshPose *pose, const double file[3], double boat[3]);
