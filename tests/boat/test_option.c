/* Options: RFC 7396 in meaning, `remove` as the word, several at once. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "bad.h"
#include "boat/boat.h"
#include "boat/model.h"

#define BASE                                                                                       \
    "careen: 1\n"                                                                                  \
    "boat:\n"                                                                                      \
    "  name: X\n"                                                                                  \
    "items:\n"                                                                                     \
    "  engine:\n"                                                                                  \
    "    mass: 100 kg\n"                                                                           \
    "    along: 2 m\n"                                                                             \
    "  pump:\n"                                                                                    \
    "    mass: 5 kg\n"                                                                             \
    "    tank: {volume: 9 L}\n"                                                                    \
    "options:\n"

static const char text[] = BASE "  motor:\n"
                                "    why: quiet\n"
                                "    changes:\n"
                                "      items:\n"
                                "        engine: remove\n"
                                "        motor:\n"
                                "          mass: 40 kg (maker)\n"
                                "        pump:\n"
                                "          mass: 6 kg\n"
                                "          tank: remove\n"
                                "  name:\n"
                                "    changes:\n"
                                "      boat:\n"
                                "        name: Y\n"
                                "      spaces:\n"
                                "        hold: {along: 1 m to 2 m}\n";

static Boat *
read_with(size_t n, const char *const options[], const char *from)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(GError) error = NULL;
    Boat *boat = boat_parse(from, strlen(from), n, options, notes, &error);
    g_autofree char *said = diagnostics_text(notes, "option");
    if (diagnostics_count(notes) > 0)
        fail_msg("%s", said);
    assert_non_null(boat);
    return boat;
}

static void
base_is_untouched(void **state)
{
    (void) state;
    g_autoptr(Boat) boat = read_with(0, NULL, text);
    const char *const *ids;
    assert_int_equal(boat_options(boat, &ids), 2);
    assert_string_equal(ids[0], "motor");
    assert_string_equal(ids[1], "name");
    assert_null(boat_find(boat, &section_items, "motor"));
    assert_non_null(boat_find(boat, &section_items, "engine"));
    assert_string_equal(
        ((const OptionSection *) boat_find(boat, &section_options, "motor")->data)->why, "quiet");
}

static void
one_option_is_merged(void **state)
{
    (void) state;
    const char *options[] = {"motor"};
    g_autoptr(Boat) boat = read_with(1, options, text);
    const Record *motor = boat_find(boat, &section_items, "motor");
    const Record *pump = boat_find(boat, &section_items, "pump");
    assert_null(boat_find(boat, &section_items, "engine"));
    assert_string_equal(motor->option, "motor");
    assert_null(pump->option);
    assert_true(record_number(motor, "mass") == 40.0);
    assert_true(record_number(pump, "mass") == 6.0);
    assert_string_equal(record_state(pump, "mass")->node->option, "motor");
    assert_int_equal(record_state(pump, "mass")->node->line, 20);
    assert_null(record_role(pump, &section_tank));
    assert_string_equal(((const Vessel *) boat_single(boat, &section_boat)->data)->name, "X");
}

static void
several_options_add_up(void **state)
{
    (void) state;
    const char *options[] = {"motor", "name"};
    g_autoptr(Boat) boat = read_with(2, options, text);
    assert_string_equal(((const Vessel *) boat_single(boat, &section_boat)->data)->name, "Y");
    assert_non_null(boat_find(boat, &section_spaces, "hold"));
    assert_non_null(boat_find(boat, &section_items, "motor"));
}

/* The cases of RFC 7396, appendix A, that have a form here: null is the word remove. */
static void
merges_as_the_rfc(void **state)
{
    (void) state;
    static const struct {
        const char *base, *patch, *path, *expected; /* NULL: gone */
    } cases[] = {
        {"x: {a: b}", "{a: c}", "a", "c"},
        {"x: {a: b}", "{b: c}", "a", "b"},
        {"x: {a: b}", "{b: c}", "b", "c"},
        {"x: {a: b}", "{a: remove}", "a", NULL},
        {"x: {a: b, b: c}", "{a: remove}", "b", "c"},
        {"x: {a: [b]}", "{a: c}", "a", "c"},
        {"x: {a: {b: c}}", "{a: {b: d, c: e}}", "a.b", "d"},
        {"x: {a: {b: c}}", "{a: {b: d, c: e}}", "a.c", "e"},
        {"x: {a: foo}", "{a: {b: d}}", "a.b", "d"},
        {"x: {}", "{a: {bb: {ccc: d}}}", "a.bb.ccc", "d"},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *file = g_strdup_printf(
            "careen: 1\nboat: {name: N}\nsurvey: {%s}\noptions:\n  o:\n    changes: "
            "{survey: {x: %s}}\n",
            cases[i].base, cases[i].patch);
        const char *options[] = {"o"};
        g_autoptr(Boat) boat = read_with(1, options, file);
        g_autofree char *path = g_strconcat("survey.x.", cases[i].path, NULL);
        const Node *node = document_find(boat_document(boat), path);
        assert_true((node == NULL) == (cases[i].expected == NULL));
        if (node != NULL)
            assert_string_equal(node->text, cases[i].expected);
    }
}

static void
lists_are_replaced_whole(void **state)
{
    (void) state;
    static const char file[] =
        "careen: 1\nboat: {name: N}\nsurvey: {a: {after: [x, y]}}\noptions:\n  o:\n"
        "    changes: {survey: {a: {after: [z]}}}\n";
    const char *options[] = {"o"};
    g_autoptr(Boat) boat = read_with(1, options, file);
    const Node *list = document_find(boat_document(boat), "survey.a.after");
    assert_int_equal(node_n_children(list), 1);
    assert_string_equal(node_nth(list, 0)->text, "z");
}

static const Bad bad[] = {
    {"removal of nothing", BASE "  o:\n    changes:\n      items:\n        enigne: remove\n", 15,
     "did you mean `engine`", "o"},
    {"removal of nothing, not chosen",
     BASE "  o:\n    changes:\n      items:\n        enigne: remove\n", 15, "engine", NULL},
    {"removal in a new record",
     BASE "  o:\n    changes:\n      items:\n        new: {mass: remove}\n", 15, "to remove", "o"},
    {"slip in a chosen option",
     BASE "  o:\n    changes:\n      items:\n        pump:\n          mass: 3 m\n", 16, "kg", "o"},
    {"what is left dangles",
     BASE "  o:\n    changes:\n      items:\n        pump: remove\nsituations:\n  s:\n    tanks:\n "
          "     pump: 50 %\n",
     19, "there is no `pump`", "o"},
    {"own version", BASE "  o:\n    changes:\n      careen: 2\n", 14, "not `options` or `careen`",
     "o"},
};

static void
slips_of_options_are_said(void **state)
{
    (void) state;
    expect_complaints(G_N_ELEMENTS(bad), bad);
}

static void
clash(const char *first, const char *second, bool expected)
{
    g_autofree char *file =
        g_strdup_printf(BASE "  a:\n    changes: %s\n  b:\n    changes: %s\n", first, second);
    const char *options[] = {"a", "b"};
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Boat) boat = boat_parse(file, strlen(file), 2, options, notes, NULL);
    bool found = false;
    for (size_t i = 0; i < diagnostics_count(notes); i++)
        found |= strstr(diagnostics_note(notes, i)->text, "both change this") != NULL;
    if (found != expected)
        fail_msg("%s and %s", first, second);
}

static void
two_options_on_one_path_clash(void **state)
{
    (void) state;
    clash("{items: {pump: {mass: 1 kg}}}", "{items: {pump: {mass: 2 kg}}}", true);
    clash("{items: {pump: remove}}", "{items: {pump: {mass: 2 kg}}}", true);
    clash("{items: {pump: {mass: 2 kg}}}", "{items: {pump: remove}}", true);
    clash("{items: {pump: remove}}", "{items: {pump: remove}}", true);
    clash("{items: {pump: {mass: 1 kg}}}", "{items: {pump: {price: 3}}}", false);
    clash("{items: {pump: remove}}", "{items: {engine: remove}}", false);
    clash("{items: {w: {mass: 1 kg}}}", "{items: {w: {price: 3}}}", false);
    const char *twice[] = {"motor", "motor"};
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Boat) boat = boat_parse(text, strlen(text), 2, twice, notes, NULL);
    assert_int_equal(diagnostics_errors(notes), 1);
}

/* One option may remove what another one brings. */
static void
options_may_build_on_each_other(void **state)
{
    (void) state;
    static const char file[] = BASE
        "  a:\n    changes: {items: {w: {mass: 1 kg}}}\n  b:\n    changes: {items: {w: remove}}\n";
    g_autoptr(Boat) boat = read_with(0, NULL, file);
    assert_null(boat_find(boat, &section_items, "n"));
}

static void
copies_are_apart(void **state)
{
    (void) state;
    const char *options[] = {"motor"};
    Boat *boat = read_with(1, options, text);
    Boat *copy = boat_copy(boat);
    const Record *record = boat_find(copy, &section_items, "motor");
    *record_double(record, section_field(&section_items, "mass")) = 77.0;
    assert_true(record_number(boat_find(boat, &section_items, "motor"), "mass") == 40.0);
    boat_free(boat);
    assert_true(record_number(record, "mass") == 77.0);
    assert_string_equal(record->path, "items.motor");
    assert_non_null(document_find(boat_document(copy), "items.motor"));
    boat_free(copy);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(base_is_untouched),
        cmocka_unit_test(one_option_is_merged),
        cmocka_unit_test(several_options_add_up),
        cmocka_unit_test(merges_as_the_rfc),
        cmocka_unit_test(lists_are_replaced_whole),
        cmocka_unit_test(slips_of_options_are_said),
        cmocka_unit_test(two_options_on_one_path_clash),
        cmocka_unit_test(options_may_build_on_each_other),
        cmocka_unit_test(copies_are_apart),
    };
    return cmocka_run_group_tests_name("option", tests, NULL, NULL);
}
