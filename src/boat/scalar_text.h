/* A scalar as it is written into a boat file. */
#pragma once

#include <glib.h>
#include <stdbool.h>

/* Plain where YAML reads it back as it is, else in quotes; flow: inside brackets. NULL with *error
 * (EDIT_ERROR) on bytes that no boat file may hold. g_free. */
char *scalar_text(const char *value, bool flow, GError **error);
