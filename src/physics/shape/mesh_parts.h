/* Inside the mesh: what its parts tell each other. */
#pragma once

#include "physics/shape/mesh.h"

enum { MESH_NONE = UINT32_MAX, MESH_MANY = UINT32_MAX - 1 };

/* Half edge h runs from corner h to the next corner of its triangle h / 3. */
typedef struct {
    Mesh *mesh;
    MeshLook *look;
    uint32_t *twin; /* of a half edge: the one on the other side, NONE, or MANY */
    uint32_t *flip; /* bit set: this triangle is to be turned */
} MeshWork;

static inline bool
mesh_is_flipped(const MeshWork *w, size_t triangle)
{
    return (w->flip[triangle / 32] >> (triangle % 32) & 1U) != 0;
}

static inline const double *
mesh_at(const Mesh *mesh, uint32_t vertex)
{
    return mesh->vertex + 3 * (size_t) vertex;
}

/* Pieces, their measures, which is the hull; turns triangles so that each piece faces outward. False
 * when there are too many. */
bool mesh_shells(MeshWork *work);

/* Points spread evenly over the kept surface, each standing for the same area. */
typedef struct {
    double place[3], normal[3];
} MeshSample;

typedef struct {
    size_t n;
    MeshSample *sample;
    double area;         /* of all */
    unsigned char *kept; /* [vertices]: belongs to the kept surface */
} MeshSamples;

MeshSamples mesh_samples(const Mesh *mesh, const MeshLook *look);
void mesh_samples_free(MeshSamples *samples);

/* Box of the kept surface along the rows of axes. */
void mesh_box(const Mesh *mesh, const MeshSamples *samples, double axes[3][3], double low[3],
              double high[3]);

static inline bool
mesh_is_kept(const MeshLook *look, size_t triangle)
{
    return look->shell_of[triangle] < look->told && look->shell[look->shell_of[triangle]].kept;
}
