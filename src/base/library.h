/* Outside libraries opened at their first use: what a command does not need it does not pay for at its start. */
#pragma once

#include <stdbool.h>
#include <stddef.h>

typedef struct {
    int library;      /* index into the sonames */
    const char *name; /* of the function */
    size_t offset;    /* of its pointer in the table */
} LibraryFunction;

/* Opens them for good and fills the table. False with *problem, a sentence (g_free), when one of them or a function is not
 * there. what: who needs it ("pictures"). */
bool library_open(const char *what, size_t n_sonames, const char *const sonames[], size_t n,
                  const LibraryFunction functions[], void *table, char **problem);
