/* Hostile and odd YAML: refused with its place, or read with the right spans. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "bad.h"
#include "boat/document.h"

static const Bad refused[] = {
    {"anchor", "careen: 1\nboat: &a\n  name: X\n", 2, "anchors", NULL},
    {"alias", "careen: 1\nboat:\n  name: *a\n", 3, "aliases", NULL},
    {"alias as key", "careen: 1\n*a : 1\n", 2, "aliases", NULL},
    {"tag", "careen: 1\nboat: !!map\n  name: X\n", 2, "tags", NULL},
    {"local tag", "careen: !mine 1\n", 1, "tags", NULL},
    {"version directive", "%YAML 1.2\n---\ncareen: 1\n", 2, "directives", NULL},
    {"tag directive", "%TAG ! tag:x,2000:\n---\ncareen: 1\n", 2, "directives", NULL},
    {"second document", "careen: 1\n---\ncareen: 1\n", 2, "second document", NULL},
    {"second document after an end", "careen: 1\n...\ncareen: 1\n", 3, "second document", NULL},
    {"duplicate key", "careen: 1\nboat:\n  name: X\n  kind: tug\n  name: Y\n", 5, "twice", NULL},
    {"duplicate section", "careen: 1\nitems:\n  a: {}\nitems:\n  b: {}\n", 4, "twice", NULL},
    {"duplicate id", "careen: 1\nitems:\n  a:\n    mass: 1 kg\n  a:\n    mass: 2 kg\n", 5,
     "the first is in line 3", NULL},
    {"duplicate in flow", "careen: 1\nboat: {name: X, name: Y}\n", 2, "twice", NULL},
    {"duplicate by quotes", "careen: 1\nboat:\n  name: X\n  'name': Y\n", 4, "twice", NULL},
    {"list as key", "careen: 1\n[a, b]: c\n", 2, "expected a key", NULL},
    {"map as key", "careen: 1\n{a: b}: c\n", 2, "expected a key", NULL},
    {"question key", "careen: 1\n? boat\n: x\n", 2, "", NULL},
    {"no colon in flow", "careen: 1\nboat: {name}\n", 2, "colon", NULL},
    {"pair in a list", "careen: 1\nlist: [a: b]\n", 2, "colon", NULL},
    {"tab as indentation", "careen: 1\nboat:\n\tname: X\n", 3, "tab", NULL},
    {"tab after blanks", "careen: 1\nboat:\n  name: X\n \tkind: tug\n", 4, "tab", NULL},
    {"empty file", "", 1, "empty", NULL},
    {"comments only", "# nothing\n\n", 1, "empty", NULL},
    {"a list", "- a\n- b\n", 1, "this is a list", NULL},
    {"a word", "hello\n", 1, "careen: 1", NULL},
    {"unclosed bracket", "careen: 1\nboat: [a, b\n", 3, "closing bracket", NULL},
    {"unclosed quote", "careen: 1\nboat: 'a\n", 2, "", NULL},
    {"colon in plain text", "careen: 1\nboat: a: b\n", 2, "", NULL},
    {"comma with nothing", "careen: 1\nlist: [a, , b]\n", 2, "comma", NULL},
    {"bad indentation", "careen: 1\nboat:\n    name: X\n  kind: tug\n", 4, "", NULL},
    {"escape character", "careen: 1\nboat:\n  name: a\033[31m\n", 3, "U+001B", NULL},
    {"C1 control", "careen: 1\nboat:\n  name: a\xC2\x9B\n", 3, "U+009B", NULL},
    {"next line", "careen: 1\nboat:\n  name: a\xC2\x85\n", 3, "U+0085", NULL},
    {"line separator", "careen: 1\nboat:\n  name: a\xE2\x80\xA8 b\n", 3, "U+2028", NULL},
    {"paragraph separator", "careen: 1\nboat:\n  name: a\xE2\x80\xA9 b\n", 3, "U+2029", NULL},
    {"escaped control", "careen: 1\nboat:\n  name: \"a\\u0007b\"\n", 3, "U+0007", NULL},
    {"escaped NUL", "careen: 1\nboat:\n  name: \"a\\0b\"\n", 3, "U+0000", NULL},
    {"bad UTF-8", "careen: 1\nboat:\n  name: \xFF\xC0\n", 3, "UTF-8", NULL},
    {"overlong UTF-8", "careen: 1\nboat:\n  name: \xC0\xAF\n", 3, "UTF-8", NULL},
    {"surrogate", "careen: 1\nboat:\n  name: \xED\xA0\x80\n", 3, "UTF-8", NULL},
    {"UTF-16",
     "\xFF\xFE"
     "c",
     1, "UTF-16", NULL},
    {"lone carriage return", "careen: 1\rboat:\r  name: X\r", 1, "carriage return", NULL},
    {"merge key", "careen: 1\nboat:\n  name: X\n  <<: {a: b}\n", 4, "there is no `<<`", NULL},
};

static void
hostile_text_is_refused(void **state)
{
    (void) state;
    expect_complaints(G_N_ELEMENTS(refused), refused);
}

static void
bytes_are_refused(void **state)
{
    (void) state;
    static const char nul[] = "careen: 1\nboat:\n  na\0me: X\n";
    static const char elf[] = "\x7F"
                              "ELF\2\1\1\0\0\0\0\0";
    expect_complaint(&(Bad){"NUL", NULL, 3, "NUL", NULL}, nul, sizeof nul - 1);
    expect_complaint(&(Bad){"binary", NULL, 1, "NUL", NULL}, elf, sizeof elf - 1);
    static char large[50u << 20];
    memset(large, '#', sizeof large);
    expect_complaint(&(Bad){"50 MB", NULL, 0, "4 MiB", NULL}, large, 50u << 20);
}

static void
deep_and_wide_are_refused(void **state)
{
    (void) state;
    GString *deep = g_string_new("careen: 1\nx: ");
    for (int i = 0; i < 100000; i++)
        g_string_append_c(deep, '[');
    expect_complaint(&(Bad){"brackets", NULL, 2, "deeper than 32", NULL}, deep->str, deep->len);
    g_string_free(deep, TRUE);
    GString *wide = g_string_new("careen: 1\nx: [");
    for (int i = 0; i < 250000; i++)
        g_string_append(wide, "a,");
    g_string_append(wide, "a]\n");
    expect_complaint(&(Bad){"nodes", NULL, 2, "200000", NULL}, wide->str, wide->len);
    g_string_free(wide, TRUE);
}

static void
depth_of_32_is_read(void **state)
{
    (void) state;
    GString *deep = g_string_new("x: ");
    for (int i = 0; i < 31; i++)
        g_string_append_c(deep, '[');
    for (int i = 0; i < 31; i++)
        g_string_append_c(deep, ']');
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Document) document = document_parse(deep->str, deep->len, notes);
    assert_non_null(document);
    g_string_free(deep, TRUE);
}

/* Each value's span is the very text that stands there. */
static void
spans_are_the_text(void **state)
{
    (void) state;
    static const char text[] = "\xEF\xBB\xBF"
                               "a: plain  # c\r\n"
                               "b: 'single'\r\n"
                               "c: \"d\\u00e9\"\r\n"
                               "d: |  # kept\r\n"
                               "  block\r\n"
                               "\r\n"
                               "e:\r\n"
                               "f: {x: 1, y: [p, q]}  # flow\r\n"
                               "é: ünï\r\n"
                               "g:\r\n"
                               "  - one\r\n"
                               "  - two  # end\r\n"
                               "h:\r\n"
                               "  i: 1\r\n"
                               "  # below\r\n"
                               "j: last";
    static const struct {
        const char *path, *span;
        unsigned line, column;
    } expected[] = {
        {"a", "plain", 1, 4},
        {"b", "'single'", 2, 4},
        {"c", "\"d\\u00e9\"", 3, 4},
        {"d", "|  # kept\r\n  block", 4, 1},
        {"e", "", 7, 1},
        {"f", "{x: 1, y: [p, q]}", 8, 4},
        {"f.x", "1", 8, 8},
        {"f.y", "[p, q]", 8, 14},
        {"é", "ünï", 9, 4},
        {"g", "- one\r\n  - two", 11, 3},
        {"h", "i: 1", 14, 3},
        {"h.i", "1", 14, 6},
        {"j", "last", 16, 4},
    };
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Document) document = document_parse(text, sizeof text - 1, notes);
    assert_non_null(document);
    for (size_t i = 0; i < G_N_ELEMENTS(expected); i++) {
        const Node *node = document_find(document, expected[i].path);
        assert_non_null(node);
        g_autofree char *span = g_strndup(text + node->start, node->end - node->start);
        assert_string_equal(span, expected[i].span);
        assert_int_equal(node->line, expected[i].line);
        assert_int_equal(node->column, expected[i].column);
        g_autofree char *path = node_path(node);
        assert_string_equal(path, expected[i].path);
    }
    assert_string_equal(document_find(document, "c")->text, "dé");
    assert_int_equal(document_find(document, "e")->type, NODE_EMPTY);
}

static void
scalars_stay_text(void **state)
{
    (void) state;
    static const char text[] = "a: null\nb: true\nc: ~\nd: 017\ne: ''\nf: no\n";
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Document) document = document_parse(text, sizeof text - 1, notes);
    static const char *const expected[] = {"null", "true", "~", "017", "", "no"};
    for (size_t i = 0; i < G_N_ELEMENTS(expected); i++)
        assert_string_equal(node_nth(document_root(document), i)->text, expected[i]);
    assert_null(document_find(document, "a.b"));
    assert_null(document_find(document, "a..b"));
    assert_null(document_find(document, ""));
}

static void
copies_are_equal(void **state)
{
    (void) state;
    static const char text[] = "a: 1\nb: {c: [x, y]}\n";
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Document) document = document_parse(text, sizeof text - 1, notes);
    g_autoptr(Node) copy = node_copy(document_root(document));
    assert_true(nodes_equal(copy, document_root(document)));
    g_free(node_child(copy, "a")->text);
    node_child(copy, "a")->text = g_strdup("2");
    assert_false(nodes_equal(copy, document_root(document)));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hostile_text_is_refused),   cmocka_unit_test(bytes_are_refused),
        cmocka_unit_test(deep_and_wide_are_refused), cmocka_unit_test(depth_of_32_is_read),
        cmocka_unit_test(spans_are_the_text),        cmocka_unit_test(scalars_stay_text),
        cmocka_unit_test(copies_are_equal),
    };
    return cmocka_run_group_tests_name("document", tests, NULL, NULL);
}
