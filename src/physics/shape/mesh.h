/* Triangles from a scan or a drawing program: STL (text, binary), OBJ, PLY (text, binary, either end
 * first), read from memory.
 *
 * Corners with the same three numbers become one vertex; polygons are cut into fans; triangles
 * with two corners in one place are dropped and counted. Lengths stay in the unit of the file: mesh_pose finds unit
 * and axes.
 *
 * Given    data[size], any bytes
 * Gives    a mesh to be freed with mesh_free, or NULL with fault->why (and line of a text, 0 else);
 *          nothing half-read
 * Checked  tests/physics/test_mesh.c; tests/fuzz/fuzz_mesh.c */
#pragma once

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Hard limits; memory stays below some 400 MB for two million triangles. */
enum {
    MESH_BYTES_MOST = 512 * 1024 * 1024,
    MESH_TRIANGLES_MOST = 4000000,
    MESH_VERTICES_MOST = 6000000,
    MESH_POLYGON_MOST = 1000, /* corners of one face */
    MESH_PIECES_MOST = 100000,
    MESH_SHELLS_TOLD = 32
};

typedef enum {
    MESH_STL_TEXT,
    MESH_STL_BINARY,
    MESH_OBJ,
    MESH_PLY_TEXT,
    MESH_PLY_BINARY
} MeshFormat;

typedef struct {
    MeshFormat format;
    size_t vertices, triangles;
    double *vertex;   /* [3 * vertices] */
    uint32_t *corner; /* [3 * triangles], indices of vertices */
    size_t dropped;   /* triangles with two corners in one place */
} Mesh;

typedef struct {
    const char *why;
    size_t line;
} MeshFault;

Mesh *mesh_parse(const void *data, size_t size, MeshFault *fault);
void mesh_free(Mesh *mesh);

/* Pieces that share no vertex. */
typedef struct {
    size_t triangles, open_edges;
    double low[3], high[3]; /* box, unit of the file */
    double area, volume;    /* holes closed by fans; >= 0 */
    bool inside_out;        /* most normals showed inward; they have been turned */
    bool kept;              /* belongs to the hull; the caller may decide otherwise */
    const char *because;
} MeshShell;

/* A hole, or the open deck. */
typedef struct {
    size_t first, n; /* of MeshLook.rim */
    double length;
    size_t shell; /* >= told: of none that is told */
} MeshHole;

typedef struct {
    size_t shells; /* all there are; the largest of them in shell[] */
    size_t told;
    MeshShell shell[MESH_SHELLS_TOLD];
    uint32_t *shell_of; /* [triangles], index of shell[] or >= told */
    size_t open_edges;  /* with one triangle */
    size_t many_edges;  /* with more than two */
    size_t turned;      /* triangles that faced the other way than their neighbours */
    size_t holes, rims;
    MeshHole *hole;
    uint32_t *rim; /* vertices of all holes */
} MeshLook;

/* Finds the pieces, makes normals agree and show outward (corners are swapped in mesh), follows the
 * rims of holes. False with fault->why when it falls into more than 100 000 pieces: its triangles were
 * never joined. Free with mesh_look_free. */
bool mesh_look(Mesh *mesh, MeshLook *look, MeshFault *fault);
void mesh_look_free(MeshLook *look);
