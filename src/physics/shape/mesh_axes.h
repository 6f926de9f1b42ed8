/* Inside the pose: which way is which. */
#pragma once

#include "physics/shape/mesh_parts.h"
#include "physics/shape/mesh_pose.h"

/* Sets turn, half, mirror_frac, forward, athwart, up, bow. */
void mesh_axes(const Mesh *mesh, const MeshLook *look, const MeshSamples *samples,
               const MeshHints *hints, MeshPose *pose);

/* Levels her by her mirror plane and her keel; sets origin, angles, base and the box. */
void mesh_base(const Mesh *mesh, const MeshSamples *samples, MeshPose *pose);

/* y = plane[0] + plane[1] x + plane[2] z, in the boat as posed: one step towards the plane over which
 * she mirrors. False when too little of her has a counterpart. */
bool mesh_mirror_plane(const MeshSamples *samples, const MeshPose *pose, double plane[3]);
