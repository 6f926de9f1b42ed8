/* Section tables: a section of the boat file described once. Reader, validator, forms, reference
 * and the moving of uncertain inputs walk these tables and name no section themselves. */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "base/date.h"
#include "base/kind.h"
#include "base/quantity.h"

typedef enum {
    FIELD_QUANTITY,    /* double, SI */
    FIELD_COUNT,       /* double, whole, >= 0 */
    FIELD_THREE_POINT, /* ThreePoint */
    FIELD_RANGE,       /* Range */
    FIELD_MONEY,       /* double, in boat.currency; per time when kind is Q_MONEY_RATE (per day) */
    FIELD_TEXT,        /* const char * */
    FIELD_CHOICE,      /* int: index into choices; -1 missing */
    FIELD_FLAG,        /* Flag */
    FIELD_DATE,        /* Date */
    FIELD_TIME,        /* double, s of the day */
    FIELD_POSITION,    /* EarthPosition */
    FIELD_REFERENCE,   /* Reference: id of a record of one of the sections in refers_to (space
                          separated) */
    FIELD_DENSITY,     /* double: a word of boat.density or a quantity */
    FIELD_WIRE,        /* double: an area or a gauge of wire */
    FIELD_ANY, /* Quantity of whatever kind its unit says; limit_value reads it as one kind */
    FIELD_ALONG,
    FIELD_ACROSS,
    FIELD_HEIGHT, /* double, body axes; places with marks */
    FIELD_ALONG_RANGE,
    FIELD_ACROSS_RANGE,
    FIELD_HEIGHT_RANGE, /* Range, body axes; across: low starboard (-), high port (+) */
    FIELD_LIST,         /* List of ids (references) */
    FIELD_MAP,          /* Map: id -> quantity (of kind), count or text */
    FIELD_WORDS,        /* unsigned: bits by index into choices */
    FIELD_ROWS          /* Rows: list of scalars, each read by the section's row reader */
} FieldKind;

typedef enum { FLAG_MISSING, FLAG_NO, FLAG_YES_BARE, FLAG_YES_SHOWN, FLAG_UNKNOWN } Flag;
typedef struct {
    double latitude_rad, longitude_rad;
} EarthPosition;
typedef struct {
    const char *id;
} Reference; /* NULL: missing */
typedef struct {
    size_t n;
    const char *const *id;
} List;
typedef struct {
    const char *key;
    Quantity value;
    const char *text;
    unsigned line;
} MapEntry;
typedef struct {
    size_t n;
    const MapEntry *entry;
} Map;

typedef struct {                        /* a row of `readings` or of a station's `points` */
    double along_m, across_m, height_m; /* NAN when the row has none */
    Quantity value;                     /* the reading */
    int side;                           /* +1 port, -1 starboard, 0 not said */
    int way;                            /* of a trial: +1 down, -1 up, 0 not said */
    Quantity mass, distance;            /* of a move in a heel test, to `side` of where it began */
    bool knuckle;
    const char *name; /* of a knuckle */
    unsigned line, column;
} Row;
typedef struct {
    size_t n;
    const Row *row;
} Rows;

typedef struct Choice {
    const char *word, *meaning;
} Choice;

typedef struct Field {
    const char *key;
    FieldKind type;
    QuantityKind kind;
    size_t offset;             /* of the member in the section's struct */
    double min, max;           /* SI; both 0: no bounds. Slips of the pen, not bad boats */
    double standard;           /* default, SI; used when has_standard */
    double standard_spread;    /* SI, of the default */
    const char *standard_word; /* default of a choice, text, density or reference */
    const char *refers_to;
    const Choice *choices;    /* ended by a NULL word */
    const char *unit;         /* unit a form proposes */
    const char *label, *help; /* short name; one line */
    bool demanded, has_standard;
    bool per_day; /* of a map of shares: a time is taken too, as that much of a day */
} Field;

typedef struct Section {
    const char *key; /* "items"; of a role: "tank" */
    const char *title;
    const char *role_of; /* "items" for roles, "hull" for stations, ...; NULL at the top */
    const char *what;    /* one line for the reference */
    bool keyed;          /* a map of records by id; else one record */
    size_t size;
    const Field *fields;
    size_t n_fields;
} Section;

/* The one list of sections, in the order of the reference; NULL ended. */
extern const Section *const boat_sections[];

const Section *section_find(const char *key); /* a section at the top */
const Section *section_sub(const Section *section,
                           const char *key); /* a role or keyed sub-section of it */
const Field *section_field(const Section *section, const char *key);
/* What a path speaks of, whether or not the file has it; options.ID.changes. is looked through.
 * NULL when it is no field; *section is then the section of a record's path, or NULL. */
const Field *section_field_at(const char *path, const Section **section);
/* Fields and roles that the file may hold and no table describes yet. */
bool pending_key(const Section *section, const char *key); /* section NULL: at the top */
const char *pending_nth(const Section *section, size_t i); /* NULL behind the last */

bool id_is_reserved(const char *id);      /* a word that means something else in a boat file */
bool field_is_place(const Field *field);  /* along, across, height */
bool field_is_number(const Field *field); /* its member is a double */

#define MEMBER(T, m, type) (offsetof(T, m) + 0 * sizeof(_Generic(((T *) 0)->m, type : 1)))
/* QUANTITY(Item, mass_kg, "mass", Q_MASS, "kg", .min = ..., .label = ..., .help = ...) and its
 * sisters for every kind are in boat/field_macros.h. */
