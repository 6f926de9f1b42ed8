/* Any bytes as a table. What is read is written again, as a table and as markup, and must come back the same. */
#include <glib.h>
#include <stdint.h>
#include <string.h>

#include "base/csv.h"
#include "base/markup.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void
write_cell(GString *out, const char *cell, bool last)
{
    g_string_append_c(out, '"');
    for (const char *c = cell; *c != '\0'; c++) {
        if (*c == '"')
            g_string_append_c(out, '"');
        g_string_append_c(out, *c);
    }
    g_string_append(out, last ? "\"\n" : "\",");
}

static char *
write_table(const Csv *csv, gsize *length)
{
    GString *out = g_string_new(NULL);
    size_t n = csv_columns(csv);
    for (size_t column = 0; column < n; column++)
        write_cell(out, csv_header(csv, column), column + 1 == n);
    for (size_t row = 0; row < csv_rows(csv); row++) {
        for (size_t column = 0; column < n; column++)
            write_cell(out, csv_cell(csv, row, column), column + 1 == n);
    }
    *length = out->len;
    return g_string_free(out, FALSE);
}

static void
write_markup(const Csv *csv)
{
    Markup *markup = markup_new();
    markup_open(markup, "table", NULL);
    for (size_t row = 0; row < csv_rows(csv); row++) {
        markup_open(markup, "tr", "id", csv_cell(csv, row, 0), NULL);
        for (size_t column = 0; column < csv_columns(csv); column++)
            markup_element(markup, "td", csv_cell(csv, row, column), NULL);
        markup_close(markup);
    }
    markup_close(markup);
    g_autofree char *text = markup_steal(markup);
    g_assert_true(g_utf8_validate(text, -1, NULL));
}

static void
check_same(const Csv *a, const Csv *b)
{
    g_assert_cmpuint(csv_rows(a), ==, csv_rows(b));
    g_assert_cmpuint(csv_columns(a), ==, csv_columns(b));
    for (size_t column = 0; column < csv_columns(a); column++) {
        g_assert_cmpstr(csv_header(a, column), ==, csv_header(b, column));
        g_assert_cmpint(csv_column(a, csv_header(b, column)), ==, (int) column);
        for (size_t row = 0; row < csv_rows(a); row++)
            g_assert_cmpstr(csv_cell(a, row, column), ==, csv_cell(b, row, column));
    }
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Csv) csv = csv_parse((const char *) data, size, &error);
    g_assert_true((csv == NULL) == (error != NULL));
    if (csv == NULL) {
        g_assert_true(error->domain == CSV_ERROR && g_utf8_validate(error->message, -1, NULL));
        return 0;
    }
    write_markup(csv);
    gsize length;
    g_autofree char *text = write_table(csv, &length);
    g_autoptr(GError) refused = NULL;
    g_autoptr(Csv) again = csv_parse(text, length, &refused);
    if (again == NULL)
        g_error("%s", refused->message);
    check_same(csv, again);
    return 0;
}
