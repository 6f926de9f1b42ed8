/* Edits that splice the owner's text: every byte that is not edited survives. */
#pragma once

#include <glib.h>

#include "boat/document.h"

typedef struct {
    const char *path;  /* items.heater.mass; missing parents are made */
    const char *value; /* the scalar as text; NULL removes the entry */
} Edit;

/* The text with all edits made, or NULL with *error (EDIT_ERROR) and nothing changed. The result
 * has been parsed again and compared: every value but the edited ones is as before. g_free. */
char *edit_apply(const char *text, gsize length, size_t n, const Edit edit[], gsize *new_length,
                 GError **error);

/* The tree of a text that is to be edited; NULL with *error (EDIT_ERROR). document_unref. */
Document *edit_read(const char *text, gsize length, GError **error);
/* The same from tree to tree; document_unref. */
Document *edit_document(Document *document, size_t n, const Edit edit[], GError **error);

/* The path an edit goes to when the options are chosen: what the last option that sets or adds the
 * path (or one of its parents) patches is edited there, else the base. *option is that option's id
 * or NULL. g_free. */
char *edit_target(const Document *document, size_t n_options, const char *const options[],
                  const char *path, const char **option, GError **error);

#define EDIT_ERROR edit_error_quark()
GQuark edit_error_quark(void);
