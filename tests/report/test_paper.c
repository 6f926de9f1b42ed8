/* Paper: true size measured on the printed page, same bytes each time, fonts in the file, pages counted. Measured with
 * poppler's tools, where they are installed. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>
#include <gio/gio.h>

#include "demo_result.h"
#include "figures.h"
#include "report/sheet.h"
#include "report/svg_pdf.h"

static const char bar[] =
    "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"200mm\" height=\"100mm\" "
    "viewBox=\"0 0 200 100\"><rect x=\"50\" y=\"40\" width=\"100\" height=\"10\"/></svg>";

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
    GError *error = NULL;
    g_autoptr(GSubprocess) process =
        g_subprocess_newv(argv, G_SUBPROCESS_FLAGS_STDOUT_PIPE, &error);
    assert_null(error);
    GBytes *out = NULL;
    assert_true(g_subprocess_communicate(process, NULL, NULL, &out, NULL, NULL));
    assert_true(g_subprocess_get_successful(process));
    return out;
}

static char *
told_text(const char *tool, const char *path)
{
    const char *argv[] = {tool, path, strcmp(tool, "pdftotext") == 0 ? "-" : NULL, NULL};
    g_autoptr(GBytes) bytes = told(argv);
    return bytes != NULL ? g_strndup(g_bytes_get_data(bytes, NULL), g_bytes_get_size(bytes)) : NULL;
}

static GBytes *
bar_pdf(double margin_mm, const char *created)
{
    PaperHow how = {.title = "bar", .created = created, .margin_mm = margin_mm};
    GError *error = NULL;
    GBytes *pdf = svg_to_pdf((const char *const[]){bar, NULL}, &how, &error);
    assert_null(error);
    return pdf;
}

static void
page_is_drawing_and_margin(void **state G_GNUC_UNUSED)
{
    g_autoptr(GBytes) pdf = bar_pdf(5.0, NULL);
    g_autofree char *path = saved(pdf, "careen-test-bar.pdf");
    g_autofree char *info = told_text("pdfinfo", path);
    if (info == NULL)
        skip();
    const char *size = strstr(info, "Page size:");
    assert_non_null(size);
    double wide, high;
    assert_int_equal(sscanf(size, "Page size: %lf x %lf", &wide, &high), 2);
    assert_float_equal(wide, 210.0 * 72.0 / 25.4, 0.01);
    assert_float_equal(high, 110.0 * 72.0 / 25.4, 0.01);
}

/* One row of pixels through the bar at 1200 dpi: 100 mm are 4724.4 of them. */
static void
bar_is_as_long_as_it_says(void **state G_GNUC_UNUSED)
{
    g_autoptr(GBytes) pdf = bar_pdf(5.0, NULL);
    g_autofree char *path = saved(pdf, "careen-test-bar.pdf");
    const char *argv[] = {"pdftoppm", "-r", "1200", "-gray", "-x", "0",  "-y",
                          "2362",     "-W", "9921", "-H",    "1",  path, NULL};
    g_autoptr(GBytes) image = told(argv);
    if (image == NULL)
        skip();
    gsize length;
    const guint8 *data = g_bytes_get_data(image, &length);
    assert_true(length >= 9921);
    size_t dark = 0;
    for (size_t i = length - 9921; i < length; i++)
        dark += data[i] < 128;
    assert_float_equal((double) dark / 1200.0 * 25.4, 100.0, 0.05);
}

static void
same_bytes(void **state G_GNUC_UNUSED)
{
    g_autoptr(GBytes) a = bar_pdf(5.0, "2027-04-12T00:00:00"),
                      b = bar_pdf(5.0, "2027-04-12T00:00:00");
    g_autoptr(GBytes) c = bar_pdf(5.0, "2027-04-13T00:00:00");
    assert_true(g_bytes_equal(a, b));
    assert_false(g_bytes_equal(a, c));
}

static void
no_size_takes_the_width_asked(void **state G_GNUC_UNUSED)
{
    PaperHow how = {.width_mm = 100.0};
    static const char *const drawing[] = {
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 440 220\"/>", NULL};
    g_autoptr(GBytes) pdf = svg_to_pdf(drawing, &how, NULL);
    assert_non_null(pdf);
    g_autofree char *path = saved(pdf, "careen-test-size.pdf");
    g_autofree char *info = told_text("pdfinfo", path);
    if (info == NULL)
        skip();
    double wide, high;
    assert_int_equal(sscanf(strstr(info, "Page size:"), "Page size: %lf x %lf", &wide, &high), 2);
    assert_float_equal(wide, 100.0 * 72.0 / 25.4, 0.01);
    assert_float_equal(high, 50.0 * 72.0 / 25.4, 0.01);
}

static void
png_is_as_wide_as_asked(void **state G_GNUC_UNUSED)
{
    g_autoptr(GBytes) png = svg_to_png(bar, 400, NULL);
    assert_non_null(png);
    const guint8 *data = g_bytes_get_data(png, NULL);
    assert_memory_equal(data, "\x89PNG\r\n", 6);
    assert_int_equal(data[18] << 8 | data[19], 400);
    assert_int_equal(data[22] << 8 | data[23], 200);
}

static void
bad_drawings_are_errors(void **state G_GNUC_UNUSED)
{
    static const char *const bad[] = {
        "", "no svg", "<svg", "<svg xmlns=\"http://www.w3.org/2000/svg\"><g></svg>",
        "<!DOCTYPE s [<!ENTITY a \"aaaaaaaaaa\"><!ENTITY b \"&a;&a;&a;&a;&a;&a;&a;&a;\"><!ENTITY c "
        "\"&b;&b;&b;&b;&b;&b;&b;&b;\"><!ENTITY d \"&c;&c;&c;&c;&c;&c;&c;&c;\"><!ENTITY e "
        "\"&d;&d;&d;&d;&d;&d;&d;\">"
        "<!ENTITY f \"&e;&e;&e;&e;&e;&e;&e;&e;&e;&e;&e;\"><!ENTITY g "
        "\"&f;&f;&f;&f;&f;&f;&f;&f;&f;\">]>"
        "<svg "
        "xmlns=\"http://www.w3.org/2000/svg\"><text>&g;&g;&g;&g;&g;&g;&g;&g;&g;&g;&g;</text></"
        "svg>"};
    for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
        GError *error = NULL;
        PaperHow how = {0};
        assert_null(svg_to_pdf((const char *const[]){bad[i], NULL}, &how, &error));
        assert_non_null(error);
        g_clear_error(&error);
        assert_null(svg_to_png(bad[i], 100, &error));
        assert_non_null(error);
        g_clear_error(&error);
    }
}

static GBytes *
sheet_of(bool hostile, FigureKind kind)
{
    Demo *demo = demo_new(hostile);
    SheetFigures figures = {figure_of("arrangement", kind), figure_of("righting-lever", kind),
                            figure_of("weight-plan", kind)};
    GError *error = NULL;
    GBytes *pdf = write_flotation_sheet(demo->result, &demo->asked, UNITS_METRIC, &figures, &error);
    assert_null(error);
    demo_free(demo);
    return pdf;
}

static void
sheet_counts_its_pages(void **state G_GNUC_UNUSED)
{
    g_autoptr(GBytes) pdf = sheet_of(false, FIGURE_CROWDED);
    g_autofree char *path = saved(pdf, "careen-test-sheet.pdf");
    g_autofree char *info = told_text("pdfinfo", path);
    g_autofree char *text = told_text("pdftotext", path);
    if (info == NULL || text == NULL)
        skip();
    int pages;
    double wide, high;
    assert_int_equal(sscanf(strstr(info, "Pages:"), "Pages: %d", &pages), 1);
    assert_int_equal(sscanf(strstr(info, "Page size:"), "Page size: %lf x %lf", &wide, &high), 2);
    assert_float_equal(wide, 210.0 * 72.0 / 25.4, 0.01);
    assert_float_equal(high, 297.0 * 72.0 / 25.4, 0.01);
    assert_true(pages >= 4);
    for (int page = 1; page <= pages; page++) {
        g_autofree char *number = g_strdup_printf("page %d of %d\n", page, pages);
        assert_non_null(strstr(text, number));
    }
    /* 60 weights need more than a page: the head of their table stands again. */
    const char *first = strstr(text, "Above base");
    assert_non_null(first);
    assert_non_null(strstr(first + 1, "Above base"));
    assert_non_null(strstr(text, "2027-04-12"));
    assert_non_null(strstr(text, "no survey"));
}

static void
sheet_embeds_its_fonts(void **state G_GNUC_UNUSED)
{
    g_autoptr(GBytes) pdf = sheet_of(false, FIGURE_PLAIN);
    g_autofree char *path = saved(pdf, "careen-test-sheet.pdf");
    g_autofree char *fonts = told_text("pdffonts", path);
    if (fonts == NULL)
        skip();
    g_auto(GStrv) lines = g_strsplit(fonts, "\n", -1);
    size_t n = 0;
    const char *column = strstr(lines[0], "emb");
    assert_non_null(column);
    for (char **line = lines + 2; *line != NULL && **line != '\0'; line++, n++)
        assert_memory_equal(*line + (column - lines[0]), "yes", 3);
    assert_true(n >= 2);
}

static void
sheet_takes_anything(void **state G_GNUC_UNUSED)
{
    for (int kind = 0; kind < FIGURES; kind++) {
        g_autoptr(GBytes) a = sheet_of(true, kind), b = sheet_of(true, kind);
        assert_non_null(a);
        assert_true(g_bytes_equal(a, b));
    }
    Demo *demo = demo_new(false);
    SheetFigures none = {NULL, NULL, NULL};
    g_autoptr(GBytes) bare =
        write_flotation_sheet(demo->result, &demo->asked, UNITS_IMPERIAL, &none, NULL);
    assert_non_null(bare);
    demo_free(demo);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(page_is_drawing_and_margin),
                                       cmocka_unit_test(bar_is_as_long_as_it_says),
                                       cmocka_unit_test(same_bytes),
                                       cmocka_unit_test(no_size_takes_the_width_asked),
                                       cmocka_unit_test(png_is_as_wide_as_asked),
                                       cmocka_unit_test(bad_drawings_are_errors),
                                       cmocka_unit_test(sheet_counts_its_pages),
                                       cmocka_unit_test(sheet_embeds_its_fonts),
                                       cmocka_unit_test(sheet_takes_anything)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
