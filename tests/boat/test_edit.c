/* Edits byte for byte: what is written, what stays, what is refused. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "boat/document.h"
#include "boat/edit.h"

static const struct {
    const char *name, *before, *path, *value, *after; /* value NULL removes */
} edits[] = {
    {"set", "a: 1  # one\nb: 2\n", "a", "5 m", "a: 5 m  # one\nb: 2\n"},
    {"set with a CRLF", "a: 1\r\nb: 2\r\n", "a", "5 m", "a: 5 m\r\nb: 2\r\n"},
    {"set behind a BOM",
     "\xEF\xBB\xBF"
     "a: 1\n",
     "a", "2",
     "\xEF\xBB\xBF"
     "a: 2\n"},
    {"set quoted", "a: 'x'\n", "a", "y", "a: y\n"},
    {"set an empty value", "a:   # none\nb: 2\n", "a", "1", "a: 1   # none\nb: 2\n"},
    {"set an empty last value", "a:", "a", "1", "a: 1"},
    {"set an empty value in flow", "m: {a: , b: 2}\n", "m.a", "1", "m: {a: 1 , b: 2}\n"},
    {"set a block scalar", "a: |\n  long\n  text\nb: 2\n", "a", "short", "a: short\nb: 2\n"},
    {"set a block scalar with a comment", "a: >-  # why\n  long\n\n  text\nb: 2\n", "a", "short",
     "a: short  # why\nb: 2\n"},
    {"set over lines", "a: long\n  text\nb: 2\n", "a", "short", "a: short\nb: 2\n"},
    {"set where a group was", "a:  # c\n  b: 1\n  d: 2  # e\nf: 3\n", "a", "remove",
     "a: remove  # c\nf: 3\n"},
    {"set where a list was", "a:\n- 1\n- 2\nb: 3\n", "a", "unknown", "a: unknown\nb: 3\n"},
    {"set where a flow map was", "a: {b: 1}  # c\n", "a", "remove", "a: remove  # c\n"},
    {"text with a colon", "a: 1\n", "a", "x: y", "a: 'x: y'\n"},
    {"text with a hash", "a: 1\n", "a", "pump #2", "a: 'pump #2'\n"},
    {"text with an apostrophe", "a: 1\n", "a", "owner's #2", "a: \"owner's #2\"\n"},
    {"plain apostrophe", "a: 1\n", "a", "owner's", "a: owner's\n"},
    {"text of two lines", "a: 1\n", "a", "x\ny", "a: \"x\\ny\"\n"},
    {"no text", "a: 1\n", "a", "", "a: ''\n"},
    {"minus", "a: 1\n", "a", "-5 m", "a: -5 m\n"},
    {"dash", "a: 1\n", "a", "- x", "a: '- x'\n"},
    {"comma in a block", "a: 1\n", "a", "52.1 N, 4.6 E", "a: 52.1 N, 4.6 E\n"},
    {"comma in flow", "m: {a: 1}\n", "m.a", "52.1 N, 4.6 E", "m: {a: '52.1 N, 4.6 E'}\n"},
    {"time in flow", "m: {a: 1}\n", "m.a", "17:30", "m: {a: '17:30'}\n"},
    {"UTF-8", "a: 1\n", "a", "Дуб ± 1", "a: Дуб ± 1\n"},
    {"add", "m:\n  a: 1  # one\nb: 2\n", "m.c", "3", "m:\n  a: 1  # one\n  c: 3\nb: 2\n"},
    {"add at the root", "a: 1\n", "b", "2", "a: 1\nb: 2\n"},
    {"add without a last line end", "a: 1", "b", "2", "a: 1\nb: 2"},
    {"add with a CRLF", "m:\r\n  a: 1\r\nb: 2\r\n", "m.c", "3",
     "m:\r\n  a: 1\r\n  c: 3\r\nb: 2\r\n"},
    {"add below deeper comments", "m:\n  a: 1\n    # about a\n# about b\nb: 2\n", "m.c", "3",
     "m:\n  a: 1\n    # about a\n  c: 3\n# about b\nb: 2\n"},
    {"add to flow", "m: {a: 1}  # c\n", "m.b", "2", "m: {a: 1, b: 2}  # c\n"},
    {"add to brackets", "m: {}  # c\n", "m.b", "2", "m:  # c\n  b: 2\n"},
    {"add to brackets in flow", "m: {n: {}}\n", "m.n.b", "2", "m: {n: {b: 2}}\n"},
    {"add below an empty key", "m:  # c\nz: 1\n", "m.b", "2", "m:  # c\n  b: 2\nz: 1\n"},
    {"make parents", "a: 1\n", "b.c.d", "2", "a: 1\nb:\n  c:\n    d: 2\n"},
    {"make parents in the file's indent", "a:\n    b: 1\n", "c.d", "2",
     "a:\n    b: 1\nc:\n    d: 2\n"},
    {"make parents in flow", "m: {a: 1}\n", "m.b.c", "2", "m: {a: 1, b: {c: 2}}\n"},
    {"remove", "a: 1\nb: 2  # two\nc: 3\n", "b", NULL, "a: 1\nc: 3\n"},
    {"remove with its comments", "a: 1\n# about b\n# still\nb: 2\nc: 3\n", "b", NULL,
     "a: 1\nc: 3\n"},
    {"remove and keep other comments", "a: 1\n# apart\n\n# about b\nb: 2\n\n# about c\nc: 3\n", "b",
     NULL, "a: 1\n# apart\n\n\n# about c\nc: 3\n"},
    {"remove with deeper comments", "m:\n  a: 1\n    # about a\n  b: 2\n", "m.a", NULL,
     "m:\n  b: 2\n"},
    {"remove keeps the head", "# head\na: 1\nb: 2\n", "a", NULL, "# head\nb: 2\n"},
    {"remove the last without a line end", "a: 1\nb: 2", "b", NULL, "a: 1"},
    {"remove with a CRLF", "a: 1\r\nb: 2\r\nc: 3\r\n", "b", NULL, "a: 1\r\nc: 3\r\n"},
    {"remove a record", "m:\n  a:\n    x: 1\n    y: |\n      t\n\n  b: 2\n", "m.a", NULL,
     "m:\n\n  b: 2\n"},
    {"remove the only one", "m:  # why\n  a: 1\nb: 2\n", "m.a", NULL, "m: {}  # why\nb: 2\n"},
    {"remove from flow", "m: {a: 1, b: 2, c: 3}\n", "m.b", NULL, "m: {a: 1, c: 3}\n"},
    {"remove first from flow", "m: {a: 1, b: 2}\n", "m.a", NULL, "m: {b: 2}\n"},
    {"remove last from flow", "m: {a: 1, b: 2}\n", "m.b", NULL, "m: {a: 1}\n"},
    {"remove the only one from flow", "m: {a: 1}\n", "m.a", NULL, "m: {}\n"},
    {"remove from flow over lines", "m: {\n  a: 1,  # one\n  b: 2,  # two\n  c: 3\n  }\n", "m.b",
     NULL, "m: {\n  a: 1,  # one\n  \n  c: 3\n  }\n"},
    {"set a list", "situations:\n  s:\n    sources: [shore, house]  # both\n",
     "situations.s.sources", "[house]", "situations:\n  s:\n    sources: [house]  # both\n"},
    {"add a list of points", "hull: {}\n", "hull.stations.s.points", "[0 m 0 m, 1 m 1 m]",
     "hull:\n  stations:\n    s:\n      points: [0 m 0 m, 1 m 1 m]\n"},
    {"brackets in a text", "a: 1\n", "a", "[x]", "a: '[x]'\n"},
};

static void
edits_are_spliced(void **state)
{
    (void) state;
    for (size_t i = 0; i < G_N_ELEMENTS(edits); i++) {
        Edit edit = {edits[i].path, edits[i].value};
        gsize length;
        g_autoptr(GError) error = NULL;
        g_autofree char *after =
            edit_apply(edits[i].before, strlen(edits[i].before), 1, &edit, &length, &error);
        if (after == NULL)
            fail_msg("%s: %s", edits[i].name, error->message);
        else if (strcmp(after, edits[i].after) != 0)
            fail_msg("%s:\n%s--- instead of ---\n%s", edits[i].name, after, edits[i].after);
        assert_int_equal(length, after == NULL ? 0 : strlen(after));
    }
}

static const struct {
    const char *name, *before, *path, *value, *says;
} refusals[] = {
    {"below a value", "a: 1\n", "a.b", "2", "nothing can be added"},
    {"below a list", "a: [1]\n", "a.b", "2", "nothing can be added"},
    {"nothing to remove", "a: 1\n", "b", NULL, "nothing at b"},
    {"only entry of the file", "a: 1\n", "a", NULL, "cannot be removed"},
    {"no path", "a: 1\n", "", "2", "no path"},
    {"bytes as a path", "a: 1\n", "a.\xFF", "2", "no path"},
    {"two dots", "a: 1\n", "a..b", "2", "no path"},
    {"bad name", "a: 1\n", "B", "2", "small letters"},
    {"hostile name", "a: 1\n", "b: 1\nc", "2", "small letters"},
    {"control character", "a: 1\n", "a", "x\033[0m", "U+001B"},
    {"no UTF-8", "a: 1\n", "a", "\xFF", "UTF-8"},
    {"a file that is none", "a: [\n", "a", "1", "before it can be read"},
    {"a list over lines", "a: [x]\n", "a", "[y,\nz]", "one line"},
    {"no list", "a: [x]\n", "a", "[y", "expected a list"},
    {"a list and more", "a: [x]\n", "a", "[y] z", "expected a list"},
    {"odd flow map", "m: {q: 1, }\n", "m.q", NULL, ""},
};

static void
impossible_edits_are_refused(void **state)
{
    (void) state;
    for (size_t i = 0; i < G_N_ELEMENTS(refusals); i++) {
        Edit edit = {refusals[i].path, refusals[i].value};
        g_autoptr(GError) error = NULL;
        gsize length = 1;
        g_autofree char *after =
            edit_apply(refusals[i].before, strlen(refusals[i].before), 1, &edit, &length, &error);
        if (after != NULL)
            fail_msg("%s: became\n%s", refusals[i].name, after);
        assert_int_equal(error->domain, EDIT_ERROR);
        if (strstr(error->message, refusals[i].says) == NULL)
            fail_msg("%s: %s", refusals[i].name, error->message);
        assert_int_equal(length, 0);
    }
}

/* A whole record by several edits, or nothing of it. */
static void
records_are_made_whole(void **state)
{
    (void) state;
    static const char before[] = "careen: 1\nitems:\n  a:\n    mass: 1 kg\n";
    Edit edit[] = {{"items.pump.what", "bilge pump #2"},
                   {"items.pump.along", "2 m"},
                   {"items.pump.tank.volume", "5 L"},
                   {"items.a", NULL}};
    gsize length;
    g_autoptr(GError) error = NULL;
    g_autofree char *after = edit_apply(before, strlen(before), 4, edit, &length, &error);
    assert_null(error);
    assert_string_equal(after, "careen: 1\nitems:\n  pump:\n    what: 'bilge pump #2'\n    along: "
                               "2 m\n    tank:\n      volume: 5 L\n");
    edit[3].path = "items.b";
    g_autofree char *none = edit_apply(before, strlen(before), 4, edit, &length, &error);
    assert_null(none);
    assert_non_null(error);
}

static void
no_edit_changes_nothing(void **state)
{
    (void) state;
    gsize length;
    g_autofree char *same = edit_apply("a: 1\n", 5, 0, NULL, &length, NULL);
    assert_string_equal(same, "a: 1\n");
}

static const char optional[] = "careen: 1\n"
                               "items:\n"
                               "  engine: {mass: 1 kg}\n"
                               "  pump: {mass: 1 kg, price: 5}\n"
                               "options:\n"
                               "  motor:\n"
                               "    changes:\n"
                               "      items:\n"
                               "        engine: remove\n"
                               "        motor: {mass: 2 kg}\n"
                               "        pump: {mass: 3 kg, price: remove}\n"
                               "  bigger:\n"
                               "    changes:\n"
                               "      items: {motor: {power: 9 kW}}\n";

static void
target(const char *path, size_t n, const char *const options[], const char *expected,
       const char *option)
{
    const char *which = "x";
    g_autoptr(GError) error = NULL;
    g_autoptr(Document) document = edit_read(optional, strlen(optional), &error);
    g_autofree char *found = edit_target(document, n, options, path, &which, &error);
    if (expected == NULL) {
        assert_null(found);
        assert_non_null(error);
        assert_null(which);
        return;
    }
    assert_string_equal(found, expected);
    assert_true(g_strcmp0(which, option) == 0);
}

static void
edits_go_where_the_value_comes_from(void **state)
{
    (void) state;
    const char *both[] = {"motor", "bigger"};
    target("items.pump.mass", 0, both, "items.pump.mass", NULL);
    target("items.pump.mass", 1, both, "options.motor.changes.items.pump.mass", "motor");
    target("items.pump.along", 1, both, "items.pump.along", NULL);
    target("items.pump.price", 1, both, "options.motor.changes.items.pump.price", "motor");
    target("items.motor.mass", 1, both, "options.motor.changes.items.motor.mass", "motor");
    target("items.motor.along", 1, both, "options.motor.changes.items.motor.along", "motor");
    target("items.motor.tank.volume", 1, both, "options.motor.changes.items.motor.tank.volume",
           "motor");
    target("items.engine.mass", 1, both, NULL, NULL);
    target("items.other.mass", 1, both, "items.other.mass", NULL);
    target("items.motor.power", 2, both, "options.bigger.changes.items.motor.power", "bigger");
    target("items.motor.mass", 2, both, "options.motor.changes.items.motor.mass", "motor");
    target("boat.name", 2, both, "boat.name", NULL);
    target("..", 1, both, NULL, NULL);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(edits_are_spliced),
        cmocka_unit_test(impossible_edits_are_refused),
        cmocka_unit_test(records_are_made_whole),
        cmocka_unit_test(no_edit_changes_nothing),
        cmocka_unit_test(edits_go_where_the_value_comes_from),
    };
    return cmocka_run_group_tests_name("edit", tests, NULL, NULL);
}
