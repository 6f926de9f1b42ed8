/* What a form shows of a value, and what two writings have in common. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "boat/boat.h"
#include "boat/model.h"
#include "boat/written.h"

static const char text[] = "careen: 1\n"
                           "boat: {name: Her, people: }\n"
                           "items:\n"
                           "  stove:\n"
                           "    what: 'cast stove: old'   # a remark\n"
                           "    mass: about 90 kg (by-eye, two men)\n"
                           "    along: 90\n"
                           "situations:\n"
                           "  cruise:\n"
                           "    why: |\n"
                           "      two lines\n"
                           "      of it\n"
                           "    tanks:\n"
                           "        fresh: 40 %   # half\n"
                           "\n"
                           "        fuel: 1\n"
                           "    list: [a,\n"
                           "      b]\n"
                           "    deep:\n"
                           "      one:\n"
                           "        two: 3\n"
                           "      rows:\n"
                           "        - 1 m\n"
                           "        - 2 m\n";

static Document *
parsed(const char *from)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    Document *document = document_parse(from, strlen(from), notes);
    assert_non_null(document);
    return document;
}

static void
each_kind_of_value_is_given_as_written(void **state)
{
    (void) state;
    static const struct {
        const char *path, *written;
    } expected[] = {
        {"items.stove.what", "cast stove: old"},
        {"items.stove.mass", "about 90 kg (by-eye, two men)"},
        {"boat.people", ""},
        {"boat.units", NULL},
        {"situations.cruise.why", "two lines\nof it\n"},
        {"situations.cruise.tanks", "fresh: 40 %   # half\n\nfuel: 1"},
        {"situations.cruise.list", "[a,\nb]"},
        {"situations.cruise.deep", "one:\n  two: 3\nrows:\n  - 1 m\n  - 2 m"},
        {"situations.cruise.deep.rows", "- 1 m\n- 2 m"},
        {"boat", "{name: Her, people: }"},
    };
    g_autoptr(Document) document = parsed(text);
    for (size_t i = 0; i < G_N_ELEMENTS(expected); i++) {
        const Node *node = document_find(document, expected[i].path);
        g_autofree char *written = node_written(document, node);
        if (g_strcmp0(written, expected[i].written) != 0)
            fail_msg("%s is given as \"%s\"", expected[i].path, written);
        if (written != NULL && !written_equal(written, node))
            fail_msg("%s does not equal itself", expected[i].path);
    }
}

static void
layout_and_comments_do_not_count(void **state)
{
    (void) state;
    static const struct {
        const char *path, *written;
        bool equal;
    } cases[] = {
        {"items.stove.what", "cast stove: old\r\n", true},
        {"items.stove.what", "cast stove", false},
        {"items.stove.what", "", false},
        {"boat.people", " ", true},
        {"boat.units", "", true},
        {"boat.units", "metric", false},
        {"situations.cruise.why", "two lines\r\nof it", true},
        {"situations.cruise.tanks", "{fresh: 40 %, fuel: 1}", true},
        {"situations.cruise.tanks", "fresh: '40 %'\r\nfuel: 1 # litre\r\n", true},
        {"situations.cruise.tanks", "fresh: 40 %\nfuel: 2", false},
        {"situations.cruise.tanks", "fresh: 40 %", false},
        {"situations.cruise.tanks", "fresh: 40 %\n fuel: [", false},
        {"situations.cruise.tanks", "", false},
        {"situations.cruise.list", "- a\n- b", true},
        {"situations.cruise.list", "[b, a]", false},
        {"situations.cruise.deep", "one: {two: 3}\nrows: [1 m, 2 m]", true},
    };
    g_autoptr(Document) document = parsed(text);
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++)
        if (written_equal(cases[i].written, document_find(document, cases[i].path)) !=
            cases[i].equal)
            fail_msg("%s against \"%s\"", cases[i].path, cases[i].written);
}

static Boat *
demo(const char *name, size_t n, const char *const options[])
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autofree char *path = g_build_filename(getenv("EXAMPLES"), name, NULL);
    Boat *boat = boat_load(path, n, options, notes, NULL);
    assert_non_null(boat);
    assert_int_equal(diagnostics_errors(notes), 0);
    return boat;
}

/* The fields read from the file are given as they stand there; the others not. */
static size_t
fields_agree(const Boat *boat)
{
    size_t seen = 0;
    for (size_t s = 0; boat_sections[s] != NULL; s++) {
        size_t n;
        const Record *const *records = boat_records(boat, boat_sections[s], &n);
        for (size_t i = 0; i < n; i++)
            for (size_t f = 0; f < boat_sections[s]->n_fields; f++) {
                const Node *node = records[i]->state[f].node;
                g_autofree char *written =
                    field_written(boat, records[i], &boat_sections[s]->fields[f]);
                if ((node == NULL) != (written == NULL))
                    fail_msg("%s.%s", records[i]->path, boat_sections[s]->fields[f].key);
                if (node == NULL)
                    continue;
                assert_true(written_equal(written, node));
                if (node->type == NODE_SCALAR)
                    assert_string_equal(written, node->text);
                seen++;
            }
    }
    return seen;
}

static void
fields_of_the_demo_boats_are_given(void **state)
{
    (void) state;
    static const char *const names[] = {"dunlin.yaml", "punt.yaml", "whimbrel.yaml"};
    size_t seen = 0;
    for (size_t i = 0; i < G_N_ELEMENTS(names); i++) {
        g_autoptr(Boat) boat = demo(names[i], 0, NULL);
        seen += fields_agree(boat);
        const char *const *ids;
        size_t n = boat_options(boat, &ids);
        for (size_t k = 0; k < n; k++) {
            g_autoptr(Boat) with = demo(names[i], 1, &ids[k]);
            assert_true(fields_agree(with) > 0);
        }
    }
    assert_true(seen > 200);
}

static const char patched[] = "careen: 1\n"
                              "boat: {name: Her}\n"
                              "items:\n"
                              "  fresh: {what: tank, tank: {volume: 100 l}}\n"
                              "  fuel: {what: tank, tank: {volume: 100 l}}\n"
                              "situations:\n"
                              "  cruise:\n"
                              "    tanks:\n"
                              "      fresh: 40 %   # half\n"
                              "      fuel: 10 %\n"
                              "options:\n"
                              "  full:\n"
                              "    changes: {situations: {cruise: {tanks: {fuel: 98 %}}}}\n"
                              "  dry:\n"
                              "    changes: {situations: {cruise: {tanks: {fuel: remove}}}}\n";

static void
map_given(const char *option, const char *expected)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Boat) boat =
        boat_parse(patched, strlen(patched), option != NULL, &option, notes, NULL);
    g_autofree char *said = diagnostics_text(notes, NULL);
    if (boat == NULL || diagnostics_errors(notes) > 0)
        fail_msg("%s", said);
    const Field *field = NULL;
    const Record *record = boat_at(boat, "situations.cruise.tanks", &field);
    g_autofree char *written = field_written(boat, record, field);
    assert_string_equal(written, expected);
}

/* Where options change a part of a map, it stands nowhere in one piece. */
static void
options_are_in_the_map(void **state)
{
    (void) state;
    map_given(NULL, "fresh: 40 %   # half\nfuel: 10 %");
    map_given("full", "fresh: 40 %\nfuel: 98 %");
    map_given("dry", "fresh: 40 %");
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_kind_of_value_is_given_as_written),
        cmocka_unit_test(layout_and_comments_do_not_count),
        cmocka_unit_test(fields_of_the_demo_boats_are_given),
        cmocka_unit_test(options_are_in_the_map),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
