/* PLY, text and binary of either order. Invariant: no count of the head is believed before the bytes
 * behind it are there. */
#include "physics/shape/mesh_build.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "physics/shape/shape.h"

enum { ELEMENTS = 8, PROPERTIES = 64 };

typedef enum { I8, U8, I16, U16, I32, U32, F32, F64, NO_TYPE } Type;

static const struct {
    const char *name, *other;
    size_t size;
} types[] = {
    [I8] = {"char", "int8", 1},      [U8] = {"uchar", "uint8", 1},    [I16] = {"short", "int16", 2},
    [U16] = {"ushort", "uint16", 2}, [I32] = {"int", "int32", 4},     [U32] = {"uint", "uint32", 4},
    [F32] = {"float", "float32", 4}, [F64] = {"double", "float64", 8}};

typedef enum { OTHER, X, Y, Z, CORNERS } Meaning;

typedef struct {
    Type type, count; /* count NO_TYPE: a single value */
    Meaning meaning;
} Property;

typedef struct {
    bool is_vertex, is_face;
    uint64_t n;
    size_t properties;
    Property property[PROPERTIES];
} Element;

typedef struct {
    MeshBuild build;
    MeshText text;
    bool binary, big;
    size_t elements;
    Element element[ELEMENTS];
    uint32_t *vertex;
    size_t vertices;
} Ply;

static bool
fault_here(Ply *ply, const char *why)
{
    if (!ply->binary && ply->build.fault->line == 0)
        ply->build.fault->line = ply->text.line;
    return mesh_build_fault(&ply->build, why);
}

static Type
type_named(const char *word, size_t n)
{
    for (Type t = I8; t < NO_TYPE; t++)
        if (mesh_text_is(word, n, types[t].name) || mesh_text_is(word, n, types[t].other))
            return t;
    return NO_TYPE;
}

static bool
read_element(Ply *ply)
{
    const char *name, *count;
    size_t n = mesh_text_word(&ply->text, &name), m = mesh_text_word(&ply->text, &count);
    long long number;
    if (ply->elements == ELEMENTS)
        return fault_here(ply, "it has more than 8 kinds of elements");
    if (!mesh_text_integer(count, m, &number) || number < 0)
        return fault_here(ply, "an element has no count");
    Element *e = &ply->element[ply->elements++];
    *e = (Element){.is_vertex = mesh_text_is(name, n, "vertex"),
                   .is_face = mesh_text_is(name, n, "face"),
                   .n = (uint64_t) number};
    if (e->is_vertex && number > 2 * (long long) MESH_VERTICES_MOST)
        return fault_here(ply, "it says it has more than 12 million vertices");
    if (e->is_face && number > MESH_TRIANGLES_MOST)
        return fault_here(ply, "it says it has more than 4 million faces");
    return true;
}

static Meaning
meaning_of(const Element *e, bool list, const char *word, size_t n)
{
    if (e->is_vertex && !list && n == 1 && *word >= 'x' && *word <= 'z')
        return *word == 'x' ? X : *word == 'y' ? Y : Z;
    if (e->is_face && list &&
        (mesh_text_is(word, n, "vertex_indices") || mesh_text_is(word, n, "vertex_index")))
        return CORNERS;
    return OTHER;
}

static bool
read_property(Ply *ply)
{
    const char *word;
    size_t n = mesh_text_word(&ply->text, &word);
    Property p = {NO_TYPE, NO_TYPE, OTHER};
    if (ply->elements == 0)
        return fault_here(ply, "a property stands before any element");
    Element *e = &ply->element[ply->elements - 1];
    if (e->properties == PROPERTIES)
        return fault_here(ply, "an element has more than 64 properties");
    bool list = mesh_text_is(word, n, "list");
    if (list) {
        n = mesh_text_word(&ply->text, &word);
        p.count = type_named(word, n);
        if (p.count >= F32)
            return fault_here(ply, "a list is not counted by whole numbers");
        n = mesh_text_word(&ply->text, &word);
    }
    p.type = type_named(word, n);
    if (p.type == NO_TYPE)
        return fault_here(ply, "a property has a type that is not known");
    n = mesh_text_word(&ply->text, &word);
    p.meaning = meaning_of(e, list, word, n);
    e->property[e->properties++] = p;
    return true;
}

static bool
read_format(Ply *ply)
{
    const char *word;
    size_t n = mesh_text_word(&ply->text, &word);
    ply->big = mesh_text_is(word, n, "binary_big_endian");
    ply->binary = ply->big || mesh_text_is(word, n, "binary_little_endian");
    if (!ply->binary && !mesh_text_is(word, n, "ascii"))
        return fault_here(ply, "the format is neither ascii nor binary");
    ply->build.mesh->format = ply->binary ? MESH_PLY_BINARY : MESH_PLY_TEXT;
    return true;
}

/* Faces can only be read when the vertices stand before them and have places. */
static bool
head_serves(Ply *ply)
{
    unsigned found = 0;
    bool faces = false, before = true;
    for (size_t i = 0; i < ply->elements; i++) {
        const Element *e = &ply->element[i];
        if (e->is_vertex && ply->vertex != NULL)
            return fault_here(ply, "it has two lists of vertices");
        if (e->is_vertex) {
            ply->vertex = shape_reserve(1, sizeof *ply->vertex);
            before = !faces;
        }
        for (size_t k = 0; k < e->properties; k++) {
            found |= 1U << e->property[k].meaning;
            faces = faces || e->property[k].meaning == CORNERS;
        }
    }
    if ((found & (1U << X | 1U << Y | 1U << Z)) != (1U << X | 1U << Y | 1U << Z))
        return fault_here(ply, "the vertices have no x, y and z");
    if (!faces)
        return fault_here(ply, "it has no faces, only points");
    return before || fault_here(ply, "the faces stand before the vertices");
}

static bool
read_head(Ply *ply)
{
    bool format = false;
    while (mesh_text_line(&ply->text)) {
        const char *word;
        size_t n = mesh_text_word(&ply->text, &word);
        bool good = true;
        if (mesh_text_is(word, n, "end_header")) {
            mesh_text_line(&ply->text);
            if (!format)
                return fault_here(ply, "it does not say its format");
            return head_serves(ply);
        }
        if (mesh_text_is(word, n, "format")) {
            good = read_format(ply);
            ply->binary = ply->binary && good;
            format = true;
        } else if (mesh_text_is(word, n, "element"))
            good = read_element(ply);
        else if (mesh_text_is(word, n, "property"))
            good = read_property(ply);
        else if (n > 0 && !mesh_text_is(word, n, "comment") && !mesh_text_is(word, n, "obj_info"))
            good = fault_here(ply, "the head has a line that PLY does not know");
        if (!good)
            return false;
    }
    return fault_here(ply, "the head does not end");
}

static bool
read_bytes(Ply *ply, Type type, double *value)
{
    size_t size = types[type].size;
    if ((size_t) (ply->text.end - ply->text.at) < size)
        return fault_here(ply, "it ends before all it says it has");
    uint64_t bits = 0;
    for (size_t k = 0; k < size; k++) {
        unsigned char byte = (unsigned char) ply->text.at[ply->big ? size - 1 - k : k];
        bits |= (uint64_t) byte << (8 * k);
    }
    ply->text.at += size;
    float single;
    uint32_t low = (uint32_t) bits;
    switch (type) {
    case I8:
        *value = (int8_t) bits;
        break;
    case I16:
        *value = (int16_t) bits;
        break;
    case I32:
        *value = (int32_t) low;
        break;
    case F32:
        memcpy(&single, &low, sizeof single);
        *value = single;
        break;
    case F64:
        memcpy(value, &bits, sizeof *value);
        break;
    default:
        *value = (double) bits;
    }
    return true;
}

static bool
read_value(Ply *ply, Type type, double *value)
{
    if (ply->binary)
        return read_bytes(ply, type, value);
    const char *word;
    size_t n = mesh_text_any(&ply->text, &word);
    if (n == 0)
        return fault_here(ply, "it ends before all it says it has");
    return mesh_text_number(word, n, value) || fault_here(ply, "here should stand a number");
}

static bool
read_corners(Ply *ply, const Property *p, double count)
{
    uint32_t first = 0, last = 0;
    if (!(count >= 3.0 && count <= MESH_POLYGON_MOST))
        return fault_here(ply, "a face has fewer than 3 or more than 1000 corners");
    for (size_t k = 0; k < (size_t) count; k++) {
        double index;
        if (!read_value(ply, p->type, &index))
            return false;
        if (!(index >= 0.0 && index < (double) ply->vertices) || index != floor(index))
            return fault_here(ply, "a face names a vertex that is not there");
        uint32_t corner = ply->vertex[(size_t) index];
        if (k > 1 && !mesh_build_triangle(&ply->build, first, last, corner))
            return false;
        if (k == 0)
            first = corner;
        last = corner;
    }
    return true;
}

static bool
read_item(Ply *ply, const Element *e)
{
    double place[3] = {0.0, 0.0, 0.0}, value = 0.0;
    for (size_t k = 0; k < e->properties; k++) {
        const Property *p = &e->property[k];
        double count = 1.0;
        if (p->count != NO_TYPE && !read_value(ply, p->count, &count))
            return false;
        if (p->meaning == CORNERS) {
            if (!read_corners(ply, p, count))
                return false;
            continue;
        }
        for (uint64_t i = 0; (double) i < count; i++)
            if (!read_value(ply, p->type, &value))
                return false;
        if (p->meaning >= X && p->meaning <= Z)
            place[p->meaning - X] = value;
    }
    if (!e->is_vertex)
        return true;
    return mesh_build_vertex(&ply->build, place, &ply->vertex[ply->vertices++]);
}

/* Every item takes at least one byte of what is left, or has nothing in it. */
static bool
read_items(Ply *ply, const Element *e)
{
    if (e->properties == 0)
        return true;
    if (e->n > (uint64_t) (ply->text.end - ply->text.at))
        return fault_here(ply, "it ends before all it says it has");
    if (e->is_vertex) {
        free(ply->vertex);
        ply->vertex = shape_reserve((size_t) e->n, sizeof *ply->vertex);
    }
    for (uint64_t i = 0; i < e->n; i++)
        if (!read_item(ply, e))
            return false;
    return true;
}

Mesh *
mesh_ply_parse(const char *data, size_t size, MeshFault *fault)
{
    Ply *ply = shape_reserve(1, sizeof *ply);
    ply->text = (MeshText){data, data + size, 1};
    mesh_build_begin(&ply->build, MESH_PLY_TEXT, fault);
    bool good = read_head(ply);
    for (size_t i = 0; good && i < ply->elements; i++)
        good = read_items(ply, &ply->element[i]);
    Mesh *mesh = mesh_build_end(&ply->build, good);
    free(ply->vertex);
    free(ply);
    return mesh;
}
