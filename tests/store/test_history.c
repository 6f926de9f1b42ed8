/* The tree of revisions in SQLite. */
#include "store/history.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cmocka.h>
#include <sqlite3.h>

#include "scratch.h"

static History *
open_at(const char *folder)
{
    g_autoptr(GError) error = NULL;
    g_mkdir_with_parents(folder, 0700);
    History *history = history_open(folder, "scratch.yaml", &error);
    assert_null(error);
    assert_non_null(history);
    return history;
}

static gint64
add(History *history, gint64 parent, const char *text, gsize length)
{
    gint64 id = 0;
    assert_true(history_begin(history, NULL));
    assert_true(history_add(history, parent, "because", "ada", text, length, &id, NULL));
    assert_true(history_commit(history, NULL));
    return id;
}

static void
tree_is_walked(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(History) history = open_at(scratch->history);
    gint64 here = -1, found = -1;
    assert_true(history_here(history, &here, NULL));
    assert_int_equal(here, 0);
    gint64 first = add(history, 0, "a", 1);
    gint64 second = add(history, first, "b", 1);
    gint64 third = add(history, first, "c", 1);
    assert_true(history_here(history, &here, NULL));
    assert_int_equal(here, third);
    assert_true(history_parent(history, third, &found, NULL));
    assert_int_equal(found, first);
    assert_true(history_parent(history, first, &found, NULL));
    assert_int_equal(found, 0);
    assert_true(history_newest_child(history, first, &found, NULL));
    assert_int_equal(found, third);
    assert_true(history_newest_child(history, second, &found, NULL));
    assert_int_equal(found, 0);
    g_autoptr(GPtrArray) list = history_list(history, NULL);
    assert_int_equal(list->len, 3);
    const Revision *last = g_ptr_array_index(list, 2);
    assert_true(last->here);
    assert_int_equal(last->parent, first);
    assert_string_equal(last->reason, "because");
    assert_string_equal(last->who, "ada");
    assert_null(last->brought_by);
    assert_int_equal(strlen(last->made), strlen("2027-04-12T17:30:05Z"));
}

static void
bytes_come_back(void **state)
{
    const Scratch *scratch = *state;
    static const char bytes[] = "\xef\xbb\xbf"
                                "a\0b\xff\r\n";
    g_autoptr(History) history = open_at(scratch->history);
    gint64 id = add(history, 0, bytes, sizeof bytes - 1);
    gint64 empty = add(history, id, "", 0);
    gsize length;
    g_autofree char *text = history_text(history, id, &length, NULL);
    assert_int_equal(length, sizeof bytes - 1);
    assert_memory_equal(text, bytes, length);
    g_autofree char *nothing = history_text(history, empty, &length, NULL);
    assert_non_null(nothing);
    assert_int_equal(length, 0);
    g_autofree char *none = history_text(history, 99, &length, NULL);
    assert_null(none);
}

static void
rollback_forgets(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(History) history = open_at(scratch->history);
    gint64 id, here;
    assert_true(history_begin(history, NULL));
    assert_true(history_add(history, 0, "because", NULL, "a", 1, &id, NULL));
    history_rollback(history);
    assert_true(history_here(history, &here, NULL));
    assert_int_equal(here, 0);
}

static GHashTable *
files_in(const char *folder)
{
    GHashTable *files = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, g_free);
    g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
    const char *name;
    while (dir != NULL && (name = g_dir_read_name(dir)) != NULL) {
        g_autofree char *path = g_build_filename(folder, name, NULL);
        char *text = NULL;
        assert_true(g_file_get_contents(path, &text, NULL, NULL));
        g_free(text);
        struct stat now;
        assert_int_equal(stat(path, &now), 0);
        g_hash_table_insert(files, g_strdup(name),
                            g_strdup_printf("%ld %ld.%09ld", (long) now.st_size,
                                            (long) now.st_mtim.tv_sec, now.st_mtim.tv_nsec));
    }
    return files;
}

static void
looking_writes_nothing(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    assert_null(history_look(scratch->history, "scratch.yaml", &error));
    assert_null(error);
    assert_int_not_equal(access(scratch->history, F_OK), 0);
    History *history = open_at(scratch->history);
    add(history, 0, "a", 1);
    history_close(history);
    g_autoptr(GHashTable) before = files_in(scratch->history);
    assert_true(g_hash_table_size(before) >= 1);
    g_autoptr(History) seen = history_look(scratch->history, "scratch.yaml", &error);
    assert_non_null(seen);
    g_autoptr(GPtrArray) list = history_list(seen, &error);
    assert_int_equal(list->len, 1);
    g_autoptr(GHashTable) after = files_in(scratch->history);
    assert_int_equal(g_hash_table_size(after), g_hash_table_size(before));
    GHashTableIter walk;
    gpointer name, mark;
    g_hash_table_iter_init(&walk, before);
    while (g_hash_table_iter_next(&walk, &name, &mark))
        assert_string_equal(g_hash_table_lookup(after, name), mark);
}

static void
looking_sees_what_another_just_saved(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(History) history = open_at(scratch->history);
    add(history, 0, "a", 1);
    g_autoptr(History) seen = history_look(scratch->history, "scratch.yaml", NULL);
    assert_non_null(seen);
    g_autoptr(GPtrArray) list = history_list(seen, NULL);
    assert_int_equal(list->len, 1);
}

static void
damage_is_said(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_mkdir_with_parents(scratch->history, 0700);
    g_autofree char *file = g_build_filename(scratch->history, "history.sqlite", NULL);
    scratch_write(
        file,
        "this is no database, whatever its name says; it is long enough to be read as a page");
    assert_null(history_open(scratch->history, "scratch.yaml", &error));
    assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_DISK));
    assert_non_null(strstr(error->message, "damaged"));
}

/* What the careen before this one wrote, word for word. */
static const char first_schema[] =
    "PRAGMA journal_mode=WAL;"
    "CREATE TABLE revision (id INTEGER PRIMARY KEY, parent INTEGER REFERENCES revision,"
    " made TEXT NOT NULL, reason TEXT NOT NULL, text TEXT NOT NULL) STRICT;"
    "CREATE TABLE here (one INTEGER PRIMARY KEY CHECK (one = 1),"
    " revision INTEGER NOT NULL REFERENCES revision) STRICT;"
    "CREATE INDEX revision_parent ON revision (parent);"
    "PRAGMA user_version = 1;"
    "INSERT INTO revision VALUES (1, NULL, '2027-01-02T03:04:05Z', 'as found', 'a');"
    "INSERT INTO revision VALUES (2, 1, '2027-01-03T03:04:05Z', 'weighed', 'b');"
    "INSERT INTO here VALUES (1, 2);";

static void
write_first_history(const Scratch *scratch)
{
    assert_int_equal(g_mkdir_with_parents(scratch->history, 0700), 0);
    g_autofree char *file = g_build_filename(scratch->history, "history.sqlite", NULL);
    sqlite3 *db = NULL;
    assert_int_equal(sqlite3_open(file, &db), SQLITE_OK);
    assert_int_equal(sqlite3_exec(db, first_schema, NULL, NULL, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_close(db), SQLITE_OK);
}

static void
assert_nobody_known(const GPtrArray *list)
{
    assert_int_equal(list->len, 2);
    for (guint i = 0; i < list->len; i++) {
        const Revision *revision = g_ptr_array_index(list, i);
        assert_null(revision->who);
        assert_null(revision->brought_by);
        assert_int_equal(revision->here, i == 1);
        assert_int_equal(revision->parent, i);
        assert_string_equal(revision->reason, i == 0 ? "as found" : "weighed");
    }
}

static void
history_without_names_is_read_and_then_given_them(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    write_first_history(scratch);
    g_autofree char *file = g_build_filename(scratch->history, "history.sqlite", NULL);
    g_autofree char *before = NULL, *after = NULL;
    gsize length, after_length;
    assert_true(g_file_get_contents(file, &before, &length, NULL));
    g_autoptr(History) seen = history_look(scratch->history, "scratch.yaml", &error);
    assert_non_null(seen);
    g_autoptr(GPtrArray) old = history_list(seen, &error);
    assert_nobody_known(old);
    assert_true(g_file_get_contents(file, &after, &after_length, NULL));
    assert_int_equal(after_length, length);
    assert_memory_equal(after, before, length);

    g_autoptr(History) history = open_at(scratch->history);
    g_autoptr(GPtrArray) kept = history_list(history, &error);
    assert_nobody_known(kept);
    gint64 third = add(history, 2, "c", 1);
    g_autofree char *text = history_text(history, 2, &length, &error);
    assert_string_equal(text, "b");
    g_autoptr(GPtrArray) list = history_list(history, &error);
    assert_null(error);
    assert_int_equal(list->len, 3);
    const Revision *last = g_ptr_array_index(list, 2);
    assert_int_equal(last->id, third);
    assert_string_equal(last->who, "ada");
    assert_true(last->here);
}

/* Both have seen the first schema before either brings it up to date. */
static void
two_bring_it_up_to_date(void **state)
{
    const Scratch *scratch = *state;
    for (int i = 0; i < 20; i++) {
        write_first_history(scratch);
        pid_t child[2];
        for (int k = 0; k < 2; k++) {
            child[k] = fork();
            assert_true(child[k] >= 0);
            if (child[k] == 0) {
                History *history = history_open(scratch->history, "scratch.yaml", NULL);
                GPtrArray *list = history != NULL ? history_list(history, NULL) : NULL;
                _exit(list != NULL && list->len == 2 ? 0 : 1);
            }
        }
        for (int k = 0; k < 2; k++) {
            int status;
            assert_int_equal(waitpid(child[k], &status, 0), child[k]);
            assert_true(WIFEXITED(status) && WEXITSTATUS(status) == 0);
        }
        g_autoptr(GHashTable) files = files_in(scratch->history);
        GHashTableIter walk;
        gpointer name;
        g_hash_table_iter_init(&walk, files);
        while (g_hash_table_iter_next(&walk, &name, NULL)) {
            g_autofree char *path = g_build_filename(scratch->history, name, NULL);
            assert_int_equal(unlink(path), 0);
        }
    }
}

static void
newer_history_is_left_alone(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    write_first_history(scratch);
    g_autofree char *file = g_build_filename(scratch->history, "history.sqlite", NULL);
    sqlite3 *db = NULL;
    assert_int_equal(sqlite3_open(file, &db), SQLITE_OK);
    assert_int_equal(sqlite3_exec(db, "PRAGMA user_version = 3", NULL, NULL, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_close(db), SQLITE_OK);
    assert_null(history_open(scratch->history, "scratch.yaml", &error));
    assert_non_null(strstr(error->message, "newer"));
    g_clear_error(&error);
    assert_null(history_look(scratch->history, "scratch.yaml", &error));
    assert_non_null(strstr(error->message, "newer"));
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, scratch_make, scratch_remove)

int
main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(tree_is_walked),
        TEST(bytes_come_back),
        TEST(rollback_forgets),
        TEST(looking_writes_nothing),
        TEST(damage_is_said),
        TEST(looking_sees_what_another_just_saved),
        TEST(history_without_names_is_read_and_then_given_them),
        TEST(two_bring_it_up_to_date),
        TEST(newer_history_is_left_alone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
