/* Looking into the history while others save.
 *
 * Invariant: nothing is written, not even beside the history; a look that a saving crossed is done
 * again. */
#include <string.h>

#include "store/difference.h"
#include "store/store_internal.h"

bool
store_has_history(const Store *store, struct stat *now)
{
    g_autofree char *file = g_build_filename(store->place->history, "history.sqlite", NULL);
    return stat(file, now) == 0;
}

bool
store_has_no(const Store *store, const char *what, GError **error)
{
    g_autofree char *shown = g_filename_display_name(store->place->name);
    g_set_error(error, STORE_ERROR, STORE_ERROR_INPUT, "%s: %s", shown, what);
    return false;
}

typedef struct {
    char *text; /* NULL: none */
    gsize length;
} Bytes;

static void
bytes_clear(Bytes *bytes)
{
    g_clear_pointer(&bytes->text, g_free);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Bytes, bytes_clear)

/* What is looked for, and what was found. */
typedef struct {
    gint64 revision;    /* 0: the one that is here */
    guint list_wanted;  /* so many of the last revisions */
    bool parent_wanted; /* the text it was made on, too */
    GPtrArray *list;
    gint64 parent;
    Bytes text, before;
} Look;

static void
look_forget(Look *look)
{
    g_clear_pointer(&look->list, g_ptr_array_unref);
    bytes_clear(&look->text);
    bytes_clear(&look->before);
    look->parent = 0;
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Look, look_forget)

static bool
text_of(History *history, gint64 id, Bytes *bytes, GError **error)
{
    g_autoptr(GError) problem = NULL;
    bytes->text = history_text(history, id, &bytes->length, &problem);
    if (problem == NULL)
        return true;
    g_propagate_error(error, g_steal_pointer(&problem));
    return false;
}

static bool
look_into(History *history, Look *look, GError **error)
{
    gint64 id = look->revision;
    if (look->list_wanted > 0 &&
        (look->list = history_latest(history, look->list_wanted, error)) == NULL)
        return false;
    if (id == 0 && !history_here(history, &id, error))
        return false;
    if (id == 0)
        return true;
    if (look->parent_wanted && (!history_parent(history, id, &look->parent, error) ||
                                !text_of(history, look->parent, &look->before, error)))
        return false;
    return text_of(history, id, &look->text, error);
}

static bool
unmoved(const struct stat *a, const struct stat *b)
{
    return a->st_ino == b->st_ino && a->st_size == b->st_size &&
           a->st_mtim.tv_sec == b->st_mtim.tv_sec && a->st_mtim.tv_nsec == b->st_mtim.tv_nsec;
}

/* Without a history nothing is found, and that is no error. */
static bool
look(Store *store, Look *look, GError **error)
{
    for (int tries = 0;; tries++) {
        struct stat before, after;
        g_autoptr(GError) problem = NULL;
        if (!store_has_history(store, &before))
            return true;
        g_autoptr(History) history =
            history_look(store->place->history, store->place->name, &problem);
        if (history != NULL)
            look_into(history, look, &problem);
        bool quiet = store_has_history(store, &after) && unmoved(&before, &after);
        if (quiet || tries >= 20) {
            if (problem == NULL)
                return true;
            g_propagate_error(error, g_steal_pointer(&problem));
            return false;
        }
        look_forget(look);
        g_usleep(10000);
    }
}

GPtrArray *
store_history(Store *store, GError **error)
{
    return store_latest(store, G_MAXUINT, error);
}

GPtrArray *
store_latest(Store *store, guint most, GError **error)
{
    g_auto(Look) seen = {.list_wanted = most};
    if (!look(store, &seen, error))
        return NULL;
    return seen.list != NULL ? g_steal_pointer(&seen.list)
                             : g_ptr_array_new_with_free_func((GDestroyNotify) revision_free);
}

bool
store_outside(Store *store, bool *differs, GError **error)
{
    gsize length = 0;
    g_auto(Look) seen = {0};
    *differs = false;
    if (!look(store, &seen, error))
        return false;
    g_autofree char *text = store_text(store, &length, error);
    if (text == NULL)
        return false;
    *differs = seen.text.text != NULL &&
               (seen.text.length != length || memcmp(seen.text.text, text, length) != 0);
    return true;
}

/* False when there is no such revision. */
static bool
look_at(Store *store, gint64 revision, Look *seen, GError **error)
{
    seen->revision = revision;
    if (revision > 0 && !look(store, seen, error))
        return false;
    return seen->text.text != NULL || store_has_no(store, NO_SUCH_REVISION, error);
}

char *
store_revision_text(Store *store, gint64 revision, gsize *length, GError **error)
{
    g_auto(Look) seen = {0};
    *length = 0;
    if (!look_at(store, revision, &seen, error))
        return NULL;
    *length = seen.text.length;
    return g_steal_pointer(&seen.text.text);
}

GPtrArray *
store_changes(Store *store, gint64 revision, bool *more, GError **error)
{
    g_auto(Look) seen = {.parent_wanted = true};
    *more = false;
    if (!look_at(store, revision, &seen, error))
        return NULL;
    Bytes *before = seen.parent != 0 ? &seen.before : &seen.text;
    GPtrArray *changes = differences(before->text, before->length, seen.text.text, seen.text.length,
                                     STORE_MOST_CHANGES, more);
    if (changes == NULL)
        store_has_no(store,
                     "what changed then cannot be said, since one of the two texts is no boat file",
                     error);
    return changes;
}
