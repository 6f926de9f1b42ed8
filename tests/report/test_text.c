/* Texts for the terminal: whole outputs against golden files, lines within their width, nothing that a terminal would obey.
 * GOLDEN_UPDATE=1 writes the golden files anew; each was then read and its numbers checked by hand. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "demo_result.h"
#include "report/answers_text.h"
#include "report/check_text.h"
#include "report/scan_symbols.h"
#include "report/why_text.h"
#include "report/wrap.h"

static void
same_as_golden(const char *name, const GString *text)
{
    g_autofree char *path = g_build_filename(GOLDEN, name, NULL);
    if (g_getenv("GOLDEN_UPDATE") != NULL)
        assert_true(g_file_set_contents(path, text->str, (gssize) text->len, NULL));
    g_autofree char *expected = NULL;
    assert_true(g_file_get_contents(path, &expected, NULL, NULL));
    assert_string_equal(text->str, expected);
}

static GString *
check_of(Demo *demo, int width, UnitsChoice units, bool colour)
{
    Style style = {.width = width, .units = units, .colour = colour};
    GString *text = g_string_new(NULL);
    write_check_text(demo->result, &demo->asked, &style, text);
    return text;
}

static void
check_golden(void **state G_GNUC_UNUSED)
{
    Demo *demo = demo_new(false);
    g_autoptr(GString) text = check_of(demo, 80, UNITS_METRIC, false);
    same_as_golden("check.txt", text);
    demo_free(demo);
}

static void
why_golden(void **state G_GNUC_UNUSED)
{
    Demo *demo = demo_new(false);
    Style style = {.width = 80};
    g_autoptr(GString) text = g_string_new(NULL);
    assert_true(write_why_text(demo->result, "afloat.displacement", &style, text));
    same_as_golden("why-displacement.txt", text);
    g_string_truncate(text, 0);
    assert_true(write_why_text(demo->result, "afloat.openings.engine-vent", &style, text));
    same_as_golden("why-finding.txt", text);
    g_string_truncate(text, 0);
    assert_false(write_why_text(demo->result, "afloat.nothing", &style, text));
    assert_int_equal(text->len, 0);
    assert_string_equal(nearest_result_name(demo->result, "afloat.displacment"),
                        "afloat.displacement");
    demo_free(demo);
}

static void
answers_golden(void **state G_GNUC_UNUSED)
{
    Demo *demo = demo_new(false);
    Style style = {.width = 60, .units = UNITS_IMPERIAL};
    g_autoptr(GString) text = g_string_new(NULL);
    write_answers_text(demo->result, 0, NULL, &style, text);
    same_as_golden("answers-imperial.txt", text);
    demo_free(demo);
}

/* A word that does not fit is left whole, so only lines with a blank to break at count. */
static void
lines_within(const GString *text, int width)
{
    g_auto(GStrv) lines = g_strsplit(text->str, "\n", -1);
    for (char **line = lines; *line != NULL; line++) {
        const char *first = *line + strspn(*line, " ");
        if (text_columns(*line) > width && strchr(first, ' ') != NULL)
            fail_msg("%d columns: %s", text_columns(*line), *line);
    }
}

static void
widths(void **state G_GNUC_UNUSED)
{
    Demo *demo = demo_new(false);
    for (int width = 50; width <= 120; width += 10) {
        g_autoptr(GString) check = check_of(demo, width, UNITS_METRIC, false);
        lines_within(check, width);
        Style style = {.width = width};
        g_autoptr(GString) why = g_string_new(NULL);
        write_why_text(demo->result, "afloat.openings.engine-vent", &style, why);
        lines_within(why, width);
    }
    demo_free(demo);
}

static void
never_promises(void **state G_GNUC_UNUSED)
{
    Demo *demo = demo_new(false);
    g_autoptr(GString) text = check_of(demo, 80, UNITS_METRIC, false);
    g_autofree char *lower = g_ascii_strdown(text->str, -1);
    assert_false(g_regex_match_simple("\\b(safe|safely|compliant|approved by)\\b", lower, 0, 0));
    assert_true(g_regex_match_simple("2 of 3\\s+questions answered", text->str, 0, 0));
    assert_non_null(strstr(text->str, "Can she burn or gas you? Not known"));
    demo_free(demo);
}

static void
obeys_nothing(void **state G_GNUC_UNUSED)
{
    Demo *demo = demo_new(true);
    g_autoptr(GString) text = check_of(demo, 80, UNITS_METRIC, false);
    Style style = {.width = 80};
    write_answers_text(demo->result, 0, NULL, &style, text);
    write_why_text(demo->result, "afloat.opening-height", &style, text);
    assert_true(g_utf8_validate(text->str, (gssize) text->len, NULL));
    for (const char *at = text->str; *at != '\0'; at = g_utf8_next_char(at)) {
        gunichar c = g_utf8_get_char(at);
        assert_true(c == '\n' || !g_unichar_iscntrl(c));
        assert_true(c != 0x202e);
    }
    /* Braces in the owner's words are his own, not placeholders. */
    assert_non_null(strstr(text->str, "{value} {0}"));
    assert_non_null(strstr(text->str, "[31mred"));
    demo_free(demo);
}

static void
colours_only_when_asked(void **state G_GNUC_UNUSED)
{
    Demo *demo = demo_new(false);
    g_autoptr(GString) plain = check_of(demo, 80, UNITS_METRIC, false);
    g_autoptr(GString) coloured = check_of(demo, 80, UNITS_METRIC, true);
    assert_null(strchr(plain->str, '\033'));
    g_autoptr(GRegex) marks = g_regex_new("\033\\[[0-9;]*m", 0, 0, NULL);
    g_autofree char *stripped = g_regex_replace_literal(marks, coloured->str, -1, 0, "", 0, NULL);
    assert_string_not_equal(coloured->str, plain->str);
    assert_string_equal(stripped, plain->str);
    demo_free(demo);
}

static void
symbols_of(const char *formula, const char *expected)
{
    g_autoptr(GString) names = g_string_new(NULL);
    SymbolScan scan = symbol_scan(formula);
    while (symbol_next(&scan))
        g_string_append_printf(names, "%s%.*s%s", names->len > 0 ? " " : "", (int) scan.length,
                               scan.symbol, scan.first ? "" : "'");
    assert_string_equal(names->str, expected);
}

static void
symbols(void **state G_GNUC_UNUSED)
{
    symbols_of("B^2 / (12 * T)", "B T");
    symbols_of("sum(m * x) / M", "m x M");
    symbols_of("2.5e-3 * a1 + 1e3 - a1", "a1 a1'");
    symbols_of("sin (heel) * l_w1 + phi'", "heel l_w1 phi'");
    symbols_of("\u03c1 * V", "\u03c1 V");
    symbols_of("a + aa + a", "a aa a'");
    symbols_of("", "");
    symbols_of(NULL, "");
}

static void
wrapping(void **state G_GNUC_UNUSED)
{
    g_autoptr(GString) out = g_string_new(NULL);
    wrap_text(out, "one two  three a-very-long-path.of.a.field end", 0, 2, 12);
    assert_string_equal(out->str, "one two\n  three\n  a-very-long-path.of.a.field\n  end\n");
    assert_int_equal(text_columns("m\u00b2 \u4e2d\u6587"), 7);
    g_autofree char *cut = text_cut("\u4e2d\u6587\u4e2d\u6587\u4e2d\u6587", 8);
    assert_string_equal(cut, "\u4e2d\u6587...");
}

int
main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(check_golden),
                                       cmocka_unit_test(why_golden),
                                       cmocka_unit_test(answers_golden),
                                       cmocka_unit_test(widths),
                                       cmocka_unit_test(never_promises),
                                       cmocka_unit_test(obeys_nothing),
                                       cmocka_unit_test(colours_only_when_asked),
                                       cmocka_unit_test(symbols),
                                       cmocka_unit_test(wrapping)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
