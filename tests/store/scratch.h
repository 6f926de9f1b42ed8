/* A folder of its own for each test, with one boat file in it. */
#pragma once

#include <glib.h>
#include <stdbool.h>

typedef struct {
    char *folder, *file, *history;
} Scratch;

extern const char *const scratch_boat; /* a small invented boat */

int scratch_make(void **state); /* cmocka setup: *state is a Scratch */
int scratch_remove(void **state);

char *scratch_path(const Scratch *scratch, const char *name); /* g_free */
void scratch_write(const char *path, const char *text);
/* Fails the test unless the file holds exactly this. */
void scratch_holds(const char *path, const char *text);
/* Everything in the folder but the boat file and its history, separated by blanks; "" when there is
 * nothing. g_free. */
char *scratch_litter(const Scratch *scratch);
