/* The turns of saving: take the lock, read, catch up with outside edits, make the text, put it in
 * place, acknowledge.
 *
 * Invariant: whatever fails, the history is rolled back and the file is what it was when the turn
 * began. A crash between the file's rename and the history's commit looks, next time, like an edit
 * outside careen, and is recorded as one. */
#include "store/store.h"

#include <string.h>

#include "store/change.h"
#include "store/store_internal.h"

/* One saving under the lock. */
typedef struct {
    char *text;
    gsize length;
    gint64 here;
    gint64 outside;
} Turn;

static void
turn_clear(Turn *turn)
{
    g_clear_pointer(&turn->text, g_free);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Turn, turn_clear)

void
saved_free(Saved *saved)
{
    if (saved == NULL)
        return;
    g_free(saved->reason);
    g_free(saved->text);
    if (saved->edited != NULL)
        g_ptr_array_unref(saved->edited);
    document_unref(saved->document);
    g_free(saved);
}

Store *
store_open(const char *path, GError **error)
{
    g_autoptr(Place) place = place_find(path, error);
    if (place == NULL)
        return NULL;
    Store *store = g_new0(Store, 1);
    store->place = g_steal_pointer(&place);
    return store;
}

void
store_close(Store *store)
{
    if (store == NULL)
        return;
    history_close(store->history);
    document_unref(store->known);
    place_free(store->place);
    g_free(store);
}

char *
store_text(const Store *store, gsize *length, GError **error)
{
    return save_read(store->place, length, error);
}

static bool
ready_history(Store *store, GError **error)
{
    struct stat now;
    bool there = store_has_history(store, &now);
    if (store->history != NULL && there && now.st_dev == store->device &&
        now.st_ino == store->inode)
        return true;
    g_clear_pointer(&store->history, history_close);
    if (!save_folder(store->place, error))
        return false;
    store->history = history_open(store->place->history, store->place->name, error);
    if (store->history == NULL)
        return false;
    if (store_has_history(store, &now)) {
        store->device = now.st_dev;
        store->inode = now.st_ino;
    }
    return true;
}

/* Records what was done to the file since we last saved it. */
static bool
catch_up(Store *store, Turn *turn, GError **error)
{
    if (!history_here(store->history, &turn->here, error))
        return false;
    if (turn->here == 0)
        return history_add(store->history, 0, "as found", NULL, turn->text, turn->length,
                           &turn->here, error);
    gsize length;
    g_autofree char *known = history_text(store->history, turn->here, &length, error);
    if (known == NULL)
        return false;
    if (length == turn->length && memcmp(known, turn->text, length) == 0)
        return true;
    gint64 parent = turn->here;
    bool good = history_add(store->history, parent, "edited outside careen", NULL, turn->text,
                            turn->length, &turn->here, error);
    turn->outside = turn->here;
    return good;
}

static bool
turn_begin(Store *store, Turn *turn, GError **error)
{
    if (!save_allowed(store->place, error) || !ready_history(store, error) ||
        !history_begin(store->history, error))
        return false;
    turn->text = save_read(store->place, &turn->length, error);
    if (turn->text != NULL && catch_up(store, turn, error))
        return true;
    history_rollback(store->history);
    return false;
}

/* The text goes into the file, then the history is committed; only then is it acknowledged. */
static bool
turn_save(Store *store, const Turn *turn, const char *text, gsize length, GError **error)
{
    if (!save_replace(store->place, text, length, error)) {
        history_rollback(store->history);
        return false;
    }
    if (history_commit(store->history, error)) {
        save_done(store->place);
        return true;
    }
    history_rollback(store->history);
    g_autoptr(GError) worse = NULL;
    if (!save_take_back(store->place, turn->text, turn->length, &worse))
        g_prefix_error(error, "%s; ", worse->message);
    return false;
}

/* Nothing to put in the file; an outside edit found on the way is kept. */
static bool
turn_end(Store *store, const Turn *turn, GError **error)
{
    if (turn->outside != 0)
        return history_commit(store->history, error);
    history_rollback(store->history);
    return true;
}

static Saved *
saved_new(const Turn *turn, gint64 revision, bool changed, char *reason, char *text, gsize length)
{
    Saved *saved = g_new0(Saved, 1);
    saved->revision = revision;
    saved->changed = changed;
    saved->outside = turn->outside;
    saved->reason = reason;
    saved->text = text;
    saved->length = length;
    return saved;
}

/* The tree of a text; of the one saved last it is known already. */
static Document *
tree_of(Store *store, const char *text, gsize length, GError **error)
{
    gsize known_length = 0;
    const char *known = store->known != NULL ? document_text(store->known, &known_length) : NULL;
    if (known != NULL && known_length == length && memcmp(known, text, length) == 0)
        return document_ref(store->known);
    g_autoptr(GError) refused = NULL;
    Document *document = edit_read(text, length, &refused);
    if (document == NULL)
        g_set_error(error, STORE_ERROR, STORE_ERROR_REFUSED, "%s: %s", store->place->name,
                    refused->message);
    return document;
}

static Document *
changed_tree(Store *store, const Change *change, const char *text, gsize length, GPtrArray *edited,
             GError **error)
{
    g_autoptr(Document) before = tree_of(store, text, length, error);
    return before != NULL ? change_apply(change, store->place->name, before, edited, error) : NULL;
}

static Saved *
edit_under_lock(Store *store, const Change *change, Turn *turn, GPtrArray *edited, GError **error)
{
    g_autoptr(Document) after =
        changed_tree(store, change, turn->text, turn->length, edited, error);
    if (after == NULL) {
        history_rollback(store->history);
        return NULL;
    }
    gsize length;
    const char *text = document_text(after, &length);
    g_autofree char *reason = change_reason(change->reason, edited);
    g_autofree char *who = change_who(change->who);
    gint64 revision = turn->here;
    bool changed = length != turn->length || memcmp(text, turn->text, length) != 0;
    if (!changed) {
        if (!turn_end(store, turn, error))
            return NULL;
    } else if (!history_add(store->history, turn->here, reason, who, text, length, &revision,
                            error)) {
        history_rollback(store->history);
        return NULL;
    } else if (!turn_save(store, turn, text, length, error)) {
        return NULL;
    }
    document_unref(store->known);
    store->known = document_ref(after);
    Saved *saved = saved_new(turn, revision, changed, g_steal_pointer(&reason),
                             g_memdup2(text, length + 1), length);
    saved->document = g_steal_pointer(&after);
    return saved;
}

/* An edit that will be refused must not leave a history folder behind. */
static bool
would_be_refused(Store *store, const Change *change, GError **error)
{
    struct stat now;
    if (store_has_history(store, &now))
        return false;
    gsize length;
    g_autofree char *text = save_read(store->place, &length, error);
    if (text == NULL)
        return true;
    g_autoptr(GPtrArray) edited = g_ptr_array_new_with_free_func((GDestroyNotify) edited_free);
    g_autoptr(Document) after = changed_tree(store, change, text, length, edited, error);
    return after == NULL;
}

Saved *
store_edit(Store *store, const Change *change, GError **error)
{
    g_auto(Turn) turn = {0};
    if (would_be_refused(store, change, error) || !turn_begin(store, &turn, error))
        return NULL;
    g_autoptr(GPtrArray) edited = g_ptr_array_new_with_free_func((GDestroyNotify) edited_free);
    Saved *saved = edit_under_lock(store, change, &turn, edited, error);
    if (saved != NULL)
        saved->edited = g_steal_pointer(&edited);
    return saved;
}

/* Gives the file the text of a revision: `here` moves to it, or with a reason a new revision is
 * added. */
static Saved *
go_to(Store *store, const Turn *turn, gint64 revision, const char *name, const char *new_reason,
      char *done, GError **error)
{
    g_autofree char *said = done;
    g_autofree char *who = change_who(name);
    gsize length;
    g_autofree char *text = history_text(store->history, revision, &length, error);
    bool good = text != NULL;
    if (good && new_reason == NULL)
        good = history_move(store->history, revision, who, error);
    else if (good)
        good = history_add(store->history, turn->here, new_reason, who, text, length, &revision,
                           error);
    if (!good) {
        history_rollback(store->history);
        return NULL;
    }
    if (!turn_save(store, turn, text, length, error))
        return NULL;
    bool changed = length != turn->length || memcmp(text, turn->text, length) != 0;
    return saved_new(turn, revision, changed, g_steal_pointer(&said), g_steal_pointer(&text),
                     length);
}

static Saved *
step(Store *store, bool back, const char *who, GError **error)
{
    const char *none = back ? "there is nothing to undo" : "there is nothing to redo";
    struct stat now;
    g_auto(Turn) turn = {0};
    if (!store_has_history(store, &now)) {
        store_has_no(store, none, error);
        return NULL;
    }
    if (!turn_begin(store, &turn, error))
        return NULL;
    gint64 to = 0;
    bool good = back ? history_parent(store->history, turn.here, &to, error)
                     : history_newest_child(store->history, turn.here, &to, error);
    if (good && to == 0) {
        store_has_no(store,
                     !back && turn.outside != 0
                         ? "there is nothing to redo: the file was edited outside careen since"
                         : none,
                     error);
        good = false;
    }
    char *done = good ? history_reason(store->history, back ? turn.here : to, error) : NULL;
    if (done == NULL) {
        history_rollback(store->history);
        return NULL;
    }
    return go_to(store, &turn, to, who, NULL, done, error);
}

Saved *
store_undo(Store *store, const char *who, GError **error)
{
    return step(store, true, who, error);
}

Saved *
store_redo(Store *store, const char *who, GError **error)
{
    return step(store, false, who, error);
}

Saved *
store_restore(Store *store, gint64 revision, const char *who, GError **error)
{
    struct stat now;
    g_auto(Turn) turn = {0};
    if (!store_has_history(store, &now)) {
        store_has_no(store, "it has no history yet", error);
        return NULL;
    }
    if (!turn_begin(store, &turn, error))
        return NULL;
    g_autoptr(GError) broken = NULL;
    gsize length;
    g_autofree char *text = history_text(store->history, revision, &length, &broken);
    if (text == NULL) {
        history_rollback(store->history);
        if (broken != NULL)
            g_propagate_error(error, g_steal_pointer(&broken));
        else
            store_has_no(store, NO_SUCH_REVISION, error);
        return NULL;
    }
    if (length == turn.length && memcmp(text, turn.text, length) == 0) {
        if (!turn_end(store, &turn, error))
            return NULL;
        return saved_new(&turn, turn.here, false, g_strdup("already so"), g_steal_pointer(&text),
                         length);
    }
    g_autofree char *reason = g_strdup_printf("back to revision %" G_GINT64_FORMAT, revision);
    return go_to(store, &turn, revision, who, reason, g_strdup(reason), error);
}
