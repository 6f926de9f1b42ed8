/* The boat file as the pages know it.
 * Invariant: edition is a text that boat_parse takes without an error, or NULL while there never was one. */
#include "app/page/desk.h"

#include <gio/gio.h>
#include <string.h>

#include "boat/boat.h"

struct Desk {
    char *file, *id, *folder;
    Store *saving; /* of the one thread that saves */
    GFileMonitor *monitor;
    void (*changed)(Desk *desk, void *data);
    void *data;
    GMutex mutex; /* guards what follows */
    Edition *edition;
    char *trouble;
    char *seen; /* the text last read, good or not; NULL: it could not be read */
    gsize seen_length;
    gint64 number;
    bool saves, missed;  /* while we save, the file is not read again; somebody wanted it to be */
    GHashTable *changes; /* revision -> Changes: what a revision changed never changes */
};

typedef struct {
    GPtrArray *edited;
    bool more;
} Changes;

enum { MOST_CHANGES = 400 };

static void
changes_free(gpointer data)
{
    Changes *changes = data;
    g_ptr_array_unref(changes->edited);
    g_free(changes);
}

Edition *
edition_new(char *text, gsize length, Document *document, gint64 number)
{
    Edition *edition = g_atomic_rc_box_new0(Edition);
    *edition = (Edition){.document = document != NULL ? document_ref(document) : NULL,
                         .text = text,
                         .length = length,
                         .number = number};
    return edition;
}

Edition *
edition_of(Document *document, gint64 number)
{
    gsize length;
    const char *text = document_text(document, &length);
    return edition_new(g_memdup2(text, length + 1), length, document, number);
}

Edition *
edition_ref(Edition *edition)
{
    return g_atomic_rc_box_acquire(edition);
}

static void
edition_clear(void *data)
{
    Edition *edition = data;
    document_unref(edition->document);
    g_free(edition->text);
}

void
edition_unref(Edition *edition)
{
    if (edition != NULL)
        g_atomic_rc_box_release_full(edition, edition_clear);
}

/* NULL when the text is a good boat file; else what is wrong with it, a line each. */
static char *
wrong_with(const Desk *desk, const char *text, gsize length, Document **document)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Diagnostics) notes = diagnostics_new();
    *document = document_parse(text, length, notes);
    g_autoptr(Boat) boat = *document != NULL ? boat_read(*document, 0, NULL, notes, &error) : NULL;
    if (boat != NULL && diagnostics_errors(notes) == 0)
        return NULL;
    g_autoptr(GString) out = g_string_new(NULL);
    g_autofree char *name = g_path_get_basename(desk->file);
    for (size_t i = 0; i < diagnostics_count(notes); i++) {
        const Note *note = diagnostics_note(notes, i);
        if (note->level == NOTE_ERROR)
            g_string_append_printf(out, "%s, line %u: %s\n", name, note->line, note->text);
    }
    if (out->len == 0)
        g_string_append_printf(out, "%s: %s\n", name,
                               error != NULL ? error->message : "no boat file");
    return g_string_free(g_steal_pointer(&out), FALSE);
}

/* Under the mutex: what was read takes its place. */
static void
take(Desk *desk, char *text, gsize length, Document *document, char *trouble)
{
    desk->number++;
    g_free(desk->seen);
    desk->seen = g_memdup2(text, text != NULL ? length : 0);
    desk->seen_length = length;
    g_free(desk->trouble);
    desk->trouble = trouble;
    if (text == NULL || trouble != NULL) {
        g_free(text);
        return;
    }
    edition_unref(desk->edition);
    desk->edition = edition_new(text, length, document, desk->number);
}

static bool
as_seen(const Desk *desk, const char *text, gsize length)
{
    if (text == NULL || desk->seen == NULL)
        return text == NULL && desk->seen == NULL && desk->trouble != NULL;
    return length == desk->seen_length && memcmp(text, desk->seen, length) == 0;
}

/* What is being saved is shown by who saves it; without this the folder's watch reads each of our own texts anew. */
static bool
may_read(Desk *desk, gint64 *number)
{
    g_mutex_lock(&desk->mutex);
    bool saves = desk->saves;
    desk->missed |= saves;
    *number = desk->number;
    g_mutex_unlock(&desk->mutex);
    return !saves;
}

typedef enum { READ_SAME, READ_NEWS, READ_OVERTAKEN } ReadEnd;

/* Under the mutex: what a text says that was read since the number was shown. */
static ReadEnd
read_end(const Desk *desk, gint64 number, const char *text, gsize length)
{
    if (as_seen(desk, text, length))
        return READ_SAME;
    return desk->number == number ? READ_NEWS : READ_OVERTAKEN;
}

static ReadEnd
read_file(Desk *desk, gint64 number)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Store) store = store_open(desk->file, &error);
    gsize length = 0;
    g_autofree char *text = store != NULL ? store_text(store, &length, &error) : NULL;
    g_mutex_lock(&desk->mutex);
    ReadEnd end = read_end(desk, number, text, length);
    g_mutex_unlock(&desk->mutex);
    if (end != READ_NEWS)
        return end;
    g_autoptr(Document) document = NULL;
    g_autofree char *trouble = text != NULL ? wrong_with(desk, text, length, &document)
                                            : g_strdup_printf("%s\n", error->message);
    g_mutex_lock(&desk->mutex);
    end = read_end(desk, number, text, length);
    if (end == READ_NEWS)
        take(desk, g_steal_pointer(&text), length, document, g_steal_pointer(&trouble));
    g_mutex_unlock(&desk->mutex);
    return end;
}

/* Read again where another text was shown meanwhile: which of the two is the newer one cannot be told. */
bool
desk_refresh(Desk *desk)
{
    gint64 number;
    ReadEnd end = READ_OVERTAKEN;
    while (end == READ_OVERTAKEN && may_read(desk, &number))
        end = read_file(desk, number);
    return end == READ_NEWS;
}

static char *
id_of(const char *file)
{
    char *name = g_path_get_basename(file);
    for (const char *const *end = (const char *const[]){".yaml", ".yml", NULL}; *end != NULL; end++)
        if (g_str_has_suffix(name, *end) && strlen(name) > strlen(*end)) {
            name[strlen(name) - strlen(*end)] = '\0';
            break;
        }
    return name;
}

Desk *
desk_new(const char *path, GError **error)
{
    g_autoptr(Store) store = store_open(path, error);
    if (store == NULL)
        return NULL;
    Desk *desk = g_new0(Desk, 1);
    g_mutex_init(&desk->mutex);
    desk->changes = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, changes_free);
    desk->file = g_strdup(path);
    desk->id = id_of(path);
    desk->folder = g_path_get_dirname(path);
    desk->saving = g_steal_pointer(&store);
    desk_refresh(desk);
    return desk;
}

void
desk_free(Desk *desk)
{
    if (desk == NULL)
        return;
    if (desk->monitor != NULL)
        g_file_monitor_cancel(desk->monitor);
    g_clear_object(&desk->monitor);
    store_close(desk->saving);
    edition_unref(desk->edition);
    g_mutex_clear(&desk->mutex);
    g_hash_table_unref(desk->changes);
    g_free(desk->trouble);
    g_free(desk->seen);
    g_free(desk->file);
    g_free(desk->id);
    g_free(desk->folder);
    g_free(desk);
}

const char *
desk_id(const Desk *desk)
{
    return desk->id;
}

const char *
desk_file(const Desk *desk)
{
    return desk->file;
}

const char *
desk_folder(const Desk *desk)
{
    return desk->folder;
}

Edition *
desk_edition(Desk *desk, gint64 *number)
{
    g_mutex_lock(&desk->mutex);
    *number = desk->number;
    Edition *edition = desk->edition != NULL ? edition_ref(desk->edition) : NULL;
    g_mutex_unlock(&desk->mutex);
    return edition;
}

char *
desk_trouble(Desk *desk)
{
    g_mutex_lock(&desk->mutex);
    char *trouble = g_strdup(desk->trouble);
    g_mutex_unlock(&desk->mutex);
    return trouble;
}

gint64
desk_number(Desk *desk)
{
    g_mutex_lock(&desk->mutex);
    gint64 number = desk->number;
    g_mutex_unlock(&desk->mutex);
    return number;
}

static void
file_event(GFileMonitor *monitor, GFile *file, GFile *other, GFileMonitorEvent event, gpointer data)
{
    (void) monitor, (void) file, (void) other, (void) event;
    Desk *desk = data;
    desk->changed(desk, desk->data);
}

void
desk_watch(Desk *desk, void (*changed)(Desk *desk, void *data), void *data)
{
    g_autoptr(GFile) file = g_file_new_for_path(desk->file);
    desk->changed = changed;
    desk->data = data;
    desk->monitor = g_file_monitor_file(file, G_FILE_MONITOR_WATCH_MOVES, NULL, NULL);
    if (desk->monitor == NULL)
        return;
    g_file_monitor_set_rate_limit(desk->monitor, 50);
    g_signal_connect(desk->monitor, "changed", G_CALLBACK(file_event), desk);
}

static void
begin_saving(Desk *desk)
{
    g_mutex_lock(&desk->mutex);
    desk->saves = true;
    g_mutex_unlock(&desk->mutex);
}

/* What was saved is shown at once. The store lets no good text go bad, so it need not be read again; what cannot be shown so, or
 * may have been written by somebody else meanwhile, is read. */
static void
end_saving(Desk *desk, const Saved *saved)
{
    g_mutex_lock(&desk->mutex);
    bool good = desk->trouble == NULL && saved != NULL && saved->document != NULL;
    if (good && !as_seen(desk, saved->text, saved->length))
        take(desk, g_memdup2(saved->text, saved->length + 1), saved->length, saved->document, NULL);
    if (saved != NULL && saved->outside != 0 && !saved->changed)
        desk->number++; /* the history tells more than before */
    bool again = !good || desk->missed;
    desk->saves = desk->missed = false;
    g_mutex_unlock(&desk->mutex);
    if (again && desk->changed != NULL)
        desk->changed(desk, desk->data);
    else if (again)
        desk_refresh(desk);
}

static void
keep_changes(Desk *desk, gint64 revision, GPtrArray *edited, bool more)
{
    Changes *changes = g_new(Changes, 1);
    *changes = (Changes){.edited = g_ptr_array_ref(edited), .more = more};
    g_mutex_lock(&desk->mutex);
    if (g_hash_table_size(desk->changes) >= MOST_CHANGES)
        g_hash_table_remove_all(desk->changes);
    g_hash_table_replace(desk->changes, g_memdup2(&revision, sizeof revision), changes);
    g_mutex_unlock(&desk->mutex);
}

/* One value for another: what the history would find by reading both texts again. */
static void
know_changes(Desk *desk, const Saved *saved)
{
    if (saved == NULL || !saved->changed || saved->edited->len != 1)
        return;
    const Edited *one = g_ptr_array_index(saved->edited, 0);
    if (one->before != NULL && one->after != NULL)
        keep_changes(desk, saved->revision, saved->edited, false);
}

Saved *
desk_edit(Desk *desk, const Change *change, GError **error)
{
    begin_saving(desk);
    Saved *saved = store_edit(desk->saving, change, error);
    know_changes(desk, saved);
    end_saving(desk, saved);
    return saved;
}

Saved *
desk_step(Desk *desk, DeskStep step, gint64 revision, const char *who, GError **error)
{
    begin_saving(desk);
    Saved *saved = step == DESK_UNDO   ? store_undo(desk->saving, who, error)
                   : step == DESK_REDO ? store_redo(desk->saving, who, error)
                                       : store_restore(desk->saving, revision, who, error);
    end_saving(desk, saved);
    return saved;
}

/* Looking has a store of its own: the one that saves belongs to another thread. */
Edition *
desk_earlier(const Desk *desk, gint64 revision, GError **error)
{
    gsize length;
    g_autoptr(Store) store = store_open(desk->file, error);
    char *text = store != NULL ? store_revision_text(store, revision, &length, error) : NULL;
    if (text == NULL)
        return NULL;
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Document) document = document_parse(text, length, notes);
    return edition_new(text, length, document, -revision);
}

GPtrArray *
desk_history(const Desk *desk, guint most, GError **error)
{
    g_autoptr(Store) store = store_open(desk->file, error);
    return store != NULL ? store_latest(store, most, error) : NULL;
}

GPtrArray *
desk_changes(Desk *desk, gint64 revision, bool *more, GError **error)
{
    g_mutex_lock(&desk->mutex);
    const Changes *known = g_hash_table_lookup(desk->changes, &revision);
    GPtrArray *edited = known != NULL ? g_ptr_array_ref(known->edited) : NULL;
    *more = known != NULL && known->more;
    g_mutex_unlock(&desk->mutex);
    if (edited != NULL)
        return edited;
    g_autoptr(Store) store = store_open(desk->file, error);
    edited = store != NULL ? store_changes(store, revision, more, error) : NULL;
    if (edited != NULL)
        keep_changes(desk, revision, edited, *more);
    return edited;
}
