/* Notes keep their order and their place; a word is answered with the nearest right one. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>
#include <glib.h>

#include "base/diagnostics.h"

static void
notes_are_sorted_by_place(void **state)
{
    (void) state;
    g_autoptr(Diagnostics) notes = diagnostics_new();
    diagnostics_add(notes, NOTE_ERROR, 12, 5, "items.heater.mass", "`%s` is a length", "3 m");
    diagnostics_add(notes, NOTE_WARNING, 3, 9, NULL, "second");
    diagnostics_add(notes, NOTE_ERROR, 3, 2, NULL, "first");
    diagnostics_add(notes, NOTE_WARNING, 12, 5, "b", "after the heater");
    diagnostics_add(notes, NOTE_ERROR, 0, 0, NULL, "no place\nat all");
    assert_int_equal(diagnostics_count(notes), 5);
    assert_int_equal(diagnostics_errors(notes), 3);
    diagnostics_sort(notes);
    g_autofree char *text = diagnostics_text(notes, "boat.yaml");
    assert_string_equal(text, "boat.yaml: error: no place at all\n"
                              "boat.yaml:3:2: error: first\n"
                              "boat.yaml:3:9: warning: second\n"
                              "boat.yaml:12:5: error: items.heater.mass: `3 m` is a length\n"
                              "boat.yaml:12:5: warning: b: after the heater\n");
    g_autofree char *bare = diagnostics_text(notes, NULL);
    assert_true(g_str_has_prefix(bare, "error: no place at all\n3:2: error: first\n"));
    assert_string_equal(diagnostics_note(notes, 3)->path, "items.heater.mass");
}

static void
equal_places_keep_their_order(void **state)
{
    (void) state;
    g_autoptr(Diagnostics) notes = diagnostics_new();
    for (unsigned i = 0; i < 300; i++)
        diagnostics_add(notes, NOTE_WARNING, i % 3, 1, NULL, "%u", i);
    diagnostics_sort(notes);
    for (size_t i = 1; i < 300; i++) {
        const Note *before = diagnostics_note(notes, i - 1), *note = diagnostics_note(notes, i);
        assert_true(before->line <= note->line);
        if (before->line == note->line)
            assert_true(atoi(before->text) < atoi(note->text));
    }
}

static void
nearest_words(void **state)
{
    (void) state;
    static const char *const words[] = {"mass", "along",    "across", "height",
                                        "kg",   "measured", "density"};
    static const struct {
        const char *typed, *near;
    } rows[] = {
        {"mas", "mass"},
        {"Mass", "mass"},
        {"amss", "mass"},
        {"acros", "across"},
        {"hieght", "height"},
        {"kgg", "kg"},
        {"mesured", "measured"},
        {"densty", "density"},
        {"dnesity", "density"},
        {"price", NULL},
        {"x", NULL},
        {"", NULL},
        {"alongside-the-quay", NULL},
        {"mass", "mass"},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        const char *near = nearest_word(rows[i].typed, G_N_ELEMENTS(words), words);
        if (g_strcmp0(near, rows[i].near) != 0)
            fail_msg("`%s` is answered with %s", rows[i].typed, near != NULL ? near : "nothing");
    }
    g_autofree char *endless = g_strnfill(5000, 'm');
    assert_null(nearest_word(endless, G_N_ELEMENTS(words), words));
    assert_null(nearest_word("mass", 0, NULL));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(notes_are_sorted_by_place),
        cmocka_unit_test(equal_places_keep_their_order),
        cmocka_unit_test(nearest_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
