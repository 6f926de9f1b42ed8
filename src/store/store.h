/* Saving the boat file with its history: edit, undo, redo, restore.
 *
 * The file is the truth and the history follows it. Each saving takes the one write lock, reads the
 * file as it is then, records what was edited outside careen, makes the new text, checks it, and
 * puts it in place durably before it is acknowledged. A Store is for one thread at a time; any
 * number of programs may have one on the same boat. */
#pragma once

#include "base/diagnostics.h"
#include "boat/edit.h"
#include "store/history.h"
#include "store/save.h"

typedef struct Store Store;

typedef struct {
    size_t n;
    const Edit *edit;
    size_t n_options; /* the chosen options: an edit goes where edit_target says */
    const char *const *options;
    const char *reason;  /* NULL: said from the edits */
    const char *who;     /* a login, or the name typed on the page; NULL: not known */
    const char *made_on; /* the text the edit was made on; NULL: whatever is there */
    gsize made_on_length;
    /* NULL, or for each edit the value its maker saw, as written (boat/written.h): "" when nothing
     * was there, NULL when that does not matter. Who wants what is there already overrules nobody. */
    const char *const *was;
    GPtrArray *clashes;  /* NULL, or of clashes_new: Clash are added on STORE_ERROR_CONFLICT */
    Diagnostics *faults; /* NULL, or takes what would be wrong in the file afterwards, where that is
                            why it was refused */
} Change;

/* Two people at one value. Each as written; NULL: nothing. */
typedef struct {
    char *path;   /* as the edit named it */
    char *option; /* the option in which it is edited now, or NULL: the base */
    char *seen;   /* when the maker of the edit looked */
    char *now;    /* what somebody else wrote meanwhile */
    char *wanted; /* by the maker of the edit */
} Clash;

GPtrArray *clashes_new(void);

typedef struct {
    char *path;           /* where it was edited: items.x or options.o.changes.items.x */
    char *option;         /* the option edited, or NULL: the base */
    char *before, *after; /* as written; NULL: not there */
} Edited;

typedef struct {
    gint64 revision; /* that the file has now; 0: nothing was ever saved */
    bool changed;    /* false: everything was so already */
    gint64 outside;  /* revision that recorded an edit outside careen just now, or 0 */
    char *reason;    /* of what was done or undone */
    char *text;      /* the file as it is now */
    gsize length;
    GPtrArray *edited;  /* Edited; of store_edit only */
    Document *document; /* the tree of text; of store_edit only */
} Saved;

void saved_free(Saved *saved);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Saved, saved_free)

Store *store_open(const char *path, GError **error); /* writes nothing */
void store_close(Store *store);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Store, store_close)

char *store_text(const Store *store, gsize *length, GError **error);

/* On failure the file is as it was. STORE_ERROR_REFUSED lists every reason, a line each;
 * STORE_ERROR_CONFLICT gives for each path what the caller saw and what is there now. Errors that
 * the text had before do not refuse an edit. */
Saved *store_edit(Store *store, const Change *change, GError **error);

/* To the text before, to the newest text after, to the text of any revision: the exact bytes.
 * Restoring adds a revision. who as in Change. */
Saved *store_undo(Store *store, const char *who, GError **error);
Saved *store_redo(Store *store, const char *who, GError **error);
Saved *store_restore(Store *store, gint64 revision, const char *who, GError **error);

/* Looking; writes nothing. */

/* Oldest first, empty when nothing was ever saved; elements are Revision. */
GPtrArray *store_history(Store *store, GError **error);
GPtrArray *store_latest(Store *store, guint most, GError **error); /* the last so many of them */
/* Whether the file differs from the newest text in its history. */
bool store_outside(Store *store, bool *differs, GError **error);
/* The text of a revision; STORE_ERROR_INPUT when there is no such one. g_free. */
char *store_revision_text(Store *store, gint64 revision, gsize *length, GError **error);

enum { STORE_MOST_CHANGES = 200 };
/* What a revision says otherwise than the one it was made on: Edited without option, in the order
 * of the text; what was added or taken out whole is one. At most STORE_MOST_CHANGES; *more: there
 * were others. Empty for the first revision, and where only comments or layout changed.
 * STORE_ERROR_INPUT when one of the two texts cannot be read. */
GPtrArray *store_changes(Store *store, gint64 revision, bool *more, GError **error);
