/* What the parts of the typed boat share. */
#pragma once

#include "boat/boat.h"
#include "boat/model.h"

enum { MAX_SECTIONS = 64 };

/* Text, trees and strings: never written once the boat is read, so copies share them. Counted. */
typedef struct {
    Document *base, *merged; /* merged points at keys of base */
    GStringChunk *strings;
    const char **option_ids;
    size_t n_options;
} BoatText;

struct Boat {
    BoatText *shared;
    GPtrArray *records; /* owned, in the order of reading; a parent before what belongs to it */
    GPtrArray *of_section[MAX_SECTIONS]; /* by place in boat_sections */
    GHashTable *by_path;
    GPtrArray *blocks; /* arrays behind rows, maps and lists */
};

Boat *boat_new(BoatText *shared);
Record *boat_add_record(Boat *boat, const Section *section, const char *id, const char *path,
                        Record *parent);
const char *boat_string(Boat *boat, const char *text);
void *boat_block(Boat *boat, size_t n, size_t size);
size_t section_index(const Section *section);

/* Fills a record with what its table says when nothing is written. */
void field_default(const Field *field, void *data, FieldState *state);

static inline void *
field_member(const Field *field, void *data)
{
    return (char *) data + field->offset;
}
