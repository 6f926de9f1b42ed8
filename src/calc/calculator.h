/* Physics by name: what a calculator takes, gives and rests on. Registry: one line each in calculators.def.
 *
 * Units are the SI units of the contract (docs/methods, "1" for pure numbers); typed values convert to them.
 * An input without `standard` and without `otherwise` must be given. `otherwise` says in a word what stands in when it is left out
 * ("none": outputs that need it are not given; else what run() takes instead); run() then sees NAN. */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "base/source.h"

typedef struct CalcArguments CalcArguments;
typedef struct CalcResults CalcResults;

/* INPUT_TEXT is a word that run() looks up, such as a node that a table names. */
typedef enum {
    INPUT_NUMBER,
    INPUT_WORD,
    INPUT_TEXT,
    INPUT_LIST,
    INPUT_WORD_LIST,
    INPUT_TABLE
} InputKind;

/* A column of a table: numbers when it has a unit, one of the words when it has words, else any text. */
typedef struct {
    const char *name, *unit;
    const char *const *words; /* NULL-terminated */
    bool optional;
    double absent; /* number of a column left out or a cell left empty, when optional */
} Column;

typedef struct {
    const char *name;
    InputKind kind;
    const char *unit;         /* numbers and lists */
    const char *const *words; /* choices, NULL-terminated */
    const Column *columns;
    size_t n_columns;
    const char *word_kind; /* of INPUT_TEXT: "task", "date"; NULL: a word of a table */
    const char *standard;  /* taken when left out, as typed: "0 deg", "fresh" */
    const char *otherwise; /* "none", "of-water", ... */
} Input;

typedef struct {
    const char *name, *unit;  /* unit NULL: a word */
    const char *const *words; /* the words it may be, NULL-terminated; NULL for numbers */
    const char *kind;         /* of a word that no list holds: "task", "date"; else NULL */
    bool listed;              /* name[i] or name[word] */
} Output;

typedef struct {
    const char *name;     /* "box-barge" */
    const char *question; /* what it answers */
    const char *sheet;    /* section of docs/methods: "float 9.1" */
    const Input *inputs;
    size_t n_inputs;
    const Output *outputs;
    size_t n_outputs;
    const Method *const *methods; /* NULL-terminated, may be NULL */
    void (*run)(const CalcArguments *in, CalcResults *out);
} Calculator;

/* NULL when there is none; NULL-terminated list in the order of the registry. */
const Calculator *calculator_find(const char *name);
const Calculator *const *calculator_list(void);
/* The nearest name to a misspelt one, or NULL. */
const char *calculator_nearest(const char *name);

const Input *calculator_input(const Calculator *calculator, const char *name);
const Output *calculator_output(const Calculator *calculator, const char *name);

/* Rows of the tables above. */
#define COUNT(array) (sizeof(array) / sizeof((array)[0]))
#define IN_NUMBER(label, si, ...)                                                                  \
    {                                                                                              \
        .name = label, .kind = INPUT_NUMBER, .unit = si, __VA_ARGS__                               \
    }
#define IN_WORD(label, list, ...)                                                                  \
    {                                                                                              \
        .name = label, .kind = INPUT_WORD, .words = list, __VA_ARGS__                              \
    }
#define IN_TEXT(label, ...)                                                                        \
    {                                                                                              \
        .name = label, .kind = INPUT_TEXT, __VA_ARGS__                                             \
    }
#define IN_LIST(label, si, ...)                                                                    \
    {                                                                                              \
        .name = label, .kind = INPUT_LIST, .unit = si, __VA_ARGS__                                 \
    }
#define IN_TABLE(label, list, ...)                                                                 \
    {                                                                                              \
        .name = label, .kind = INPUT_TABLE, .columns = list, .n_columns = COUNT(list), __VA_ARGS__ \
    }
#define OUT_NUMBER(label, si)                                                                      \
    {                                                                                              \
        .name = label, .unit = si                                                                  \
    }
#define OUT_WORD(label, list)                                                                      \
    {                                                                                              \
        .name = label, .words = list                                                               \
    }
#define OUT_NUMBERS(label, si)                                                                     \
    {                                                                                              \
        .name = label, .unit = si, .listed = true                                                  \
    }
#define OUT_WORDS(label, list)                                                                     \
    {                                                                                              \
        .name = label, .words = list, .listed = true                                               \
    }
#define OUT_TEXT(label, what)                                                                      \
    {                                                                                              \
        .name = label, .kind = what                                                                \
    }
#define OUT_TEXTS(label, what)                                                                     \
    {                                                                                              \
        .name = label, .kind = what, .listed = true                                                \
    }
#define CALCULATOR_BODY(in, out)                                                                   \
    .inputs = in, .n_inputs = COUNT(in), .outputs = out, .n_outputs = COUNT(out)
