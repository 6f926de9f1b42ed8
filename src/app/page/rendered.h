/* Views that follow from the text of the boat and their address alone, kept as they were written: when a change makes a hundred
 * open pages ask again, each view is written once. Any thread. */
#pragma once

#include <glib.h>
#include <stdbool.h>

typedef struct Rendered Rendered;

Rendered *rendered_new(size_t most); /* keeps the last so many */
void rendered_free(Rendered *rendered);
/* What was kept under a key: the title (g_free) and the view; NULL: nothing. */
GBytes *rendered_find(Rendered *rendered, const char *key, char **title);
void rendered_keep(Rendered *rendered, const char *key, const char *title, const char *view);
