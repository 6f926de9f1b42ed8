/* Replacing one file whole: links, modes, forbidden files, full disks. */
#include "store/save.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cmocka.h>
#include <signal.h>

#include "scratch.h"

static Place *
place_of(const char *path)
{
    g_autoptr(GError) error = NULL;
    Place *place = place_find(path, &error);
    assert_null(error);
    assert_non_null(place);
    return place;
}

static void
replaces_whole(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Place) place = place_of(scratch->file);
    assert_string_equal(place->history, scratch->history);
    assert_int_equal(chmod(scratch->file, 0640), 0);
    assert_true(save_folder(place, &error));
    assert_true(save_replace(place, "new\n", 4, &error));
    save_done(place);
    scratch_holds(scratch->file, "new\n");
    struct stat now;
    assert_int_equal(stat(scratch->file, &now), 0);
    assert_int_equal(now.st_mode & 07777, 0640);
    assert_int_equal(now.st_nlink, 1);
    assert_int_equal(stat(scratch->history, &now), 0);
    assert_int_equal(now.st_mode & 0777, 0750);
    g_autofree char *litter = scratch_litter(scratch);
    assert_string_equal(litter, "");
}

static void
takes_back(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Place) place = place_of(scratch->file);
    assert_true(save_folder(place, &error));
    assert_true(save_replace(place, "new\n", 4, &error));
    assert_true(save_take_back(place, scratch_boat, strlen(scratch_boat), &error));
    scratch_holds(scratch->file, scratch_boat);
}

static void
takes_back_without_links(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Place) place = place_of(scratch->file);
    g_autofree char *aside = g_build_filename(place->history, "old", NULL);
    assert_true(save_folder(place, &error));
    assert_true(save_replace(place, "new\n", 4, &error));
    assert_int_equal(unlink(aside), 0);
    assert_true(save_take_back(place, scratch_boat, strlen(scratch_boat), &error));
    scratch_holds(scratch->file, scratch_boat);
    assert_int_not_equal(access(aside, F_OK), 0);
}

static void
link_stays_a_link(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autofree char *link = scratch_path(scratch, "link.yaml");
    assert_int_equal(symlink("scratch.yaml", link), 0);
    g_autoptr(Place) place = place_of(link);
    assert_string_equal(place->history, scratch->history);
    assert_true(save_folder(place, &error));
    assert_true(save_replace(place, "new\n", 4, &error));
    save_done(place);
    struct stat now;
    assert_int_equal(lstat(link, &now), 0);
    assert_true(S_ISLNK(now.st_mode));
    scratch_holds(scratch->file, "new\n");
}

static void
refuses(const char *path, const char *says)
{
    g_autoptr(GError) error = NULL;
    Place *place = place_find(path, &error);
    assert_null(place);
    assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_INPUT));
    assert_non_null(strstr(error->message, says));
}

static void
no_boat_file(void **state)
{
    const Scratch *scratch = *state;
    g_autofree char *missing = scratch_path(scratch, "missing.yaml");
    g_autofree char *pipe = scratch_path(scratch, "pipe.yaml");
    g_autofree char *loop = scratch_path(scratch, "loop.yaml");
    refuses(missing, "No such file");
    refuses(scratch->folder, "folder");
    assert_int_equal(mkfifo(pipe, 0600), 0);
    refuses(pipe, "regular file");
    refuses("/dev/null", "regular file");
    assert_int_equal(symlink("loop.yaml", loop), 0);
    refuses(loop, "symbolic links");
}

/* Two files must never share a history: undo would give one the text of the other. */
static void
histories_differ(void **state)
{
    const Scratch *scratch = *state;
    const char *const names[] = {"a.yaml", "a.yml", "a", "a.yaml.yaml", ".yaml"};
    for (size_t i = 0; i < G_N_ELEMENTS(names); i++) {
        g_autofree char *one = scratch_path(scratch, names[i]);
        scratch_write(one, "x");
        g_autoptr(Place) first = place_of(one);
        for (size_t j = 0; j < i; j++) {
            g_autofree char *other = scratch_path(scratch, names[j]);
            g_autoptr(Place) second = place_of(other);
            assert_string_not_equal(first->history, second->history);
        }
    }
}

static void
read_only_is_kept(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    assert_int_equal(chmod(scratch->file, 0444), 0);
    g_autoptr(Place) place = place_of(scratch->file);
    assert_false(save_allowed(place, &error));
    assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_READ_ONLY));
    assert_int_not_equal(access(scratch->history, F_OK), 0);
}

/* No file may grow past the limit: what a full disk does, without one. */
static void
full_disk_changes_nothing(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Place) place = place_of(scratch->file);
    assert_true(save_folder(place, &error));
    g_autofree char *big = g_strnfill(100000, 'x');
    struct rlimit before, tight;
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &before), 0);
    tight = before;
    tight.rlim_cur = 50000;
    signal(SIGXFSZ, SIG_IGN);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &tight), 0);
    bool replaced = save_replace(place, big, 100000, &error);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &before), 0);
    assert_false(replaced);
    assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_DISK));
    scratch_holds(scratch->file, scratch_boat);
    g_autofree char *left = g_build_filename(place->history, "new", NULL);
    assert_int_not_equal(access(left, F_OK), 0);
}

static void
odd_bytes_come_back(void **state)
{
    const Scratch *scratch = *state;
    static const char bytes[] = "\xef\xbb\xbf\0\xff\r\n";
    g_autoptr(GError) error = NULL;
    g_autoptr(Place) place = place_of(scratch->file);
    assert_true(save_folder(place, &error));
    assert_true(save_replace(place, bytes, sizeof bytes - 1, &error));
    gsize length;
    g_autofree char *text = save_read(place, &length, &error);
    assert_int_equal(length, sizeof bytes - 1);
    assert_memory_equal(text, bytes, sizeof bytes - 1);
}

static void
too_long_is_refused(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    g_autoptr(Place) place = place_of(scratch->file);
    g_autofree char *big = g_strnfill(SAVE_LONGEST + 1, 'x');
    scratch_write(scratch->file, big);
    gsize length;
    assert_null(save_read(place, &length, &error));
    assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_INPUT));
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, scratch_make, scratch_remove)

int
main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(replaces_whole),      TEST(takes_back),          TEST(takes_back_without_links),
        TEST(link_stays_a_link),   TEST(no_boat_file),        TEST(histories_differ),
        TEST(read_only_is_kept),   TEST(odd_bytes_come_back), TEST(full_disk_changes_nothing),
        TEST(too_long_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
