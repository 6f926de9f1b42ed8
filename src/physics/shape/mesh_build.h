/* Inside the readers: a mesh that grows, and text that is read by tokens. */
#pragma once

#include "physics/shape/mesh.h"

typedef struct {
    Mesh *mesh;
    MeshFault *fault;
    size_t room_vertices, room_triangles;
    uint32_t *slot; /* vertex + 1 by hash; 0: free */
    size_t slots;
} MeshBuild;

bool mesh_build_begin(MeshBuild *build, MeshFormat format, MeshFault *fault);
/* Frees what building needed; the mesh, or NULL after a fault. */
Mesh *mesh_build_end(MeshBuild *build, bool good);

/* Index of the vertex at p; false at a limit or when p is not a finite number below 1e9. */
bool mesh_build_vertex(MeshBuild *build, const double p[3], uint32_t *index);
bool mesh_build_triangle(MeshBuild *build, uint32_t a, uint32_t b, uint32_t c);
bool mesh_build_fault(MeshBuild *build, const char *why);

/* What is left of a text; no byte behind end is ever looked at. */
typedef struct {
    const char *at, *end;
    size_t line;
} MeshText;

/* Next word on this line, its length; 0 at the end of the line. */
size_t mesh_text_word(MeshText *text, const char **word);
/* To the start of the next line; false at the end of the text. */
bool mesh_text_line(MeshText *text);
/* Next word of any line. */
size_t mesh_text_any(MeshText *text, const char **word);
bool mesh_text_is(const char *word, size_t n, const char *expected);
/* A decimal number that uses up the word. */
bool mesh_text_number(const char *word, size_t n, double *value);
bool mesh_text_integer(const char *word, size_t n, long long *value);

Mesh *mesh_stl_parse(const char *data, size_t size, MeshFault *fault);
bool mesh_stl_is_binary(const char *data, size_t size);
Mesh *mesh_obj_parse(const char *data, size_t size, MeshFault *fault);
Mesh *mesh_ply_parse(const char *data, size_t size, MeshFault *fault);
