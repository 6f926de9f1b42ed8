/* Tables: what RFC 4180 allows is read, everything else is refused with its place. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>
#include <glib.h>
#include <glib/gstdio.h>

#include "base/csv.h"

static Csv *
parse(const char *text)
{
    g_autoptr(GError) error = NULL;
    Csv *csv = csv_parse(text, strlen(text), &error);
    if (csv == NULL)
        fail_msg("%s", error->message);
    return csv;
}

static void
plain_table(void **state)
{
    (void) state;
    g_autoptr(Csv) csv = parse("kind,mass/kg,note\nstove,35,\nanchor,15,galvanised\n");
    assert_int_equal(csv_rows(csv), 2);
    assert_int_equal(csv_columns(csv), 3);
    assert_string_equal(csv_header(csv, 1), "mass/kg");
    assert_string_equal(csv_cell(csv, 0, 0), "stove");
    assert_string_equal(csv_cell(csv, 0, 2), "");
    assert_string_equal(csv_cell(csv, 1, 2), "galvanised");
    assert_int_equal(csv_column(csv, "note"), 2);
    assert_int_equal(csv_column(csv, "Note"), -1);
    assert_int_equal(csv_line(csv, 0), 2);
    assert_int_equal(csv_line(csv, 1), 3);
}

static void
quotes_and_line_ends(void **state)
{
    (void) state;
    g_autoptr(Csv) csv = parse("\xef\xbb\xbf"
                               "a,b\r\n\"one, \"\"two\"\"\",\"line\r\nline\"\r\n\"\",\xc3\xa9");
    assert_int_equal(csv_rows(csv), 2);
    assert_string_equal(csv_header(csv, 0), "a");
    assert_string_equal(csv_cell(csv, 0, 0), "one, \"two\"");
    assert_string_equal(csv_cell(csv, 0, 1), "line\r\nline");
    assert_string_equal(csv_cell(csv, 1, 0), "");
    assert_string_equal(csv_cell(csv, 1, 1), "\xc3\xa9");
    assert_int_equal(csv_line(csv, 1), 4);
}

static void
blank_lines_at_the_end(void **state)
{
    (void) state;
    g_autoptr(Csv) csv = parse("a,b\n1,2\n\n\r\n");
    assert_int_equal(csv_rows(csv), 1);
    g_autoptr(Csv) header = parse("a,b");
    assert_int_equal(csv_rows(header), 0);
    g_autoptr(Csv) single = parse("a\n1\n\n2\n");
    assert_int_equal(csv_rows(single), 3);
    assert_string_equal(csv_cell(single, 1, 0), "");
}

static void
bad_tables_are_refused(void **state)
{
    (void) state;
    static const struct {
        const char *text;
        int length;
        const char *says;
    } rows[] = {
        {"", -1, "the table is empty"},
        {"\xef\xbb\xbf", -1, "the table is empty"},
        {"a,b\n1\n", -1, "line 2, row 2, column 1: 1 cells where the header has 2"},
        {"a,b\n1,2,3\n", -1, "line 2, row 2, column 3: 3 cells where the header has 2"},
        {"a,b\n1,2\n\n3,4\n", -1, "line 3, row 3, column 1: 1 cells where the header has 2"},
        {"a,b\n1,x\"y\n", -1, "line 2, row 2, column 2: a quote inside a cell"},
        {"a,b\n\"1\"x,2\n", -1, "line 2, row 2, column 1: text behind a closing quote"},
        {"a,b\n1,2\n\"open,\n4\n", -1,
         "line 3, row 3, column 1: a quote is opened here and never closed"},
        {"a,b\n1,2\r3,4\n", -1, "line 2, row 2, column 2: a carriage return that ends no line"},
        {"a,b\n1,2\r", -1, "a carriage return that ends no line"},
        {"a,b\n1,\0\n", 8, "line 2, column 2: a NUL byte"},
        {"a,b\n1,2\n\xff,4\n", -1, "line 3, column 1: bytes that are no UTF-8"},
        {"a,b\n1,\xc3", -1, "line 2, column 2: bytes that are no UTF-8"},
        {"a,a\n1,2\n", -1, "two columns bear this name: `a`"},
        {"a,\n1,2\n", -1, "column 2: this column has no name"},
        {"\n1\n", -1, "this column has no name"},
        {"\"", -1, "never closed"},
        {"a\n\"\"\"", -1, "never closed"},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autoptr(GError) error = NULL;
        gsize length = rows[i].length < 0 ? strlen(rows[i].text) : (gsize) rows[i].length;
        g_autoptr(Csv) csv = csv_parse(rows[i].text, length, &error);
        if (csv != NULL)
            fail_msg("table %zu was taken", i);
        assert_true(error->domain == CSV_ERROR);
        if (strstr(error->message, rows[i].says) == NULL)
            fail_msg("table %zu: \"%s\" does not say \"%s\"", i, error->message, rows[i].says);
        assert_null(csv_parse(rows[i].text, length, NULL));
    }
}

static void
missing_files_are_the_worlds_fault(void **state)
{
    (void) state;
    g_autoptr(GError) error = NULL;
    assert_null(csv_load("there-is-no-such-table.csv", &error));
    assert_true(error->domain == G_FILE_ERROR);
    assert_non_null(strstr(error->message, "there-is-no-such-table.csv"));
}

static void
files_are_named_in_errors(void **state)
{
    (void) state;
    g_autoptr(GError) error = NULL;
    g_autofree char *path = NULL;
    int fd = g_file_open_tmp("ragged-XXXXXX.csv", &path, &error);
    assert_true(fd >= 0);
    assert_true(g_file_set_contents(path, "a,b\n1\n", -1, &error));
    assert_null(csv_load(path, &error));
    assert_true(g_str_has_prefix(error->message, path));
    assert_int_equal(g_unlink(path), 0);
    g_close(fd, NULL);
}

/* Quotes every cell of a table and reads it again. */
static void
random_cells_survive(void **state)
{
    (void) state;
    static const char *const pieces[] = {"a", ",", "\"", "\n", "\r\n", "\xc3\xa9", " ", "1"};
    g_autoptr(GRand) draw = g_rand_new_with_seed(4180);
    for (int round = 0; round < 500; round++) {
        GString *text = g_string_new("x,y,z\n");
        g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
        for (int i = 0; i < 12; i++) {
            GString *cell = g_string_new(NULL);
            for (int n = g_rand_int_range(draw, 0, 6); n > 0; n--)
                g_string_append(cell, pieces[g_rand_int_range(draw, 0, G_N_ELEMENTS(pieces))]);
            g_auto(GStrv) parts = g_strsplit(cell->str, "\"", -1);
            g_autofree char *doubled = g_strjoinv("\"\"", parts);
            g_string_append_printf(text, "\"%s\"%s", doubled, i % 3 == 2 ? "\r\n" : ",");
            g_ptr_array_add(cells, g_string_free(cell, FALSE));
        }
        g_autoptr(Csv) csv = parse(text->str);
        for (size_t i = 0; i < 12; i++)
            assert_string_equal(csv_cell(csv, i / 3, i % 3), g_ptr_array_index(cells, i));
        g_string_free(text, TRUE);
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plain_table),
        cmocka_unit_test(quotes_and_line_ends),
        cmocka_unit_test(blank_lines_at_the_end),
        cmocka_unit_test(bad_tables_are_refused),
        cmocka_unit_test(missing_files_are_the_worlds_fault),
        cmocka_unit_test(files_are_named_in_errors),
        cmocka_unit_test(random_cells_survive),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
