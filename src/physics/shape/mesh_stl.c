/* STL, text and binary. Invariant: a binary file is read only when its length holds the triangles it
 * says it has. */
#include "physics/shape/mesh_build.h"

#include <string.h>

enum { HEAD = 80, RECORD = 50 };

static uint32_t
little(const char *p)
{
    const unsigned char *b = (const unsigned char *) p;
    return (uint32_t) b[0] | (uint32_t) b[1] << 8 | (uint32_t) b[2] << 16 | (uint32_t) b[3] << 24;
}

static double
little_float(const char *p)
{
    uint32_t bits = little(p);
    float value;
    memcpy(&value, &bits, sizeof value);
    return value;
}

/* A text may be named "solid" in the binary form too, so its length decides; some writers add a few
 * bytes. A file that is cut off is binary when it is no text. */
bool
mesh_stl_is_binary(const char *data, size_t size)
{
    if (size < HEAD + 4)
        return false;
    uint64_t needed = HEAD + 4 + (uint64_t) RECORD * little(data + HEAD);
    bool solid = memcmp(data, "solid", 5) == 0;
    if (solid)
        return needed == size;
    return (needed <= size && size - needed < 1024 && little(data + HEAD) > 0) ||
           memchr(data, '\0', HEAD) != NULL;
}

static Mesh *
parse_binary(const char *data, size_t size, MeshFault *fault)
{
    MeshBuild build;
    mesh_build_begin(&build, MESH_STL_BINARY, fault);
    size_t n = little(data + HEAD);
    bool good = true;
    if (n > MESH_TRIANGLES_MOST)
        good = mesh_build_fault(&build, "it says it has more than 4 million triangles");
    else if (size < HEAD + 4 + RECORD * n)
        good = mesh_build_fault(&build, "it ends before all the triangles it says it has");
    const char *record = data + HEAD + 4;
    for (size_t i = 0; good && i < n; i++, record += RECORD) {
        uint32_t corner[3];
        for (size_t k = 0; good && k < 3; k++) {
            double p[3];
            for (size_t j = 0; j < 3; j++)
                p[j] = little_float(record + 12 * (k + 1) + 4 * j);
            good = mesh_build_vertex(&build, p, &corner[k]);
        }
        good = good && mesh_build_triangle(&build, corner[0], corner[1], corner[2]);
    }
    return mesh_build_end(&build, good);
}

static bool
expect(MeshBuild *build, MeshText *text, const char *word)
{
    const char *found;
    size_t n = mesh_text_any(text, &found);
    if (mesh_text_is(found, n, word))
        return true;
    build->fault->line = text->line;
    return mesh_build_fault(build, n == 0 ? "the text ends within a facet"
                                          : "a facet is not written as STL asks");
}

static bool
parse_facet(MeshBuild *build, MeshText *text)
{
    uint32_t corner[3];
    const char *word;
    mesh_text_line(text); /* the normal follows from the corners */
    if (!expect(build, text, "outer") || !expect(build, text, "loop"))
        return false;
    for (size_t k = 0; k < 3; k++) {
        double p[3];
        if (!expect(build, text, "vertex"))
            return false;
        for (size_t j = 0; j < 3; j++) {
            size_t n = mesh_text_word(text, &word);
            if (!mesh_text_number(word, n, &p[j])) {
                build->fault->line = text->line;
                return mesh_build_fault(build, "a vertex is not three numbers");
            }
        }
        if (!mesh_build_vertex(build, p, &corner[k])) {
            build->fault->line = text->line;
            return false;
        }
    }
    return expect(build, text, "endloop") && expect(build, text, "endfacet") &&
           mesh_build_triangle(build, corner[0], corner[1], corner[2]);
}

static Mesh *
parse_text(const char *data, size_t size, MeshFault *fault)
{
    MeshBuild build;
    mesh_build_begin(&build, MESH_STL_TEXT, fault);
    MeshText text = {data, data + size, 1};
    bool good = true;
    for (;;) {
        const char *word;
        size_t n = mesh_text_any(&text, &word);
        if (n == 0 || !good)
            break;
        if (mesh_text_is(word, n, "facet")) {
            good = parse_facet(&build, &text);
        } else if (mesh_text_is(word, n, "solid") || mesh_text_is(word, n, "endsolid")) {
            mesh_text_line(&text); /* a name may follow */
        } else {
            fault->line = text.line;
            good = mesh_build_fault(&build, "a word stands here that STL does not know");
        }
    }
    return mesh_build_end(&build, good);
}

Mesh *
mesh_stl_parse(const char *data, size_t size, MeshFault *fault)
{
    return mesh_stl_is_binary(data, size) ? parse_binary(data, size, fault)
                                          : parse_text(data, size, fault);
}
