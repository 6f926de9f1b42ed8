/* Programs killed while saving, and two programs saving at once. */
#include "store/store.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cmocka.h>

#include "scratch.h"

enum { KILLS = 320, INCREMENTS = 60 };

static char *
boat_of(int mass)
{
    const char *at = strstr(scratch_boat, "90 kg");
    return g_strdup_printf("%.*s%d kg%s", (int) (at - scratch_boat), scratch_boat, mass,
                           at + strlen("90 kg"));
}

/* Saves one mass after the other and writes each into the pipe once it is acknowledged. Ends by
 * being killed. */
static void
save_until_killed(const char *file, int mass, int pipe)
{
    Store *store = store_open(file, NULL);
    for (;; mass++) {
        char value[32];
        snprintf(value, sizeof value, "%d kg", mass);
        Edit edit = {.path = "items.stove.mass", .value = value};
        Change change = {.n = 1, .edit = &edit, .reason = value};
        if (store == NULL || store_edit(store, &change, NULL) == NULL)
            _exit(1);
        if (write(pipe, &mass, sizeof mass) != sizeof mass)
            _exit(2);
    }
}

/* The last mass acknowledged before the kill, or last when there was none. */
static int
kill_one(const char *file, int first, int last, useconds_t life_us)
{
    int ends[2];
    assert_int_equal(pipe(ends), 0);
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        close(ends[0]);
        save_until_killed(file, first, ends[1]);
    }
    close(ends[1]);
    usleep(life_us);
    assert_int_equal(kill(child, SIGKILL), 0);
    int status, mass;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFSIGNALED(status));
    while (read(ends[0], &mass, sizeof mass) == sizeof mass)
        last = mass;
    close(ends[0]);
    return last;
}

/* How long a program lives until its first save is acknowledged, on this machine and in this build. Its mass is saved. */
static gint64
first_save_us(const char *file, int mass)
{
    int ends[2];
    assert_int_equal(pipe(ends), 0);
    gint64 start = g_get_monotonic_time();
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        Store *store = store_open(file, NULL);
        g_autofree char *value = g_strdup_printf("%d kg", mass);
        Edit edit = {.path = "items.stove.mass", .value = value};
        Change change = {.n = 1, .edit = &edit, .reason = value};
        bool good = store != NULL && store_edit(store, &change, NULL) != NULL;
        _exit(good && write(ends[1], &mass, sizeof mass) == sizeof mass ? 0 : 1);
    }
    close(ends[1]);
    int saved = 0, status;
    assert_int_equal(read(ends[0], &saved, sizeof saved), sizeof saved);
    gint64 took = g_get_monotonic_time() - start;
    close(ends[0]);
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(saved, mass);
    return took;
}

static GHashTable *
reasons(const Scratch *scratch)
{
    g_autoptr(Store) store = store_open(scratch->file, NULL);
    g_autoptr(GError) error = NULL;
    g_autoptr(GPtrArray) list = store_history(store, &error);
    assert_null(error);
    GHashTable *said = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
    for (guint i = 0; i < list->len; i++)
        g_hash_table_add(said, g_strdup(((Revision *) g_ptr_array_index(list, i))->reason));
    return said;
}

/* A kill before the commit leaves the file one ahead of what was acknowledged; the value is then
 * recorded as an edit from outside, and the next child saves the one after it. */
static void
killed_at_any_instant(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GArray) acknowledged = g_array_new(FALSE, FALSE, sizeof(int));
    int last = 91, in_flight = 0;
    gint64 longest_us = MAX(20000, 3 * first_save_us(scratch->file, last));
    srand(20270412);
    for (int i = 0; i < KILLS; i++) {
        int first = last + 1;
        int now = kill_one(scratch->file, first, last, (useconds_t) (rand() % longest_us));
        for (int mass = first; mass <= now; mass++)
            g_array_append_val(acknowledged, mass);
        g_autofree char *known = boat_of(now);
        g_autofree char *ahead = boat_of(now + 1);
        g_autofree char *text = NULL;
        assert_true(g_file_get_contents(scratch->file, &text, NULL, NULL));
        if (strcmp(text, ahead) == 0) {
            in_flight++;
            now++;
        } else {
            assert_string_equal(text, known);
        }
        last = now;
        /* A machine that has grown slower meanwhile is given longer, so that saves are seen through too. */
        if (i % 25 == 24 && acknowledged->len == 0)
            longest_us *= 3;
    }
    print_message(
        "%u saves acknowledged, %d kills, %d of them with a finished file not yet acknowledged\n",
        acknowledged->len, KILLS, in_flight);
    assert_true(acknowledged->len > 0);
    g_autoptr(GHashTable) said = reasons(scratch);
    for (guint i = 0; i < acknowledged->len; i++) {
        g_autofree char *reason = g_strdup_printf("%d kg", g_array_index(acknowledged, int, i));
        if (!g_hash_table_contains(said, reason))
            fail_msg("%s was acknowledged and is not in the history", reason);
    }
    g_autofree char *litter = scratch_litter(scratch);
    assert_string_equal(litter, "");
    g_autoptr(Store) store = store_open(scratch->file, NULL);
    Edit edit = {.path = "items.stove.mass", .value = "1 kg"};
    Change change = {.n = 1, .edit = &edit};
    g_autoptr(Saved) saved = store_edit(store, &change, NULL);
    assert_non_null(saved);
    g_autoptr(Saved) undone = store_undo(store, NULL, NULL);
    g_autofree char *before = boat_of(last);
    scratch_holds(scratch->file, before);
    g_autofree char *fresh = g_build_filename(scratch->history, "new", NULL);
    g_autofree char *aside = g_build_filename(scratch->history, "old", NULL);
    assert_int_not_equal(access(fresh, F_OK), 0);
    assert_int_not_equal(access(aside, F_OK), 0);
}

/* Adds one kilogram, made on the text just read; a conflict means that somebody was faster, and is
 * tried again. */
static bool
add_one(Store *store, const char *path)
{
    for (;;) {
        gsize length;
        g_autoptr(GError) error = NULL;
        g_autofree char *text = store_text(store, &length, &error);
        const char *at = text != NULL ? strstr(text, "what: cast stove") : NULL;
        at = at != NULL ? strstr(at, "mass: ") : NULL;
        if (at == NULL)
            return false;
        g_autofree char *value = g_strdup_printf("%d kg", atoi(at + strlen("mass: ")) + 1);
        Edit edit = {.path = path, .value = value};
        Change change = {.n = 1, .edit = &edit, .made_on = text, .made_on_length = length};
        g_autoptr(Saved) saved = store_edit(store, &change, &error);
        if (saved != NULL)
            return true;
        if (!g_error_matches(error, STORE_ERROR, STORE_ERROR_CONFLICT))
            return false;
    }
}

static void
two_writers_lose_nothing(void **state)
{
    const Scratch *scratch = *state;
    pid_t child[2];
    for (int i = 0; i < 2; i++) {
        child[i] = fork();
        assert_true(child[i] >= 0);
        if (child[i] == 0) {
            Store *store = store_open(scratch->file, NULL);
            bool good = store != NULL;
            for (int k = 0; good && k < INCREMENTS; k++)
                good = add_one(store, "items.stove.mass");
            store_close(store);
            _exit(good ? 0 : 1);
        }
    }
    for (int i = 0; i < 2; i++) {
        int status;
        assert_int_equal(waitpid(child[i], &status, 0), child[i]);
        assert_true(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    }
    g_autofree char *sum = boat_of(90 + 2 * INCREMENTS);
    scratch_holds(scratch->file, sum);
    g_autoptr(Store) store = store_open(scratch->file, NULL);
    g_autoptr(GPtrArray) list = store_history(store, NULL);
    assert_int_equal(list->len, 1 + 2 * INCREMENTS);
    for (guint i = 0; i < list->len; i++)
        assert_string_not_equal(((Revision *) g_ptr_array_index(list, i))->reason,
                                "edited outside careen");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, scratch_make, scratch_remove)

int
main(void)
{
    const struct CMUnitTest tests[] = {TEST(killed_at_any_instant), TEST(two_writers_lose_nothing)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
