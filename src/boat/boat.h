/* The typed boat: records of every section, each value with its basis, spread and place in the
 * text. */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "base/diagnostics.h"
#include "boat/document.h"
#include "boat/section.h"

typedef enum { ORIGIN_MISSING, ORIGIN_UNKNOWN, ORIGIN_DEFAULT, ORIGIN_TYPED } Origin;

typedef struct {
    Origin origin;
    Basis basis;       /* ASSUMED for defaults and catalogue */
    double spread;     /* SI, 95 %: typed, else the usual one of the basis, else the default's */
    bool spread_typed; /* a typed ± makes the value independent */
    const Node *node;  /* in the merged document, or NULL */
    const char *mark;  /* of a place: the mark it is measured from, or NULL */
} FieldState;

typedef struct Record Record;
struct Record {
    const Section *section;
    const char *id;    /* "heater"; the section's key for single sections and roles */
    const char *path;  /* "items.heater.tank" */
    void *data;        /* section->size bytes: the typed struct of model.h */
    FieldState *state; /* [section->n_fields] */
    Record *parent;    /* the item of a role, the hull of a station */
    GPtrArray *roles;  /* sub-records, or NULL */
    unsigned line;
    const char *option; /* option that added it, or NULL */
};

typedef enum { STAGE_NOW, STAGE_DONE, STAGE_BETWEEN } Stage;

typedef struct Boat Boat;

/* Reads a boat with the named options patched in. NULL with *error (BOAT_ERROR) when no boat could
 * be made; what is wrong in it is in notes, all at once: when diagnostics_errors(notes) > 0 the
 * boat must not be solved. */
Boat *boat_parse(const char *text, gsize length, size_t n_options, const char *const options[],
                 Diagnostics *notes, GError **error);
/* The same from a text that was parsed; the boat takes a share of it. */
Boat *boat_read(Document *document, size_t n_options, const char *const options[],
                Diagnostics *notes, GError **error);
Boat *boat_load(const char *path, size_t n_options, const char *const options[], Diagnostics *notes,
                GError **error);
void boat_free(Boat *boat);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Boat, boat_free)

/* Records of a section in the order of the file; n may be 0. Roles: all of that role. */
const Record *const *boat_records(const Boat *boat, const Section *section, size_t *n);
/* Never NULL: defaults when not written. */
const Record *boat_single(const Boat *boat, const Section *section);
/* A role is found by the id of the item that bears it: (&section_tank, "fresh"). */
const Record *boat_find(const Boat *boat, const Section *section, const char *id);
/* What a path such as "items.heater.mass" or "situations.cruise.tanks.fresh" names: the record and its field (here `mass`,
 * `tanks`); *field is NULL when it names the record itself. NULL when the boat has no such record or field. */
const Record *boat_at(const Boat *boat, const char *path, const Field **field);
const Record *record_role(const Record *item,
                          const Section *role); /* NULL when it has not that role */
const FieldState *record_state(const Record *record, const char *key);
double record_number(const Record *record, const char *key); /* NAN when missing */
/* What the owner calls it: its `what`, the `do` of a task, the `who` of a hand; NULL when he says nothing. */
const char *record_what(const Record *record);
/* Address of the double behind a numeric field, for moving it within its spread; else NULL. */
double *record_double(const Record *record, const Field *field);
size_t boat_options(const Boat *boat, const char *const **ids); /* ids of all options in the file */
const Document *boat_document(const Boat *boat);                /* merged tree */
Document *
boat_base(const Boat *boat); /* as the file has it, no option applied: to read her again */
/* Shares text and strings; numbers, rows and maps are its own. */
Boat *boat_copy(const Boat *boat);

/* The value of a limit read as one kind; false with *problem (g_free) when its unit is of another
 * one. */
bool limit_value(const Record *limit, QuantityKind kind, Quantity *out, char **problem);
bool situation_is_built_in(const char *id); /* light, people-side, people-aft */
/* The reference of the boat file, from the tables: of one section (NULL when there is none of that
 * name), or of all. g_free. */
char *fields_text(const char *section);
char *fields_markdown(void);

#define BOAT_ERROR boat_error_quark()
GQuark boat_error_quark(void);
