/* One boat file that is shown and edited: its text as it stands, and the store that saves it.
 *
 * The last good text stays while the file is broken or gone, with what is wrong beside it. Reading is safe from any thread;
 * what saves is called from one thread at a time. */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "store/store.h"

/* A text of the boat file at one moment. Immutable, counted. */
typedef struct {
    Document *document; /* NULL: an earlier state that cannot be read */
    char *text;
    gsize length;
    gint64 number; /* grows with every change; below 0: an earlier state, minus its revision */
} Edition;

/* Takes the text over, and shares the document. */
Edition *edition_new(char *text, gsize length, Document *document, gint64 number);
/* The text of the document. */
Edition *edition_of(Document *document, gint64 number);
Edition *edition_ref(Edition *edition);
void edition_unref(Edition *edition);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Edition, edition_unref)

typedef struct Desk Desk;

/* The file must be there; it need not be a good boat file. NULL with *error. */
Desk *desk_new(const char *path, GError **error);
void desk_free(Desk *desk);
const char *desk_id(const Desk *desk);   /* "dunlin": the file's name without its ending */
const char *desk_file(const Desk *desk); /* as it was given */
const char *desk_folder(const Desk *desk);
/* The last good text, or NULL when there never was one, and the number of what is shown with it. */
Edition *desk_edition(Desk *desk, gint64 *number);
/* What keeps the file from being shown as it is (lines), or NULL; g_free. */
char *desk_trouble(Desk *desk);
gint64 desk_number(Desk *desk); /* of what is shown: grows with the text and with the trouble */

/* Reads the file again; true when what is shown has changed. */
bool desk_refresh(Desk *desk);
/* Calls changed when somebody else has written the file (also when it is gone or came back): on the main thread, or on the one
 * that was saving meanwhile. */
void desk_watch(Desk *desk, void (*changed)(Desk *desk, void *data), void *data);

/* As store_edit and its sisters; then the desk shows the new text. */
Saved *desk_edit(Desk *desk, const Change *change, GError **error);
typedef enum { DESK_UNDO, DESK_REDO, DESK_RESTORE } DeskStep;
Saved *desk_step(Desk *desk, DeskStep step, gint64 revision, const char *who, GError **error);
/* A state of the history; NULL with *error. */
Edition *desk_earlier(const Desk *desk, gint64 revision, GError **error);
GPtrArray *desk_history(const Desk *desk, guint most, GError **error); /* as store_latest */
GPtrArray *desk_changes(Desk *desk, gint64 revision, bool *more,
                        GError **error); /* as store_changes */
