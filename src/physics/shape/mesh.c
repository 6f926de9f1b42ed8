/* A mesh that grows while it is read. Invariant: every index of a corner is below the number of
 * vertices, and no two vertices have the same place. */
#include "physics/shape/mesh_build.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "physics/shape/shape.h"

static const double farthest = 1e9;

static void *
resized(void *old, size_t n, size_t size)
{
    void *p = realloc(old, (n > 0 ? n : 1) * size);
    if (p == NULL)
        abort();
    return p;
}

bool
mesh_build_fault(MeshBuild *build, const char *why)
{
    if (build->fault->why == NULL)
        build->fault->why = why;
    return false;
}

bool
mesh_build_begin(MeshBuild *build, MeshFormat format, MeshFault *fault)
{
    *build = (MeshBuild){.fault = fault};
    *fault = (MeshFault){0};
    build->mesh = shape_reserve(1, sizeof *build->mesh);
    build->mesh->format = format;
    build->slots = 1024;
    build->slot = shape_reserve(build->slots, sizeof *build->slot);
    return true;
}

Mesh *
mesh_build_end(MeshBuild *build, bool good)
{
    Mesh *mesh = build->mesh;
    free(build->slot);
    if (good && mesh->triangles == 0)
        good = mesh_build_fault(build, "there is no triangle in it");
    if (!good) {
        mesh_free(mesh);
        return NULL;
    }
    mesh->vertex = resized(mesh->vertex, 3 * mesh->vertices, sizeof *mesh->vertex);
    mesh->corner = resized(mesh->corner, 3 * mesh->triangles, sizeof *mesh->corner);
    return mesh;
}

void
mesh_free(Mesh *mesh)
{
    if (mesh != NULL) {
        free(mesh->vertex);
        free(mesh->corner);
    }
    free(mesh);
}

/* Finaliser of MurmurHash3 (A. Appleby, public domain) over the three numbers. */
static uint64_t
hash_of(const double p[3])
{
    uint64_t bits[3], h = 0x9e3779b97f4a7c15ULL;
    memcpy(bits, p, sizeof bits);
    for (int k = 0; k < 3; k++) {
        h ^= bits[k];
        h ^= h >> 33;
        h *= 0xff51afd7ed558ccdULL;
        h ^= h >> 33;
        h *= 0xc4ceb9fe1a85ec53ULL;
    }
    return h ^ (h >> 33);
}

static void
rehash(MeshBuild *build, size_t slots)
{
    free(build->slot);
    build->slots = slots;
    build->slot = shape_reserve(slots, sizeof *build->slot);
    for (size_t i = 0; i < build->mesh->vertices; i++) {
        size_t at = hash_of(build->mesh->vertex + 3 * i) & (slots - 1);
        while (build->slot[at] != 0)
            at = (at + 1) & (slots - 1);
        build->slot[at] = (uint32_t) i + 1;
    }
}

bool
mesh_build_vertex(MeshBuild *build, const double p[3], uint32_t *index)
{
    Mesh *mesh = build->mesh;
    double place[3];
    for (int k = 0; k < 3; k++) {
        if (!(fabs(p[k]) < farthest))
            return mesh_build_fault(build, "a place is not a number below 1e9");
        place[k] = p[k] + 0.0; /* -0 and 0 are one place */
    }
    size_t at = hash_of(place) & (build->slots - 1);
    for (; build->slot[at] != 0; at = (at + 1) & (build->slots - 1)) {
        const double *v = mesh->vertex + 3 * (size_t) (build->slot[at] - 1);
        if (v[0] == place[0] && v[1] == place[1] && v[2] == place[2]) {
            *index = build->slot[at] - 1;
            return true;
        }
    }
    if (mesh->vertices >= MESH_VERTICES_MOST)
        return mesh_build_fault(build, "it has more than 6 million different corners");
    if (mesh->vertices == build->room_vertices) {
        build->room_vertices = build->room_vertices + build->room_vertices / 2 + 512;
        mesh->vertex = resized(mesh->vertex, 3 * build->room_vertices, sizeof *mesh->vertex);
    }
    memcpy(mesh->vertex + 3 * mesh->vertices, place, sizeof place);
    *index = (uint32_t) mesh->vertices++;
    build->slot[at] = *index + 1;
    if (2 * mesh->vertices > build->slots)
        rehash(build, 2 * build->slots);
    return true;
}

/* A sliver of three corners in a line stays: it joins what lies on its long side. */
bool
mesh_build_triangle(MeshBuild *build, uint32_t a, uint32_t b, uint32_t c)
{
    Mesh *mesh = build->mesh;
    if (a == b || b == c || c == a) {
        mesh->dropped++;
        return true;
    }
    if (mesh->triangles >= MESH_TRIANGLES_MOST)
        return mesh_build_fault(build, "it has more than 4 million triangles");
    if (mesh->triangles == build->room_triangles) {
        build->room_triangles = build->room_triangles + build->room_triangles / 2 + 512;
        mesh->corner = resized(mesh->corner, 3 * build->room_triangles, sizeof *mesh->corner);
    }
    uint32_t *corner = mesh->corner + 3 * mesh->triangles++;
    corner[0] = a;
    corner[1] = b;
    corner[2] = c;
    return true;
}

static bool
starts_with_word(const char *data, size_t size, const char *word)
{
    size_t n = strlen(word);
    return size > n && memcmp(data, word, n) == 0 &&
           (data[n] == '\n' || data[n] == '\r' || data[n] == ' ');
}

Mesh *
mesh_parse(const void *data, size_t size, MeshFault *fault)
{
    const char *text = data;
    *fault = (MeshFault){0};
    if (size > MESH_BYTES_MOST) {
        fault->why = "it is larger than 512 MiB";
        return NULL;
    }
    if (size < 15) {
        fault->why = "it is too short to hold a triangle";
        return NULL;
    }
    if (starts_with_word(text, size, "ply"))
        return mesh_ply_parse(text, size, fault);
    if (mesh_stl_is_binary(text, size) || starts_with_word(text, size, "solid"))
        return mesh_stl_parse(text, size, fault);
    return mesh_obj_parse(text, size, fault);
}
