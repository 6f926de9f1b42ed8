/* OBJ: v and f; everything else is passed over. Invariant: a face names only vertices that stand
 * before it. */
#include "physics/shape/mesh_build.h"

#include <stdlib.h>
#include <string.h>

#include "physics/shape/shape.h"

typedef struct {
    MeshBuild build;
    MeshText text;
    uint32_t *vertex; /* of the file to ours */
    size_t n, room;
} Obj;

static bool
fault_here(Obj *obj, const char *why)
{
    if (obj->build.fault->line == 0)
        obj->build.fault->line = obj->text.line;
    return mesh_build_fault(&obj->build, why);
}

static bool
read_vertex(Obj *obj)
{
    double p[3];
    const char *word;
    for (size_t j = 0; j < 3; j++) {
        size_t n = mesh_text_word(&obj->text, &word);
        if (!mesh_text_number(word, n, &p[j]))
            return fault_here(obj, "a vertex is not three numbers");
    }
    if (obj->n == obj->room) {
        if (obj->n >= (size_t) 2 * MESH_VERTICES_MOST)
            return fault_here(obj, "it has more than 12 million vertices");
        obj->room = obj->room + obj->room / 2 + 512;
        obj->vertex = realloc(obj->vertex, obj->room * sizeof *obj->vertex);
        if (obj->vertex == NULL)
            abort();
    }
    if (!mesh_build_vertex(&obj->build, p, &obj->vertex[obj->n]))
        return fault_here(obj, NULL);
    obj->n++;
    return true;
}

/* "7", "7/1", "7//3", "-1": only the first number counts here. */
static bool
read_corner(Obj *obj, const char *word, size_t n, uint32_t *corner)
{
    const char *slash = memchr(word, '/', n);
    long long index;
    if (!mesh_text_integer(word, slash != NULL ? (size_t) (slash - word) : n, &index))
        return fault_here(obj, "a face is not made of numbers");
    if (index < 0)
        index += (long long) obj->n + 1;
    if (index < 1 || index > (long long) obj->n)
        return fault_here(obj, "a face names a vertex that is not there");
    *corner = obj->vertex[index - 1];
    return true;
}

static bool
read_face(Obj *obj)
{
    uint32_t first = 0, last = 0, corner = 0;
    size_t corners = 0;
    for (;;) {
        const char *word;
        size_t n = mesh_text_word(&obj->text, &word);
        if (n == 0)
            break;
        if (n == 1 && *word == '\\') { /* the face goes on in the next line */
            mesh_text_line(&obj->text);
            continue;
        }
        if (!read_corner(obj, word, n, &corner))
            return false;
        if (++corners > MESH_POLYGON_MOST)
            return fault_here(obj, "a face has more than 1000 corners");
        if (corners > 2 && !mesh_build_triangle(&obj->build, first, last, corner))
            return fault_here(obj, NULL);
        if (corners == 1)
            first = corner;
        last = corner;
    }
    return corners > 2 || fault_here(obj, "a face has fewer than three corners");
}

/* Words that may begin a line of this form; a text of others is no OBJ. */
static bool
is_known(const char *word, size_t n)
{
    static const char *const known[] = {
        "vn",   "vt",   "vp",     "g",     "o",    "s",     "usemtl", "mtllib", "l",
        "p",    "mg",   "cstype", "deg",   "curv", "surf",  "end",    "parm",   "trim",
        "hole", "scrv", "sp",     "bevel", "lod",  "curv2", "step",   "con",    "bmat"};
    if (*word == '#')
        return true;
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++)
        if (mesh_text_is(word, n, known[i]))
            return true;
    return false;
}

Mesh *
mesh_obj_parse(const char *data, size_t size, MeshFault *fault)
{
    Obj obj = {.text = {data, data + size, 1}};
    mesh_build_begin(&obj.build, MESH_OBJ, fault);
    bool good = true, more = true;
    while (good && more) {
        const char *word;
        size_t n = mesh_text_word(&obj.text, &word);
        if (mesh_text_is(word, n, "v"))
            good = read_vertex(&obj);
        else if (mesh_text_is(word, n, "f"))
            good = read_face(&obj);
        else if (n > 0 && !is_known(word, n))
            good = fault_here(&obj, "this is neither STL nor OBJ nor PLY");
        more = mesh_text_line(&obj.text);
    }
    free(obj.vertex);
    return mesh_build_end(&obj.build, good);
}
