/* Editing with history, as one person does it: undo, redo, branches, refusals, options. */
#include "store/store.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cmocka.h>

#include "scratch.h"

static Store *
open_store(const char *path)
{
    g_autoptr(GError) error = NULL;
    Store *store = store_open(path, &error);
    assert_null(error);
    assert_non_null(store);
    return store;
}

static Saved *
try_set(Store *store, const char *path, const char *value, GError **error)
{
    Edit edit = {.path = path, .value = value};
    Change change = {.n = 1, .edit = &edit};
    return store_edit(store, &change, error);
}

static gint64
set(Store *store, const char *path, const char *value)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Saved) saved = try_set(store, path, value, &error);
    assert_null(error);
    assert_true(saved->changed);
    return saved->revision;
}

/* The scratch boat with one piece of its text replaced. */
static char *
boat_with(const char *old, const char *new)
{
    const char *at = strstr(scratch_boat, old);
    assert_non_null(at);
    return g_strdup_printf("%.*s%s%s", (int) (at - scratch_boat), scratch_boat, new,
                           at + strlen(old));
}

static void
edit_keeps_every_other_byte(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Store) store = open_store(scratch->file);
    g_autoptr(Saved) saved = try_set(store, "items.stove.mass", "95 kg", &error);
    assert_null(error);
    g_autofree char *wanted = boat_with("90 kg", "95 kg");
    scratch_holds(scratch->file, wanted);
    assert_string_equal(saved->text, wanted);
    assert_int_equal(saved->length, strlen(wanted));
    const Edited *one = g_ptr_array_index(saved->edited, 0);
    assert_string_equal(one->path, "items.stove.mass");
    assert_null(one->option);
    assert_string_equal(one->before, "90 kg");
    assert_string_equal(one->after, "95 kg");
    assert_non_null(strstr(saved->reason, "items.stove.mass"));
}

static void
undo_gives_back_the_bytes(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Store) store = open_store(scratch->file);
    set(store, "items.stove.mass", "95 kg");
    set(store, "items.anchor.mass", "40 kg");
    g_autofree char *after_one = boat_with("90 kg", "95 kg");
    g_autoptr(Saved) first = store_undo(store, NULL, &error);
    assert_null(error);
    scratch_holds(scratch->file, after_one);
    g_autoptr(Saved) second = store_undo(store, NULL, &error);
    assert_null(error);
    scratch_holds(scratch->file, scratch_boat);
    g_autoptr(Saved) third = store_undo(store, NULL, &error);
    assert_null(third);
    assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_INPUT));
    scratch_holds(scratch->file, scratch_boat);
}

static void
redo_walks_forward(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Store) store = open_store(scratch->file);
    set(store, "items.stove.mass", "95 kg");
    g_autofree char *after = boat_with("90 kg", "95 kg");
    saved_free(store_undo(store, NULL, NULL));
    g_autoptr(Saved) again = store_redo(store, NULL, &error);
    assert_null(error);
    scratch_holds(scratch->file, after);
    g_autoptr(Saved) more = store_redo(store, NULL, &error);
    assert_null(more);
    assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_INPUT));
}

static void
edit_after_undo_branches(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Store) store = open_store(scratch->file);
    gint64 left = set(store, "items.stove.mass", "95 kg");
    saved_free(store_undo(store, NULL, NULL));
    set(store, "items.stove.mass", "80 kg");
    saved_free(store_undo(store, NULL, NULL));
    g_autoptr(Saved) again = store_redo(store, NULL, &error);
    g_autofree char *newest = boat_with("90 kg", "80 kg");
    scratch_holds(scratch->file, newest);
    g_autoptr(Saved) back = store_restore(store, left, NULL, &error);
    assert_null(error);
    g_autofree char *older = boat_with("90 kg", "95 kg");
    scratch_holds(scratch->file, older);
    saved_free(store_undo(store, NULL, NULL));
    scratch_holds(scratch->file, newest);
}

static void
restore_needs_a_revision(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Store) store = open_store(scratch->file);
    assert_null(store_restore(store, 1, NULL, &error));
    assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_INPUT));
    g_clear_error(&error);
    assert_int_not_equal(access(scratch->history, F_OK), 0);
    set(store, "items.stove.mass", "95 kg");
    assert_null(store_restore(store, 77, NULL, &error));
    assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_INPUT));
}

static void
outside_edit_is_kept(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Store) store = open_store(scratch->file);
    set(store, "items.stove.mass", "95 kg");
    g_autofree char *outside = boat_with("bower anchor", "kedge");
    scratch_write(scratch->file, outside);
    bool differs = false;
    assert_true(store_outside(store, &differs, &error));
    assert_true(differs);
    g_autoptr(Saved) saved = try_set(store, "items.anchor.mass", "36 kg", &error);
    assert_null(error);
    assert_true(saved->outside > 0);
    saved_free(store_undo(store, NULL, NULL));
    scratch_holds(scratch->file, outside);
    saved_free(store_undo(store, NULL, NULL));
    g_autofree char *ours = boat_with("90 kg", "95 kg");
    scratch_holds(scratch->file, ours);
    g_autoptr(GPtrArray) list = store_history(store, NULL);
    assert_int_equal(list->len, 4);
    assert_string_equal(((Revision *) g_ptr_array_index(list, 0))->reason, "as found");
    assert_string_equal(((Revision *) g_ptr_array_index(list, 2))->reason, "edited outside careen");
}

static void
nothing_new_saves_nothing(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Store) store = open_store(scratch->file);
    g_autoptr(Saved) saved = try_set(store, "items.stove.mass", "90 kg", &error);
    assert_null(error);
    assert_false(saved->changed);
    scratch_holds(scratch->file, scratch_boat);
}

static void
refused(const Scratch *scratch, const char *path, const char *value, const char *says)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Store) store = open_store(scratch->file);
    assert_null(try_set(store, path, value, &error));
    assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_REFUSED));
    if (strstr(error->message, says) == NULL)
        fail_msg("\"%s\" is not in: %s", says, error->message);
    scratch_holds(scratch->file, scratch_boat);
    assert_int_not_equal(access(scratch->history, F_OK), 0);
}

static void
wrong_edits_are_refused(void **state)
{
    const Scratch *scratch = *state;
    refused(scratch, "items.stove.mass", "95", "items.stove.mass");
    refused(scratch, "items.stove.mass", "95 kilopond-weeks", "items.stove.mass");
    refused(scratch, "items.stove.mas", "95 kg", "mass");
    refused(scratch, "items.STOVE.mass", "95 kg", "STOVE");
    refused(scratch, "careen", "2", "careen");
    refused(scratch, "boat.name", NULL, "name");
    refused(scratch, "options.light.changes.items.anchor.mass", "7", "mass");
    refused(scratch, "", "95 kg", "");
    refused(scratch, "items..mass", "95 kg", "");
}

/* A file that was wrong already can still be edited, towards right. */
static void
old_errors_do_not_refuse(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autofree char *wrong = boat_with("35 kg", "35");
    scratch_write(scratch->file, wrong);
    g_autoptr(Store) store = open_store(scratch->file);
    set(store, "items.stove.mass", "95 kg");
    set(store, "items.anchor.mass", "35 kg");
    g_autofree char *right = boat_with("90 kg", "95 kg");
    scratch_holds(scratch->file, right);
}

static void
option_is_edited_where_it_speaks(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Store) store = open_store(scratch->file);
    const char *const options[] = {"light"};
    Edit edits[] = {{.path = "items.anchor.mass", .value = "22 kg"},
                    {.path = "items.stove.mass", .value = "85 kg"}};
    Change change = {
        .n = 2, .edit = edits, .n_options = 1, .options = options, .reason = "two\nat once"};
    g_autoptr(Saved) saved = store_edit(store, &change, &error);
    assert_null(error);
    const Edited *in_option = g_ptr_array_index(saved->edited, 0);
    const Edited *in_base = g_ptr_array_index(saved->edited, 1);
    assert_string_equal(in_option->option, "light");
    assert_string_equal(in_option->path, "options.light.changes.items.anchor.mass");
    assert_string_equal(in_option->before, "20 kg");
    assert_null(in_base->option);
    assert_string_equal(saved->reason, "two at once");
    assert_non_null(strstr(saved->text, "          mass: 22 kg\n"));
    assert_non_null(strstr(saved->text, "    mass: 85 kg\n"));
    assert_non_null(strstr(saved->text, "    mass: 35 kg\n"));
}

static void
conflict_names_both(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Store) mine = open_store(scratch->file);
    g_autoptr(Store) theirs = open_store(scratch->file);
    gsize length;
    g_autofree char *seen = store_text(mine, &length, NULL);
    set(theirs, "items.stove.mass", "95 kg");
    Edit edit = {.path = "items.stove.mass", .value = "80 kg"};
    Change change = {.n = 1, .edit = &edit, .made_on = seen, .made_on_length = length};
    assert_null(store_edit(mine, &change, &error));
    assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_CONFLICT));
    assert_non_null(strstr(error->message, "90 kg"));
    assert_non_null(strstr(error->message, "95 kg"));
    g_clear_error(&error);
    Edit other = {.path = "items.anchor.mass", .value = "30 kg"};
    change.edit = &other;
    g_autoptr(Saved) saved = store_edit(mine, &change, &error);
    assert_null(error);
    assert_non_null(strstr(saved->text, "mass: 95 kg"));
    assert_non_null(strstr(saved->text, "mass: 30 kg"));
}

static void
full_disk_changes_nothing(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(Store) store = open_store(scratch->file);
    set(store, "items.stove.mass", "95 kg");
    g_autofree char *before = boat_with("90 kg", "95 kg");
    struct rlimit wide, tight;
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &wide), 0);
    signal(SIGXFSZ, SIG_IGN);
    /* every length at which one of the files written (text, log, database) stops growing */
    for (rlim_t limit = 0; limit <= 40000; limit = limit < 1000 ? limit + 100 : limit + 1000) {
        tight = wide;
        tight.rlim_cur = limit;
        g_autoptr(GError) error = NULL;
        assert_int_equal(setrlimit(RLIMIT_FSIZE, &tight), 0);
        g_autoptr(Saved) saved = try_set(store, "items.stove.mass", "96 kg", &error);
        assert_int_equal(setrlimit(RLIMIT_FSIZE, &wide), 0);
        if (saved != NULL) {
            saved_free(store_undo(store, NULL, NULL));
        } else {
            assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_DISK));
        }
        scratch_holds(scratch->file, before);
    }
    set(store, "items.stove.mass", "96 kg");
}

/* A disk of 200 kB, where we are allowed to have one. */
static void
small_disk_changes_nothing(void **state)
{
    const Scratch *scratch = *state;
    g_autofree char *disk = scratch_path(scratch, "disk");
    assert_int_equal(mkdir(disk, 0700), 0);
    if (mount("none", disk, "tmpfs", 0, "size=200k") != 0)
        skip();
    g_autofree char *file = g_build_filename(disk, "scratch.yaml", NULL);
    scratch_write(file, scratch_boat);
    Store *store = open_store(file);
    g_autofree char *last = g_strdup(scratch_boat);
    bool full = false;
    for (int i = 0; i < 500 && !full; i++) {
        g_autoptr(GError) error = NULL;
        g_autofree char *value = g_strdup_printf("%d kg", 100 + i);
        g_autoptr(Saved) saved = try_set(store, "items.stove.mass", value, &error);
        full = saved == NULL;
        if (full)
            assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_DISK));
        else
            last = (g_free(last), g_strdup(saved->text));
        scratch_holds(file, last);
    }
    store_close(store);
    assert_true(full);
    assert_int_equal(umount(disk), 0);
}

static void
moved_history_starts_anew(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Store) store = open_store(scratch->file);
    set(store, "items.stove.mass", "95 kg");
    g_autofree char *away = scratch_path(scratch, "away");
    assert_int_equal(rename(scratch->history, away), 0);
    set(store, "items.stove.mass", "96 kg");
    g_autoptr(GPtrArray) list = store_history(store, &error);
    assert_non_null(list);
    assert_int_equal(list->len, 2);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, scratch_make, scratch_remove)

int
main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(edit_keeps_every_other_byte), TEST(undo_gives_back_the_bytes),
        TEST(redo_walks_forward),          TEST(edit_after_undo_branches),
        TEST(restore_needs_a_revision),    TEST(outside_edit_is_kept),
        TEST(nothing_new_saves_nothing),   TEST(wrong_edits_are_refused),
        TEST(old_errors_do_not_refuse),    TEST(option_is_edited_where_it_speaks),
        TEST(conflict_names_both),         TEST(full_disk_changes_nothing),
        TEST(small_disk_changes_nothing),  TEST(moved_history_starts_anew),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
