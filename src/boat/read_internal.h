/* Reading the merged tree into records: what its parts share. */
#pragma once

#include "boat/boat_internal.h"

typedef enum { AXIS_ALONG, AXIS_ACROSS, AXIS_HEIGHT } Axis;

/* A place as typed: metres from a mark, or from stern, centreline or base line. */
typedef struct {
    Quantity offset; /* never negative */
    double sign;
    char *mark; /* owned; NULL: none */
} PlaceText;

typedef enum { PLACE_FRESH, PLACE_ACTIVE, PLACE_DONE, PLACE_FAILED } Progress;

/* A place that waits for its mark. */
typedef struct {
    double *value;
    FieldState *state; /* NULL: an end of a range, or of a row */
    Range *range;      /* the range whose basis and spread it shares, or NULL */
    double offset, typed_spread;
    Basis basis;
    char *mark;
    Axis axis;
    const Field *field;
    const Node *node;
    Progress progress;
} MarkedPlace;

typedef struct {
    const Node *node;
    const char *id, *refers_to;
} WaitingReference;

typedef struct {
    Boat *boat;
    Diagnostics *notes;
    const char *text; /* of the file, for what stands behind a value */
    gsize length;
    bool patch;          /* an option's changes, read for its slips only */
    unsigned near_left;  /* how many more nearest spellings are looked for: a hostile file has many
                            slips */
    GArray *places;      /* MarkedPlace */
    GArray *references;  /* WaitingReference */
    GHashTable *waiting; /* FieldState -> MarkedPlace, while places are resolved */
} Reader;

void reader_error(Reader *r, const Node *node, const char *format, ...) G_GNUC_PRINTF(3, 4);
void reader_warn(Reader *r, const Node *node, const char *format, ...) G_GNUC_PRINTF(3, 4);
/* "; did you mean `x`?" or "". */
char *reader_nearest(Reader *r, const char *word, GPtrArray *words);

bool id_is_good(const char *id);

/* Reads the sections below `root` into the reader's boat. */
void read_sections(Reader *r, const Node *root);
void read_field(Reader *r, Record *record, const Field *field, const Node *node);
/* Fields that need the rest of the boat: marks, references, defaults by waters, the rules of a
 * station. */
void read_finish(Reader *r);

/* Each sets *problem (g_free) and returns false on text it cannot take. */
bool words_flag(const char *text, Flag *flag, char **problem);
bool words_date(const char *text, Date *date, char **problem);
bool words_time(const char *text, double *second, char **problem);
bool words_position(const char *text, EarthPosition *position, char **problem);
bool words_density(const char *text, Quantity *density, char **problem);
bool words_wire(const char *text, Quantity *area, char **problem);
bool words_share_of_day(const char *text, Quantity *share, char **problem);
bool words_any(const char *text, Quantity *value, QuantityKind *kind, char **problem);

bool place_parse(const char *text, Axis axis, PlaceText *place, char **problem);
Axis field_axis(const Field *field);
void read_place(Reader *r, const Field *field, const Node *node, void *member, FieldState *state);
void read_place_range(Reader *r, const Field *field, const Node *node, Range *range,
                      FieldState *state);
/* One end of a range, or the place of a row. */
void wait_for_mark(Reader *r, const PlaceText *place, MarkedPlace waiting);
void places_resolve(Reader *r);

void read_rows(Reader *r, const Record *record, const Field *field, const Node *node, Rows *rows,
               FieldState *state);
void read_list(Reader *r, const Field *field, const Node *node, List *list, FieldState *state);
void read_map(Reader *r, const Field *field, const Node *node, Map *map, FieldState *state);

void references_resolve(Reader *r);
void rules_apply(Reader *r);
void rules_of_work(Reader *r);
bool within_bounds(Reader *r, const Field *field, const Node *node, double value);
void warn_hash(Reader *r, const Field *field, const Node *node);

/* The tree with the named options merged in; what is wrong goes to notes. */
Node *option_merge(const Document *document, size_t n, const char *const options[],
                   Diagnostics *notes);
/* Removals of nothing in an option that is not chosen. */
void option_check(const Document *document, const Node *option, Diagnostics *notes);
/* Marks a tree as coming from an option. */
void option_mark(Node *node, const char *option);
/* The changes of an option, or NULL. */
const Node *option_changes(const Document *document, const char *id);
