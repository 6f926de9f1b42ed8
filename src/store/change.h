/* From a change to the new text; touches no file. */
#pragma once

#include "store/store.h"

/* The tree with the change made and checked; NULL with *error. Appends what was edited to edited.
 * document_unref. */
Document *change_apply(const Change *change, const char *name, Document *before, GPtrArray *edited,
                       GError **error);

/* The reason to record: the owner's on one line, or said from what was edited. g_free. */
char *change_reason(const char *given, const GPtrArray *edited);

/* A name on one line, or NULL when none is given. g_free. */
char *change_who(const char *given);

void edited_free(Edited *edited);
