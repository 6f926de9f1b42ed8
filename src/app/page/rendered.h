/* Views that follow from the text of the boat and their address alone, kept as they were written: when a change makes a hundred
 * open pages ask again, each view is written once, and what changed in it is found once. Any thread. */
#pragma once

#include <glib.h>
#include <stdbool.h>

typedef struct Rendered Rendered;

/* Keeps the last so many, and no more than so many bytes. */
Rendered *rendered_new(size_t most, size_t most_bytes);
void rendered_free(Rendered *rendered);
/* What was kept under a key, and its title (g_free; title may be NULL); NULL: nothing. */
GBytes *rendered_find(Rendered *rendered, const char *key, char **title);
/* Takes the view over and gives what is kept: of two written at once the first. */
GBytes *rendered_keep(Rendered *rendered, const char *key, const char *title, GBytes *view);
