/* The turns of saving: take the lock, read, catch up with outside edits, make the text, put it in
 * place, acknowledge.
 *
 * Invariant: whatever fails, the history is rolled back and the file is what it was when the turn
 * began. A crash between the file's rename and the history's commit looks, next time, like an edit
 * outside careen, and is recorded as one. */
#include "store/store.h"

#include <string.h>
#include <sys/stat.h>

#include "store/change.h"

struct Store {
    Place *place;
    History *history; /* opened by the first saving */
    dev_t device;     /* of the history opened: its owner may move it away meanwhile */
    ino_t inode;
};

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
    place_free(store->place);
    g_free(store);
}

char *
store_text(const Store *store, gsize *length, GError **error)
{
    return save_read(store->place, length, error);
}

static bool
history_there(const Store *store, struct stat *now)
{
    g_autofree char *file = g_build_filename(store->place->history, "history.sqlite", NULL);
    return stat(file, now) == 0;
}

static bool
ready_history(Store *store, GError **error)
{
    struct stat now;
    bool there = history_there(store, &now);
    if (store->history != NULL && there && now.st_dev == store->device &&
        now.st_ino == store->inode)
        return true;
    g_clear_pointer(&store->history, history_close);
    if (!save_folder(store->place, error))
        return false;
    store->history = history_open(store->place->history, store->place->name, error);
    if (store->history == NULL)
        return false;
    if (history_there(store, &now)) {
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
        return history_add(store->history, 0, "as found", turn->text, turn->length, &turn->here,
                           error);
    gsize length;
    g_autofree char *known = history_text(store->history, turn->here, &length, error);
    if (known == NULL)
        return false;
    if (length == turn->length && memcmp(known, turn->text, length) == 0)
        return true;
    gint64 parent = turn->here;
    bool good = history_add(store->history, parent, "edited outside careen", turn->text,
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

static Saved *
edit_under_lock(Store *store, const Change *change, Turn *turn, GPtrArray *edited, GError **error)
{
    gsize length = 0;
    g_autofree char *text =
        change_apply(change, store->place->name, turn->text, turn->length, &length, edited, error);
    if (text == NULL) {
        history_rollback(store->history);
        return NULL;
    }
    g_autofree char *reason = change_reason(change->reason, edited);
    gint64 revision = turn->here;
    bool changed = length != turn->length || memcmp(text, turn->text, length) != 0;
    if (!changed) {
        if (!turn_end(store, turn, error))
            return NULL;
    } else if (!history_add(store->history, turn->here, reason, text, length, &revision, error)) {
        history_rollback(store->history);
        return NULL;
    } else if (!turn_save(store, turn, text, length, error)) {
        return NULL;
    }
    return saved_new(turn, revision, changed, g_steal_pointer(&reason), g_steal_pointer(&text),
                     length);
}

/* An edit that will be refused must not leave a history folder behind. */
static bool
would_be_refused(const Store *store, const Change *change, GError **error)
{
    struct stat now;
    if (history_there(store, &now))
        return false;
    gsize length, new_length;
    g_autofree char *text = save_read(store->place, &length, error);
    if (text == NULL)
        return true;
    g_autoptr(GPtrArray) edited = g_ptr_array_new_with_free_func((GDestroyNotify) edited_free);
    g_autofree char *after =
        change_apply(change, store->place->name, text, length, &new_length, edited, error);
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

static bool
nothing_to(const Store *store, const char *what, GError **error)
{
    g_autofree char *shown = g_filename_display_name(store->place->name);
    g_set_error(error, STORE_ERROR, STORE_ERROR_INPUT, "%s: %s", shown, what);
    return false;
}

/* Gives the file the text of a revision: `here` moves to it, or with a reason a new revision is
 * added. */
static Saved *
go_to(Store *store, const Turn *turn, gint64 revision, const char *new_reason, char *done,
      GError **error)
{
    g_autofree char *said = done;
    gsize length;
    g_autofree char *text = history_text(store->history, revision, &length, error);
    bool good = text != NULL;
    if (good && new_reason == NULL)
        good = history_move(store->history, revision, error);
    else if (good)
        good = history_add(store->history, turn->here, new_reason, text, length, &revision, error);
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
step(Store *store, bool back, GError **error)
{
    const char *none = back ? "there is nothing to undo" : "there is nothing to redo";
    struct stat now;
    g_auto(Turn) turn = {0};
    if (!history_there(store, &now)) {
        nothing_to(store, none, error);
        return NULL;
    }
    if (!turn_begin(store, &turn, error))
        return NULL;
    gint64 to = 0;
    bool good = back ? history_parent(store->history, turn.here, &to, error)
                     : history_newest_child(store->history, turn.here, &to, error);
    if (good && to == 0) {
        nothing_to(store,
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
    return go_to(store, &turn, to, NULL, done, error);
}

Saved *
store_undo(Store *store, GError **error)
{
    return step(store, true, error);
}

Saved *
store_redo(Store *store, GError **error)
{
    return step(store, false, error);
}

Saved *
store_restore(Store *store, gint64 revision, GError **error)
{
    struct stat now;
    g_auto(Turn) turn = {0};
    if (!history_there(store, &now)) {
        nothing_to(store, "it has no history yet", error);
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
            nothing_to(store, "its history has no such revision", error);
        return NULL;
    }
    if (length == turn.length && memcmp(text, turn.text, length) == 0) {
        if (!turn_end(store, &turn, error))
            return NULL;
        return saved_new(&turn, turn.here, false, g_strdup("already so"), g_steal_pointer(&text),
                         length);
    }
    g_autofree char *reason = g_strdup_printf("back to revision %" G_GINT64_FORMAT, revision);
    return go_to(store, &turn, revision, reason, g_strdup(reason), error);
}

static bool
unmoved(const struct stat *a, const struct stat *b)
{
    return a->st_ino == b->st_ino && a->st_size == b->st_size &&
           a->st_mtim.tv_sec == b->st_mtim.tv_sec && a->st_mtim.tv_nsec == b->st_mtim.tv_nsec;
}

/* Looks while nobody writes: a look that a saving crossed is done again. */
static GPtrArray *
look(Store *store, char **text, gsize *length, GError **error)
{
    for (int tries = 0;; tries++) {
        struct stat before, after;
        g_autoptr(GError) problem = NULL;
        g_autoptr(GPtrArray) list = NULL;
        if (!history_there(store, &before))
            return g_ptr_array_new_with_free_func((GDestroyNotify) revision_free);
        g_autoptr(History) history =
            history_look(store->place->history, store->place->name, &problem);
        if (history != NULL)
            list = history_list(history, &problem);
        gint64 here = 0;
        g_clear_pointer(text, g_free);
        if (list != NULL && history_here(history, &here, &problem) && here != 0)
            *text = history_text(history, here, length, &problem);
        bool quiet = history_there(store, &after) && unmoved(&before, &after);
        if (!quiet && tries < 20) {
            g_usleep(10000);
            continue;
        }
        if (problem != NULL) {
            g_propagate_error(error, g_steal_pointer(&problem));
            return NULL;
        }
        return list != NULL ? g_steal_pointer(&list)
                            : g_ptr_array_new_with_free_func((GDestroyNotify) revision_free);
    }
}

GPtrArray *
store_history(Store *store, GError **error)
{
    g_autofree char *text = NULL;
    gsize length = 0;
    return look(store, &text, &length, error);
}

bool
store_outside(Store *store, bool *differs, GError **error)
{
    g_autofree char *known = NULL;
    gsize known_length = 0, length = 0;
    *differs = false;
    g_autoptr(GPtrArray) list = look(store, &known, &known_length, error);
    if (list == NULL)
        return false;
    g_autofree char *text = store_text(store, &length, error);
    if (text == NULL)
        return false;
    *differs = known != NULL && (known_length != length || memcmp(known, text, length) != 0);
    return true;
}
