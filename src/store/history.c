/* The history of a boat file in SQLite (write-ahead log, synchronous FULL).
 *
 * Invariant: `here` names the revision whose text the file was last given by us; rows are only ever
 * added. */
#include "store/history.h"

#include <gio/gio.h>
#include <sqlite3.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { SCHEMA = 2, WAIT_ms = 5000 };

struct History {
    sqlite3 *db;
    char *name;
    int schema; /* of the file: 1 did not know who saved */
};

static const char schema[] =
    "CREATE TABLE IF NOT EXISTS revision (id INTEGER PRIMARY KEY, parent INTEGER REFERENCES "
    "revision,"
    " made TEXT NOT NULL, reason TEXT NOT NULL, text TEXT NOT NULL) STRICT;"
    "CREATE TABLE IF NOT EXISTS here (one INTEGER PRIMARY KEY CHECK (one = 1),"
    " revision INTEGER NOT NULL REFERENCES revision) STRICT;"
    "CREATE INDEX IF NOT EXISTS revision_parent ON revision (parent);"
    "PRAGMA user_version = 1;";

static const char to_second_schema[] = "ALTER TABLE revision ADD COLUMN who TEXT;"
                                       "ALTER TABLE here ADD COLUMN who TEXT;"
                                       "PRAGMA user_version = 2;";

void
revision_free(Revision *revision)
{
    g_free(revision->made);
    g_free(revision->reason);
    g_free(revision->who);
    g_free(revision->brought_by);
    g_free(revision);
}

static bool
fail(History *history, GError **error)
{
    int code = sqlite3_errcode(history->db);
    g_autofree char *shown = g_filename_display_name(history->name);
    if (code == SQLITE_BUSY || code == SQLITE_LOCKED)
        g_set_error(error, STORE_ERROR, STORE_ERROR_BUSY,
                    "%s: another program has been saving it for more than %d s; nothing was "
                    "changed, try again",
                    shown, WAIT_ms / 1000);
    else if (code == SQLITE_NOTADB || code == SQLITE_CORRUPT)
        g_set_error(error, STORE_ERROR, STORE_ERROR_DISK,
                    "%s: its history is damaged (%s). The boat file itself is whole; move the "
                    "hidden folder beside it away "
                    "to go on with a new history",
                    shown, sqlite3_errmsg(history->db));
    else
        g_set_error(error, STORE_ERROR, STORE_ERROR_DISK,
                    "%s: its history: %s; nothing was changed", shown, sqlite3_errmsg(history->db));
    return false;
}

static bool
run(History *history, const char *sql, GError **error)
{
    return sqlite3_exec(history->db, sql, NULL, NULL, NULL) == SQLITE_OK || fail(history, error);
}

/* Switching to the write-ahead log needs the file to itself and does not call the busy handler. */
static bool
use_wal(History *history, GError **error)
{
    for (int waited = 0;; waited += 20) {
        int code = sqlite3_exec(history->db, "PRAGMA journal_mode=WAL", NULL, NULL, NULL);
        if (code == SQLITE_OK)
            return true; /* on a network folder another mode may be in force: it is safe too */
        if (code != SQLITE_BUSY || waited > WAIT_ms)
            return fail(history, error);
        g_usleep(20000);
    }
}

/* 0: there are no tables yet. */
static bool
schema_known(History *history, GError **error)
{
    sqlite3_stmt *ask = NULL;
    if (sqlite3_prepare_v2(history->db, "PRAGMA user_version", -1, &ask, NULL) != SQLITE_OK)
        return fail(history, error);
    history->schema = sqlite3_step(ask) == SQLITE_ROW ? sqlite3_column_int(ask, 0) : -1;
    sqlite3_finalize(ask);
    if (history->schema < 0)
        return fail(history, error);
    if (history->schema <= SCHEMA)
        return true;
    g_autofree char *shown = g_filename_display_name(history->name);
    g_set_error(error, STORE_ERROR, STORE_ERROR_DISK,
                "%s: its history was written by a newer careen", shown);
    return false;
}

/* Makes the tables, or adds what an earlier careen did not keep. Asks again under the lock: another
 * program may have done it meanwhile. */
static bool
bring_up_to_date(History *history, GError **error)
{
    if (history->schema == SCHEMA)
        return true;
    if (!run(history, "BEGIN IMMEDIATE", error))
        return false;
    if (schema_known(history, error) && (history->schema >= 1 || run(history, schema, error)) &&
        (history->schema == SCHEMA || run(history, to_second_schema, error)) &&
        run(history, "COMMIT", error)) {
        history->schema = SCHEMA;
        return true;
    }
    history_rollback(history);
    return false;
}

static History *
history_connect(const char *file, int flags, const char *name, GError **error)
{
    History *history = g_new0(History, 1);
    history->name = g_strdup(name);
    if (sqlite3_open_v2(file, &history->db, flags | SQLITE_OPEN_NOMUTEX, NULL) != SQLITE_OK) {
        fail(history, error);
        history_close(history);
        return NULL;
    }
    sqlite3_extended_result_codes(history->db, 0);
    sqlite3_busy_timeout(history->db, WAIT_ms);
    return history;
}

/* The history may be read and written by whoever may do so with its folder; SQLite gives its side
 * files the same owner and mode. Where that cannot be granted the history still serves its maker. */
static void
share(const char *folder, const char *file)
{
    struct stat now;
    if (stat(folder, &now) != 0 || chmod(file, now.st_mode & 0666) != 0)
        return;
    if (geteuid() == 0 && now.st_uid != 0 && chown(file, now.st_uid, now.st_gid) != 0)
        g_debug("%s keeps its owner", file);
}

History *
history_open(const char *folder, const char *name, GError **error)
{
    g_autofree char *file = g_build_filename(folder, "history.sqlite", NULL);
    bool fresh = access(file, F_OK) != 0;
    g_autoptr(History) history =
        history_connect(file, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, name, error);
    if (history == NULL)
        return NULL;
    if (fresh)
        share(folder, file);
    if (!schema_known(history, error) || !use_wal(history, error))
        return NULL;
    if (!run(history, "PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON; PRAGMA trusted_schema=OFF",
             error))
        return NULL;
    return bring_up_to_date(history, error) ? g_steal_pointer(&history) : NULL;
}

/* With no log beside it the database is one quiet file, and may be read as immutable: SQLite then
 * makes no side files. Escaped, since a name may hold '?' or '#'. */
static char *
immutable_uri(const char *file)
{
    g_autofree char *escaped = g_uri_escape_string(file, "/", FALSE);
    return g_strdup_printf("file:%s?immutable=1", escaped);
}

History *
history_look(const char *folder, const char *name, GError **error)
{
    g_autofree char *file = g_build_filename(folder, "history.sqlite", NULL);
    g_autofree char *log = g_strconcat(file, "-wal", NULL);
    struct stat now;
    if (stat(file, &now) != 0 || now.st_size == 0)
        return NULL;
    g_autoptr(History) history = NULL;
    if (stat(log, &now) != 0 || now.st_size == 0) {
        g_autofree char *uri = immutable_uri(file);
        history = history_connect(uri, SQLITE_OPEN_READONLY | SQLITE_OPEN_URI, name, error);
    } else {
        history = history_connect(file, SQLITE_OPEN_READONLY, name, error);
    }
    if (history == NULL || !schema_known(history, error))
        return NULL;
    return history->schema > 0 ? g_steal_pointer(&history) : NULL;
}

void
history_close(History *history)
{
    if (history == NULL)
        return;
    sqlite3_close(history->db);
    g_free(history->name);
    g_free(history);
}

bool
history_begin(History *history, GError **error)
{
    return run(history, "BEGIN IMMEDIATE", error);
}

bool
history_commit(History *history, GError **error)
{
    return run(history, "COMMIT", error);
}

void
history_rollback(History *history)
{
    if (!sqlite3_get_autocommit(history->db))
        sqlite3_exec(history->db, "ROLLBACK", NULL, NULL, NULL);
}

/* A query with one integer in and one integer out; 0 when there is no row or it is NULL. */
static bool
ask_id(History *history, const char *sql, gint64 in, gint64 *out, GError **error)
{
    *out = 0;
    sqlite3_stmt *ask = NULL;
    if (sqlite3_prepare_v2(history->db, sql, -1, &ask, NULL) != SQLITE_OK)
        return fail(history, error);
    if (sqlite3_bind_parameter_count(ask) > 0)
        sqlite3_bind_int64(ask, 1, in);
    int code = sqlite3_step(ask);
    if (code == SQLITE_ROW)
        *out = sqlite3_column_int64(ask, 0);
    sqlite3_finalize(ask);
    return code == SQLITE_ROW || code == SQLITE_DONE || fail(history, error);
}

bool
history_here(History *history, gint64 *id, GError **error)
{
    return ask_id(history, "SELECT revision FROM here WHERE one = 1", 0, id, error);
}

bool
history_parent(History *history, gint64 id, gint64 *parent, GError **error)
{
    return ask_id(history, "SELECT parent FROM revision WHERE id = ?", id, parent, error);
}

bool
history_newest_child(History *history, gint64 id, gint64 *child, GError **error)
{
    return ask_id(history, "SELECT max(id) FROM revision WHERE parent = ?", id, child, error);
}

static char *
ask_text(History *history, const char *sql, gint64 id, gsize *length, GError **error)
{
    sqlite3_stmt *ask = NULL;
    *length = 0;
    if (sqlite3_prepare_v2(history->db, sql, -1, &ask, NULL) != SQLITE_OK) {
        fail(history, error);
        return NULL;
    }
    sqlite3_bind_int64(ask, 1, id);
    char *text = NULL;
    int code = sqlite3_step(ask);
    if (code == SQLITE_ROW) {
        const void *bytes = sqlite3_column_text(ask, 0);
        *length = (gsize) sqlite3_column_bytes(ask, 0);
        text = g_malloc(*length + 1);
        if (*length > 0)
            memcpy(text, bytes, *length);
        text[*length] = '\0';
    } else if (code != SQLITE_DONE) {
        fail(history, error);
    }
    sqlite3_finalize(ask);
    return text;
}

char *
history_text(History *history, gint64 id, gsize *length, GError **error)
{
    return ask_text(history, "SELECT text FROM revision WHERE id = ?", id, length, error);
}

char *
history_reason(History *history, gint64 id, GError **error)
{
    gsize length;
    return ask_text(history, "SELECT reason FROM revision WHERE id = ?", id, &length, error);
}

static Revision *
revision_read(sqlite3_stmt *ask)
{
    Revision *revision = g_new0(Revision, 1);
    revision->id = sqlite3_column_int64(ask, 0);
    revision->parent = sqlite3_column_int64(ask, 1);
    revision->made = g_strdup((const char *) sqlite3_column_text(ask, 2));
    revision->reason = g_strdup((const char *) sqlite3_column_text(ask, 3));
    revision->who = g_strdup((const char *) sqlite3_column_text(ask, 4));
    revision->here = sqlite3_column_type(ask, 5) != SQLITE_NULL;
    revision->brought_by = g_strdup((const char *) sqlite3_column_text(ask, 6));
    return revision;
}

static void
turn_round(GPtrArray *list)
{
    for (guint i = 0; i + 1 < list->len - i; i++) {
        gpointer other = list->pdata[list->len - 1 - i];
        list->pdata[list->len - 1 - i] = list->pdata[i];
        list->pdata[i] = other;
    }
}

/* The last so many only, where they are enough: who stands behind the whole text of its revision. */
GPtrArray *
history_latest(History *history, guint most, GError **error)
{
#define REVISIONS(who)                                                                             \
    "SELECT id, parent, made, reason, " who " FROM revision LEFT JOIN here ON revision = id "      \
    "ORDER BY id DESC LIMIT ?"
    static const char *const sql[] = {
        [1] = REVISIONS("NULL, one, NULL"),
        [2] = REVISIONS("revision.who, one, here.who"),
    };
#undef REVISIONS
    sqlite3_stmt *ask = NULL;
    if (sqlite3_prepare_v2(history->db, sql[history->schema], -1, &ask, NULL) != SQLITE_OK) {
        fail(history, error);
        return NULL;
    }
    sqlite3_bind_int64(ask, 1, most);
    g_autoptr(GPtrArray) list = g_ptr_array_new_with_free_func((GDestroyNotify) revision_free);
    int code;
    while ((code = sqlite3_step(ask)) == SQLITE_ROW)
        g_ptr_array_add(list, revision_read(ask));
    sqlite3_finalize(ask);
    if (code != SQLITE_DONE) {
        fail(history, error);
        return NULL;
    }
    turn_round(list);
    return g_steal_pointer(&list);
}

GPtrArray *
history_list(History *history, GError **error)
{
    return history_latest(history, G_MAXUINT, error);
}

/* NULL is bound as NULL. */
static void
bind_text(sqlite3_stmt *put, int place, const char *text)
{
    sqlite3_bind_text(put, place, text, -1, SQLITE_STATIC);
}

bool
history_move(History *history, gint64 id, const char *who, GError **error)
{
    sqlite3_stmt *put = NULL;
    if (sqlite3_prepare_v2(history->db,
                           "INSERT OR REPLACE INTO here (one, revision, who) VALUES (1, ?, ?)", -1,
                           &put, NULL) != SQLITE_OK)
        return fail(history, error);
    sqlite3_bind_int64(put, 1, id);
    bind_text(put, 2, who);
    int code = sqlite3_step(put);
    sqlite3_finalize(put);
    return code == SQLITE_DONE || fail(history, error);
}

bool
history_add(History *history, gint64 parent, const char *reason, const char *who, const char *text,
            gsize length, gint64 *id, GError **error)
{
    sqlite3_stmt *put = NULL;
    if (sqlite3_prepare_v2(
            history->db,
            "INSERT INTO revision (parent, made, reason, who, text) VALUES (?, ?, ?, ?, ?)", -1,
            &put, NULL) != SQLITE_OK)
        return fail(history, error);
    g_autoptr(GDateTime) now = g_date_time_new_now_utc();
    g_autofree char *made = g_date_time_format(now, "%Y-%m-%dT%H:%M:%SZ");
    if (parent > 0)
        sqlite3_bind_int64(put, 1, parent);
    bind_text(put, 2, made);
    bind_text(put, 3, reason);
    bind_text(put, 4, who);
    sqlite3_bind_text(put, 5, text, (int) length, SQLITE_STATIC);
    int code = sqlite3_step(put);
    sqlite3_finalize(put);
    if (code != SQLITE_DONE)
        return fail(history, error);
    *id = sqlite3_last_insert_rowid(history->db);
    return history_move(history, *id, NULL, error);
}
