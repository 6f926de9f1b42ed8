/* The tree of revisions in SQLite. */
#include "store/history.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cmocka.h>

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
    assert_true(history_add(history, parent, "because", text, length, &id, NULL));
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
    assert_true(history_add(history, 0, "because", "a", 1, &id, NULL));
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

#define TEST(name) cmocka_unit_test_setup_teardown(name, scratch_make, scratch_remove)

int
main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(tree_is_walked),   TEST(bytes_come_back),
        TEST(rollback_forgets), TEST(looking_writes_nothing),
        TEST(damage_is_said),   TEST(looking_sees_what_another_just_saved),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
