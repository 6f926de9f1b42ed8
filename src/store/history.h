/* Every saved text of a boat file, with time, reason and who saved it, in SQLite beside the file.
 *
 * Revisions form a tree: undo moves `here` to the parent, an edit after it branches, nothing is
 * ever deleted. */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "store/error.h"

typedef struct History History;

typedef struct {
    gint64 id, parent; /* parent 0: the first text */
    char *made;        /* 2027-04-12T17:30:05Z */
    char *reason;
    char *who;        /* NULL: not known */
    bool here;        /* the text the file has */
    char *brought_by; /* of the one that is here: who went back or forward to it; NULL: nobody, or
                         not known */
} Revision;

void revision_free(Revision *revision);

/* For saving: makes what is missing inside the folder, and brings a history of an earlier careen up
 * to date. name is what messages call the boat file. */
History *history_open(const char *folder, const char *name, GError **error);
/* For looking only: writes nothing. NULL without *error when there is no history yet. */
History *history_look(const char *folder, const char *name, GError **error);
void history_close(History *history);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(History, history_close)

/* The one write lock of all programs on this boat. */
bool history_begin(History *history, GError **error);
bool history_commit(History *history, GError **error);
void history_rollback(History *history);

/* Reading; 0 or NULL without *error: there is none. */
bool history_here(History *history, gint64 *id, GError **error);
char *history_text(History *history, gint64 id, gsize *length, GError **error);
char *history_reason(History *history, gint64 id, GError **error);
bool history_parent(History *history, gint64 id, gint64 *parent, GError **error);
bool history_newest_child(History *history, gint64 id, gint64 *child, GError **error);
/* Oldest first; elements are Revision, freed with the array. */
GPtrArray *history_list(History *history, GError **error);
GPtrArray *history_latest(History *history, guint most, GError **error); /* the last so many */

/* Writing, between begin and commit. Both move `here`; who may be NULL. */
bool history_add(History *history, gint64 parent, const char *reason, const char *who,
                 const char *text, gsize length, gint64 *id, GError **error);
bool history_move(History *history, gint64 id, const char *who, GError **error);
