/* Looking into the history: who saved what, what changed, earlier texts. */
#include "store/store.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

#include "scratch.h"

static gint64
set_as(Store *store, const char *who, const char *path, const char *value)
{
    g_autoptr(GError) error = NULL;
    Edit edit = {.path = path, .value = value};
    Change change = {.n = 1, .edit = &edit, .who = who};
    g_autoptr(Saved) saved = store_edit(store, &change, &error);
    assert_null(error);
    assert_true(saved->changed);
    return saved->revision;
}

static void
assert_revision(const GPtrArray *list, guint i, const char *who, const char *brought_by)
{
    const Revision *revision = g_ptr_array_index(list, i);
    if (g_strcmp0(revision->who, who) != 0 || g_strcmp0(revision->brought_by, brought_by) != 0)
        fail_msg("revision %u is by %s, brought by %s", i, revision->who, revision->brought_by);
}

static void
who_is_kept(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(Store) store = store_open(scratch->file, NULL);
    set_as(store, "ada", "items.stove.mass", "95 kg");
    set_as(store, " \n", "items.stove.mass", "96 kg");
    set_as(store, " Bo\x1b the\nwelder \xff", "items.stove.mass", "97 kg");
    g_autoptr(GPtrArray) list = store_history(store, NULL);
    assert_int_equal(list->len, 4);
    assert_revision(list, 0, NULL, NULL);
    assert_revision(list, 1, "ada", NULL);
    assert_revision(list, 2, NULL, NULL);
    assert_revision(list, 3, "Bo  the welder \xef\xbf\xbd", NULL);
    saved_free(store_undo(store, "cy", NULL));
    g_autoptr(GPtrArray) undone = store_history(store, NULL);
    assert_revision(undone, 2, NULL, "cy");
    assert_revision(undone, 3, "Bo  the welder \xef\xbf\xbd", NULL);
    saved_free(store_redo(store, "di", NULL));
    saved_free(store_restore(store, 2, "ed", NULL));
    g_autoptr(GPtrArray) restored = store_history(store, NULL);
    assert_int_equal(restored->len, 5);
    assert_revision(restored, 2, NULL, NULL);
    assert_revision(restored, 3, "Bo  the welder \xef\xbf\xbd", NULL);
    assert_revision(restored, 4, "ed", NULL);
}

static void
outside_edits_have_no_name(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(Store) store = store_open(scratch->file, NULL);
    set_as(store, "ada", "items.stove.mass", "95 kg");
    g_autoptr(GString) outside = g_string_new(scratch_boat);
    g_string_replace(outside, "bower anchor", "kedge", 1);
    scratch_write(scratch->file, outside->str);
    set_as(store, "bo", "items.anchor.mass", "36 kg");
    g_autoptr(GPtrArray) list = store_history(store, NULL);
    assert_int_equal(list->len, 4);
    assert_revision(list, 2, NULL, NULL);
    assert_revision(list, 3, "bo", NULL);
}

static void
earlier_texts_come_back(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    gsize length;
    g_autoptr(Store) store = store_open(scratch->file, NULL);
    assert_null(store_revision_text(store, 1, &length, &error));
    assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_INPUT));
    g_clear_error(&error);
    assert_int_not_equal(access(scratch->history, F_OK), 0);
    set_as(store, NULL, "items.stove.mass", "95 kg");
    g_autofree char *first = store_revision_text(store, 1, &length, &error);
    assert_string_equal(first, scratch_boat);
    assert_int_equal(length, strlen(scratch_boat));
    static const gint64 none[] = {-1, 0, 99};
    for (size_t i = 0; i < G_N_ELEMENTS(none); i++) {
        assert_null(store_revision_text(store, none[i], &length, &error));
        assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_INPUT));
        g_clear_error(&error);
    }
}

/* "path: before > after" a line, - for nothing. */
static char *
said(const GPtrArray *changes)
{
    g_autoptr(GString) out = g_string_new(NULL);
    for (guint i = 0; i < changes->len; i++) {
        const Edited *one = g_ptr_array_index(changes, i);
        assert_null(one->option);
        g_string_append_printf(out, "%s: %s > %s\n", one->path,
                               one->before != NULL ? one->before : "-",
                               one->after != NULL ? one->after : "-");
    }
    return g_strdup(out->str);
}

/* Saves the text as an edit from outside; the revision it got. */
static gint64
written_outside(const Scratch *scratch, Store *store, const char *text)
{
    scratch_write(scratch->file, text);
    g_autoptr(Saved) saved = store_restore(store, 1, NULL, NULL);
    assert_non_null(saved);
    return saved->outside;
}

static void
changes_are_told_in_the_order_of_the_text(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    bool more = true;
    g_autoptr(Store) store = store_open(scratch->file, NULL);
    gint64 second = set_as(store, NULL, "items.stove.mass", "95 kg");
    g_autoptr(GPtrArray) one = store_changes(store, second, &more, &error);
    g_autofree char *one_said = said(one);
    assert_string_equal(one_said, "items.stove.mass: 90 kg > 95 kg\n");
    assert_false(more);
    g_autoptr(GPtrArray) first = store_changes(store, 1, &more, &error);
    assert_int_equal(first->len, 0);

    static const char other[] = "careen: 1   # other comments, other layout\n"
                                "boat: {name: Scratch, units: metric}\n"
                                "items:\n"
                                "    kedge:\n"
                                "        what: kedge\n"
                                "        mass: 12 kg\n"
                                "    stove:\n"
                                "        height: 0.8 m\n"
                                "        what: 'cast stove'\n"
                                "        mass: 95 kg\n"
                                "options:\n"
                                "    light:\n"
                                "        why: less weight forward\n"
                                "        changes: {items: {anchor: {mass: 21 kg}}}\n";
    gint64 third = written_outside(scratch, store, other);
    g_autoptr(GPtrArray) many = store_changes(store, third, &more, &error);
    assert_null(error);
    g_autofree char *many_said = said(many);
    assert_string_equal(
        many_said, "boat.units: - > metric\n"
                   "items.kedge: - > what: kedge\nmass: 12 kg\n"
                   "items.anchor: what: bower anchor\nalong: 11 m\nheight: 2 m\nmass: 35 kg > -\n"
                   "items.stove.along: 6 m > -\n"
                   "options.light.changes.items.anchor.mass: 20 kg > 21 kg\n");
}

static void
other_comments_are_no_change(void **state)
{
    const Scratch *scratch = *state;
    bool more;
    g_autoptr(Store) store = store_open(scratch->file, NULL);
    set_as(store, NULL, "items.stove.mass", "95 kg");
    g_autoptr(GString) text = g_string_new(scratch_boat);
    g_string_replace(text, "mass: 90 kg", "mass: \"95 kg\" # by the yard", 1);
    gint64 revision = written_outside(scratch, store, text->str);
    assert_true(revision > 0);
    g_autoptr(GPtrArray) none = store_changes(store, revision, &more, NULL);
    assert_int_equal(none->len, 0);
}

static void
many_changes_are_cut(void **state)
{
    const Scratch *scratch = *state;
    bool more = false;
    g_autoptr(Store) store = store_open(scratch->file, NULL);
    set_as(store, NULL, "items.stove.mass", "95 kg");
    g_autoptr(GString) text = g_string_new("careen: 1\nboat:\n  name: Scratch\nitems:\n");
    for (int i = 0; i < 300; i++)
        g_string_append_printf(text, "  thing-%d:\n    mass: 1 kg\n", i);
    gint64 revision = written_outside(scratch, store, text->str);
    g_autoptr(GPtrArray) many = store_changes(store, revision, &more, NULL);
    assert_int_equal(many->len, STORE_MOST_CHANGES);
    assert_true(more);
}

static void
unreadable_texts_are_said(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(GError) error = NULL;
    bool more;
    g_autoptr(Store) store = store_open(scratch->file, NULL);
    set_as(store, NULL, "items.stove.mass", "95 kg");
    gint64 broken = written_outside(scratch, store, "careen: [1\n");
    assert_null(store_changes(store, broken, &more, &error));
    assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_INPUT));
    g_clear_error(&error);
    assert_null(store_changes(store, 99, &more, &error));
    assert_true(g_error_matches(error, STORE_ERROR, STORE_ERROR_INPUT));
    gsize length;
    g_autofree char *text = store_revision_text(store, broken, &length, NULL);
    assert_string_equal(text, "careen: [1\n");
}

static void
the_latest_are_the_end_of_all(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(Store) store = store_open(scratch->file, NULL);
    set_as(store, "ada", "items.stove.mass", "95 kg");
    set_as(store, "bo", "items.stove.mass", "96 kg");
    static const guint asked[] = {1, 2, 3, 4, 100}, given[] = {1, 2, 3, 3, 3};
    for (size_t i = 0; i < G_N_ELEMENTS(asked); i++) {
        g_autoptr(GPtrArray) list = store_latest(store, asked[i], NULL);
        assert_int_equal(list->len, given[i]);
        assert_revision(list, list->len - 1, "bo", NULL);
        assert_true(((const Revision *) g_ptr_array_index(list, list->len - 1))->here);
        for (guint k = 0; k < list->len; k++)
            assert_int_equal(((const Revision *) g_ptr_array_index(list, k))->id,
                             3 - list->len + k + 1);
    }
}

/* The page shows what an edit of one value said it did, and does not read both texts again. */
static void
an_edit_says_what_the_history_finds(void **state)
{
    const Scratch *scratch = *state;
    g_autoptr(Store) store = store_open(scratch->file, NULL);
    static const char *const values[] = {"95 kg", "about 96 kg", "97 kg ± 2 kg", "98 kg (plate)"};
    for (size_t i = 0; i < G_N_ELEMENTS(values); i++) {
        Edit edit = {.path = "items.stove.mass", .value = values[i]};
        Change change = {.n = 1, .edit = &edit};
        g_autoptr(Saved) saved = store_edit(store, &change, NULL);
        bool more;
        g_autoptr(GPtrArray) found = store_changes(store, saved->revision, &more, NULL);
        g_autofree char *its_own = said(saved->edited), *found_so = said(found);
        assert_string_equal(its_own, found_so);
        assert_string_not_equal(its_own, "");
    }
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, scratch_make, scratch_remove)

int
main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(who_is_kept),
        TEST(outside_edits_have_no_name),
        TEST(earlier_texts_come_back),
        TEST(changes_are_told_in_the_order_of_the_text),
        TEST(other_comments_are_no_change),
        TEST(many_changes_are_cut),
        TEST(unreadable_texts_are_said),
        TEST(the_latest_are_the_end_of_all),
        TEST(an_edit_says_what_the_history_finds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
