/* Markup: whatever the owner typed, the page stays well formed and nobody's script runs. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <math.h>
#include <string.h>

#include <cmocka.h>
#include <glib.h>

#include "base/markup.h"

#define LOST "\xef\xbf\xbd"

static char *
in_text_and_attribute(const char *text)
{
    Markup *markup = markup_new();
    markup_element(markup, "p", text, "title", text, NULL);
    return markup_steal(markup);
}

static void
elements_nest(void **state)
{
    (void) state;
    Markup *markup = markup_new();
    markup_open(markup, "svg", "viewBox", "0 0 1 1", "class", NULL, "id", "a", NULL);
    markup_empty(markup, "line", "x1", markup_number(markup, 0.5), "y1",
                 markup_number(markup, -1.0), NULL);
    markup_open(markup, "g", NULL);
    markup_text(markup, "1 < 2");
    markup_close(markup);
    markup_raw(markup, "<b/>");
    markup_close(markup);
    g_autofree char *text = markup_steal(markup);
    assert_string_equal(text, "<svg viewBox=\"0 0 1 1\" id=\"a\"><line x1=\"0.5\" y1=\"-1\"/>"
                              "<g>1 &lt; 2</g><b/></svg>");
}

static void
everything_is_escaped(void **state)
{
    (void) state;
    static const struct {
        const char *text, *in_text, *in_attribute;
    } rows[] = {
        {"plain", "plain", "plain"},
        {"<script>alert('x')</script>", "&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;",
         "&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;"},
        {"\" onload=\"x", "&quot; onload=&quot;x", "&quot; onload=&quot;x"},
        {"a & b &amp; c", "a &amp; b &amp;amp; c", "a &amp; b &amp;amp; c"},
        {"]]>", "]]&gt;", "]]&gt;"},
        {"a\tb\nc", "a\tb\nc", "a&#9;b&#10;c"},
        {"a\x01"
         "b\x1f"
         "c\x7f"
         "d",
         "a" LOST "b" LOST "c" LOST "d", "a" LOST "b" LOST "c" LOST "d"},
        {"a\rb", "a" LOST "b", "a" LOST "b"},
        {"\xc2\x80 \xc2\x9f", LOST " " LOST, LOST " " LOST},
        {"\xef\xbf\xbe\xef\xbf\xbf", LOST LOST, LOST LOST},
        {"\xff\xc3(", LOST LOST "(", LOST LOST "("},
        {"cut \xe2\x82", "cut " LOST LOST, "cut " LOST LOST},
        {"\xed\xa0\x80", LOST LOST LOST, LOST LOST LOST}, /* half a surrogate */
        {"\xc3\xa9 \xe2\x82\xac \xf0\x9f\x9a\xa2", "\xc3\xa9 \xe2\x82\xac \xf0\x9f\x9a\xa2",
         "\xc3\xa9 \xe2\x82\xac \xf0\x9f\x9a\xa2"},
        {"", "", ""},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autofree char *found = in_text_and_attribute(rows[i].text);
        g_autofree char *expected =
            g_strdup_printf("<p title=\"%s\">%s</p>", rows[i].in_attribute, rows[i].in_text);
        assert_string_equal(found, expected);
    }
}

/* Parsed by GLib's own markup parser, random bytes come back as text or as U+FFFD, never as markup.
 */
static void
random_bytes_stay_text(void **state)
{
    (void) state;
    const GMarkupParser nothing = {NULL, NULL, NULL, NULL, NULL};
    g_autoptr(GRand) draw = g_rand_new_with_seed(65533);
    for (int round = 0; round < 5000; round++) {
        char bytes[40] = {0};
        for (int i = g_rand_int_range(draw, 0, 39); i > 0; i--)
            bytes[i - 1] = (char) g_rand_int_range(draw, 1, 256);
        g_autofree char *text = in_text_and_attribute(bytes);
        assert_true(g_utf8_validate(text, -1, NULL));
        g_autoptr(GError) error = NULL;
        GMarkupParseContext *context = g_markup_parse_context_new(&nothing, 0, NULL, NULL);
        if (!g_markup_parse_context_parse(context, text, -1, &error) ||
            !g_markup_parse_context_end_parse(context, &error))
            fail_msg("%s: %s", text, error->message);
        g_markup_parse_context_free(context);
        unsigned opened = 0;
        for (const char *c = text; *c != '\0'; c++)
            opened += *c == '<';
        assert_int_equal(opened, 2);
    }
}

static void
numbers_are_short(void **state)
{
    (void) state;
    static const struct {
        double value;
        const char *text;
    } rows[] = {
        {0.0, "0"},
        {-0.0, "0"},
        {-0.0001, "0"},
        {1.0, "1"},
        {-1.5, "-1.5"},
        {1.0 / 3.0, "0.333"},
        {2.0 / 3.0, "0.667"},
        {1e6, "1000000"},
        {0.001, "0.001"},
        {1e-9, "0"},
        {123456789.125, "123456789.125"},
        {1e15, "1000000000000000"},
        {1e300, "1000000000000000"},
    };
    g_autoptr(Markup) markup = markup_new();
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++)
        assert_string_equal(markup_number(markup, rows[i].value), rows[i].text);
}

/* The same as printf rounds the exact binary value, ties and near ties among them. */
static void
numbers_round_as_printf(void **state)
{
    (void) state;
    g_autoptr(Markup) markup = markup_new();
    g_autoptr(GRand) rand = g_rand_new_with_seed(7);
    for (int i = 0; i < 200000; i++) {
        double size = pow(10.0, g_rand_double_range(rand, -5.0, 7.0));
        double value = g_rand_double_range(rand, -size, size);
        if (i % 4 == 0)
            value = round(value * 2000.0) / 2000.0; /* halves of the last digit */
        if (i % 4 == 1)
            value = round(value * 8.0) / 8.0;
        char text[64];
        g_snprintf(text, sizeof text, "%.3f", value);
        for (char *last = text + strlen(text) - 1; *last == '0'; last--)
            *last = '\0';
        if (g_str_has_suffix(text, "."))
            text[strlen(text) - 1] = '\0';
        assert_string_equal(markup_number(markup, value), strcmp(text, "-0") == 0 ? "0" : text);
    }
}

static void
sixteen_numbers_live_at_once(void **state)
{
    (void) state;
    g_autoptr(Markup) markup = markup_new();
    const char *texts[16];
    for (int i = 0; i < 16; i++)
        texts[i] = markup_number(markup, i + 0.5);
    for (int i = 0; i < 16; i++) {
        g_autofree char *expected = g_strdup_printf("%d.5", i);
        assert_string_equal(texts[i], expected);
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(elements_nest),           cmocka_unit_test(everything_is_escaped),
        cmocka_unit_test(random_bytes_stay_text),  cmocka_unit_test(numbers_are_short),
        cmocka_unit_test(numbers_round_as_printf), cmocka_unit_test(sixteen_numbers_live_at_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
