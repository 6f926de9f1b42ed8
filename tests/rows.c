/* Tests driven by the rows of a CSV file. The row is the state of its test. */
#include "rows.h"

#include <glib.h>
#include <math.h>

#include "base/csv.h"

struct CaseRow {
    const Csv *csv;
    const char *file_name;
    size_t row;
};

static const char *
cell(const CaseRow *row, const char *column)
{
    int found = csv_column(row->csv, column);
    return found < 0 ? NULL : csv_cell(row->csv, row->row, (size_t) found);
}

const char *
row_text(const CaseRow *row, const char *column)
{
    const char *text = cell(row, column);
    if (text == NULL)
        fail_msg("%s has no column %s", row->file_name, column);
    return text;
}

bool
row_blank(const CaseRow *row, const char *column)
{
    return *row_text(row, column) == '\0';
}

static double
number_of(const CaseRow *row, const char *column, const char *text, const char **end)
{
    char *behind;
    double value = g_ascii_strtod(text, &behind);
    if (behind == text)
        fail_msg("%s line %u: `%s` in column %s is no number", row->file_name,
                 csv_line(row->csv, row->row), text, column);
    *end = behind;
    return value;
}

double
row_number(const CaseRow *row, const char *column)
{
    const char *text = row_text(row, column), *end;
    double value = number_of(row, column, text, &end);
    if (*end != '\0')
        fail_msg("%s line %u: `%s` in column %s is no number", row->file_name,
                 csv_line(row->csv, row->row), text, column);
    return value;
}

static double
tolerance_of(const CaseRow *row, const char *column, double expected)
{
    g_autofree char *own = g_strconcat(column, "_tolerance", NULL);
    const char *name = cell(row, own) != NULL ? own : "tolerance";
    const char *text = row_text(row, name), *end;
    double tolerance = number_of(row, name, text, &end);
    while (*end == ' ')
        end++;
    bool percent = g_str_equal(end, "%");
    if ((*end != '\0' && !percent) || !(tolerance >= 0.0) || !isfinite(tolerance))
        fail_msg("%s line %u: `%s` is no tolerance", row->file_name, csv_line(row->csv, row->row),
                 text);
    return percent ? fabs(expected) * tolerance / 100.0 : tolerance;
}

void
row_assert_near(double value, const CaseRow *row, const char *column, const char *file, int line)
{
    double expected = row_number(row, column);
    bool near = isnan(expected) ? isnan(value)
                                : fabs(value - expected) <= tolerance_of(row, column, expected);
    if (near)
        return;
    print_error("%s of %s: %.12g, expected %s within %s (%s line %u; source: %s)\n", column,
                row_text(row, "id"), value, row_text(row, column), row_text(row, "tolerance"),
                row->file_name, csv_line(row->csv, row->row), row_text(row, "source"));
    _fail(file, line);
}

static bool
is_complete(const Csv *csv, const char *path)
{
    static const char *const demanded[] = {"id", "tolerance", "source"};
    for (size_t i = 0; i < G_N_ELEMENTS(demanded); i++) {
        int column = csv_column(csv, demanded[i]);
        for (size_t row = 0; column >= 0 && row < csv_rows(csv); row++) {
            if (*csv_cell(csv, row, (size_t) column) == '\0') {
                g_printerr("%s line %u: %s is blank\n", path, csv_line(csv, row), demanded[i]);
                return false;
            }
        }
        if (column < 0) {
            g_printerr("%s has no column %s\n", path, demanded[i]);
            return false;
        }
    }
    if (csv_rows(csv) == 0)
        g_printerr("%s has no rows\n", path);
    return csv_rows(csv) > 0;
}

int
run_rows(const char *file_name, CMUnitTestFunction test)
{
    g_autofree char *path = g_build_filename(ROWS_DATA, file_name, NULL);
    g_autoptr(GError) error = NULL;
    g_autoptr(Csv) csv = csv_load(path, &error);
    if (csv == NULL) {
        g_printerr("%s\n", error->message);
        return 1;
    }
    if (!is_complete(csv, path))
        return 1;
    size_t n = csv_rows(csv);
    g_autofree CaseRow *rows = g_new0(CaseRow, n);
    g_autofree struct CMUnitTest *tests = g_new0(struct CMUnitTest, n);
    for (size_t i = 0; i < n; i++) {
        rows[i] = (CaseRow){.csv = csv, .file_name = file_name, .row = i};
        tests[i] = (struct CMUnitTest){
            .name = cell(&rows[i], "id"), .test_func = test, .initial_state = &rows[i]};
    }
    return _cmocka_run_group_tests(file_name, tests, n, NULL, NULL);
}
