/* Measuring sheets and crane sheet: A4, bar of true length, what must be said on them, examples that the reader takes, upper
 * figures never below value and spread together. Measured with poppler's tools, where they are installed. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>
#include <gio/gio.h>

#include "boat/boat.h"
#include "demo_result.h"
#include "figures.h"
#include "report/crane_picture.h"
#include "report/crane_sheet.h"
#include "report/measuring_sheets.h"
#include "report/sheet.h"

#define A4_WIDE_PX 9921 /* at 1200 dpi */

static char *
saved(GBytes *bytes, const char *name)
{
    char *path = g_build_filename(g_get_tmp_dir(), name, NULL);
    assert_true(g_file_set_contents(path, g_bytes_get_data(bytes, NULL),
                                    (gssize) g_bytes_get_size(bytes), NULL));
    return path;
}

/* Output of a tool, or NULL when it is not installed. */
static GBytes *
told(const char *const argv[])
{
    g_autofree char *program = g_find_program_in_path(argv[0]);
    if (program == NULL)
        return NULL;
    g_autoptr(GSubprocess) process = g_subprocess_newv(argv, G_SUBPROCESS_FLAGS_STDOUT_PIPE, NULL);
    assert_non_null(process);
    GBytes *out = NULL;
    assert_true(g_subprocess_communicate(process, NULL, NULL, &out, NULL, NULL));
    assert_true(g_subprocess_get_successful(process));
    return out;
}

static char *
told_text(const char *const argv[])
{
    g_autoptr(GBytes) bytes = told(argv);
    return bytes != NULL ? g_strndup(g_bytes_get_data(bytes, NULL), g_bytes_get_size(bytes)) : NULL;
}

static GBytes *
measuring(const char *name)
{
    GError *error = NULL;
    GBytes *pdf = write_measuring_sheets(name, (Date){2027, 4, 12}, &error);
    assert_null(error);
    assert_non_null(pdf);
    return pdf;
}

/* The text as it flows, lines joined by single blanks. */
static char *
words_on(GBytes *pdf, const char *name)
{
    g_autofree char *path = saved(pdf, name);
    g_autofree char *text = told_text((const char *[]){"pdftotext", path, "-", NULL});
    if (text == NULL)
        return NULL;
    g_auto(GStrv) parts = g_strsplit_set(text, " \n\f", -1);
    g_autoptr(GString) out = g_string_new(NULL);
    for (char **part = parts; *part != NULL; part++)
        if (**part != '\0')
            g_string_append_printf(out, "%s ", *part);
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static void
assert_says(const char *text, const char *what)
{
    if (strstr(text, what) == NULL)
        fail_msg("not on the paper: %s", what);
}

static void
pages_are_a4(void **state G_GNUC_UNUSED)
{
    g_autoptr(GBytes) pdf = measuring("Testduck");
    g_autofree char *path = saved(pdf, "careen-test-measuring.pdf");
    g_autofree char *info = told_text((const char *[]){"pdfinfo", path, NULL});
    g_autofree char *text = words_on(pdf, "careen-test-measuring.pdf");
    if (info == NULL || text == NULL)
        skip();
    int pages;
    double wide, high;
    assert_int_equal(sscanf(strstr(info, "Pages:"), "Pages: %d", &pages), 1);
    assert_int_equal(sscanf(strstr(info, "Page size:"), "Page size: %lf x %lf", &wide, &high), 2);
    assert_float_equal(wide, 210.0 * 72.0 / 25.4, 0.01);
    assert_float_equal(high, 297.0 * 72.0 / 25.4, 0.01);
    size_t bars = 0;
    for (const char *at = text; (at = strstr(at, "100 mm long")) != NULL; at++)
        bars++;
    assert_int_equal(bars, pages); /* each page bears its bar: none runs over */
    for (int page = 1; page <= pages; page++) {
        g_autofree char *number = g_strdup_printf("page %d of %d ", page, pages);
        assert_says(text, number);
    }
}

/* The longest dark run on the first page's upper part, at 1200 dpi, is the rule of the head; the next shorter kind the bar. So
 * the rows between head and first drawing are searched for a run of the bar's length. */
static void
bar_is_100_mm(void **state G_GNUC_UNUSED)
{
    g_autoptr(GBytes) pdf = measuring("Testduck");
    g_autofree char *path = saved(pdf, "careen-test-measuring.pdf");
    const char *argv[] = {"pdftoppm", "-r", "1200", "-gray", "-f",   "1",  "-l",  "1",  "-x",
                          "0",        "-y", "1200", "-W",    "9921", "-H", "600", path, NULL};
    g_autoptr(GBytes) image = told(argv);
    if (image == NULL)
        skip();
    gsize length;
    const guint8 *data = g_bytes_get_data(image, &length);
    gsize offset = length - (gsize) A4_WIDE_PX * 600;
    size_t longest = 0;
    for (size_t row = 0; row < 600; row++) {
        size_t run = 0;
        for (size_t x = 0; x < A4_WIDE_PX; x++) {
            run = data[offset + row * A4_WIDE_PX + x] < 128 ? run + 1 : 0;
            longest = MAX(longest, run);
        }
    }
    /* The end ticks are 0.2 mm wide, centred on the ends. */
    assert_float_equal((double) longest / 1200.0 * 25.4, 100.0, 0.25);
}

static void
cautions_stand_on_it(void **state G_GNUC_UNUSED)
{
    g_autoptr(GBytes) pdf = measuring("Testduck");
    g_autofree char *text = words_on(pdf, "careen-test-measuring.pdf");
    if (text == NULL)
        skip();
    static const char *const must[] = {"Testduck, 2027-04-12",
                                       "under her unless she stands on blocks",
                                       "Nobody goes into a tank",
                                       "It is NOT done",
                                       "stiffness is in doubt",
                                       "Never people",
                                       "hull: tape: {base-aft: 1 m",
                                       "kind: freeboards",
                                       "kind: heel-test",
                                       "volume: 420 L",
                                       "9 in the middle",
                                       "beam at rail",
                                       "1000 kg/m3 x (3 - 1) / (2 - 1)"};
    for (size_t i = 0; i < G_N_ELEMENTS(must); i++)
        assert_says(text, must[i]);
}

/* One example of the paper, with what it refers to, as a boat file; *line is left at the line behind it. */
static char *
example_file(char ***line)
{
    g_autoptr(GString) boat = g_string_new(
        "careen: 1\nboat:\n  name: Testduck\nsituations:\n  as-measured:\n    what: then\n");
    do
        g_string_append_printf(boat, "%s\n", **line);
    while (*++*line != NULL && g_str_has_prefix(**line, " "));
    return g_string_free(g_steal_pointer(&boat), FALSE);
}

/* What the sheets tell to type, typed: pdftotext -layout keeps the indents of the examples. */
static void
examples_are_taken(void **state G_GNUC_UNUSED)
{
    g_autoptr(GBytes) pdf = measuring("Testduck");
    g_autofree char *path = saved(pdf, "careen-test-measuring.pdf");
    g_autofree char *text = told_text((const char *[]){"pdftotext", "-layout", path, "-", NULL});
    if (text == NULL)
        skip();
    g_auto(GStrv) lines = g_strsplit_set(text, "\n\f", -1);
    size_t taken = 0;
    for (char **line = lines; *line != NULL;) {
        if (!g_strv_contains((const char *const[]){"hull:", "measured:", "items:", NULL}, *line)) {
            line++;
            continue;
        }
        g_autofree char *file = example_file(&line);
        g_autoptr(Diagnostics) notes = diagnostics_new();
        g_autoptr(Boat) boat = boat_parse(file, strlen(file), 0, NULL, notes, NULL);
        g_autofree char *said = diagnostics_text(notes, "example");
        if (boat == NULL || diagnostics_count(notes) > 0)
            fail_msg("%s\n%s", said, file);
        taken++;
    }
    assert_int_equal(taken, 4);
}

static void
anything_is_a_name(void **state G_GNUC_UNUSED)
{
    g_autofree char *longest = g_strnfill(5000, 'x');
    const char *const names[] = {"", "<&\"'>", "\033[31m\n\t", "\xff\xfe", longest};
    for (size_t i = 0; i < G_N_ELEMENTS(names); i++) {
        g_autoptr(GBytes) a = measuring(names[i]), b = measuring(names[i]);
        assert_true(g_bytes_equal(a, b));
    }
}

static GBytes *
crane(bool hostile, UnitsChoice units, const ArrangementPicture *arrangement)
{
    Demo *demo = demo_new(hostile);
    GError *error = NULL;
    demo->asked.situation = "party";
    GBytes *pdf = write_crane_sheet(demo->result, &demo->asked, units, arrangement, &error);
    assert_null(error);
    assert_non_null(pdf);
    demo_free(demo);
    return pdf;
}

static void
crane_says_what_it_must(void **state G_GNUC_UNUSED)
{
    g_autoptr(GBytes) pdf = crane(false, UNITS_METRIC, figure_of("arrangement", FIGURE_PLAIN));
    g_autofree char *text = words_on(pdf, "careen-test-crane.pdf");
    if (text == NULL)
        skip();
    static const char *const must[] = {"The crane driver decides",
                                       "not reckoned",
                                       "Upper figure",
                                       "aft sling",
                                       "fore sling",
                                       "nobody is aboard",
                                       "To be read on the day"};
    for (size_t i = 0; i < G_N_ELEMENTS(must); i++)
        assert_says(text, must[i]);
    assert_null(strstr(text, "nan"));
    assert_null(strstr(text, "NAN"));
}

/* 10 000 kg give or take 950 kg: three digits upward, in the reader's units. */
static void
upper_figure_is_never_lighter(void **state G_GNUC_UNUSED)
{
    g_autoptr(GBytes) metric = crane(false, UNITS_METRIC, NULL),
                      imperial = crane(false, UNITS_IMPERIAL, NULL);
    g_autofree char *kg = words_on(metric, "careen-test-crane.pdf");
    g_autofree char *lb = words_on(imperial, "careen-test-crane-lb.pdf");
    if (kg == NULL || lb == NULL)
        skip();
    assert_says(kg, "Reckon with 11 000 kg.");
    assert_says(lb, "Reckon with 24 200 lb."); /* 10 950 / 0.45359237 = 24 140.6 */
}

static void
crane_takes_anything(void **state G_GNUC_UNUSED)
{
    for (int kind = 0; kind < FIGURES; kind++) {
        g_autoptr(GBytes) a = crane(true, UNITS_IMPERIAL, figure_of("arrangement", kind)),
                          b = crane(true, UNITS_IMPERIAL, figure_of("arrangement", kind));
        assert_true(g_bytes_equal(a, b));
    }
    g_autoptr(GBytes) bare = crane(false, UNITS_METRIC, NULL);
    assert_non_null(bare);
}

/* No place, no sling; a place off the hull is not drawn either. */
static void
only_known_slings_are_drawn(void **state G_GNUC_UNUSED)
{
    static const double x[] = {0.0, 10.0}, z[] = {0.0, 0.0}, high[] = {1.5, 1.5}, y[] = {1.0, 1.0};
    const HullLine line[] = {{"deck", HULL_DECK_EDGE, 2, x, y, high},
                             {"keel", HULL_BOTTOM, 2, x, y, z}};
    ArrangementPicture a = {.lines = 2, .line = line};
    CraneSling known[] = {{3.0, "aft sling", "5 000 kg"}, {7.0, "fore sling", NULL}};
    CraneSling none[] = {{NAN, "aft sling", NULL}, {11.0, "fore sling", NULL}};
    g_autofree char *both = crane_picture(&a, known, 5.0);
    g_autofree char *bare = crane_picture(&a, none, NAN);
    assert_non_null(strstr(both, "aft sling"));
    assert_non_null(strstr(both, "fore sling"));
    assert_non_null(strstr(both, "centre of weight"));
    assert_null(strstr(bare, "sling"));
    assert_null(strstr(bare, "centre"));
    a.lines = 1;
    assert_null(crane_picture(&a, known, 5.0));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(pages_are_a4),
                                       cmocka_unit_test(bar_is_100_mm),
                                       cmocka_unit_test(cautions_stand_on_it),
                                       cmocka_unit_test(examples_are_taken),
                                       cmocka_unit_test(anything_is_a_name),
                                       cmocka_unit_test(crane_says_what_it_must),
                                       cmocka_unit_test(upper_figure_is_never_lighter),
                                       cmocka_unit_test(crane_takes_anything),
                                       cmocka_unit_test(only_known_slings_are_drawn)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
