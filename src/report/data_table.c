/* Tables. Invariant: cells are filled from the left, row after row. */
#include "report/data_table.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>
#include <unistd.h>

#include "base/date.h"
#include "report/csv.h"
#include "report/office_lib.h"
#include "report/svg_pdf.h"

static void
clear_cell(gpointer cell)
{
    g_free(((TableCell *) cell)->text);
}

DataTable *
data_table_new(const char *name, size_t n_columns, const TableColumn column[])
{
    DataTable *table = g_new0(DataTable, 1);
    *table = (DataTable){name, n_columns, column, g_array_new(FALSE, FALSE, sizeof(TableCell))};
    g_array_set_clear_func(table->cells, clear_cell);
    return table;
}

void
data_table_free(DataTable *table)
{
    if (table == NULL)
        return;
    g_array_unref(table->cells);
    g_free(table);
}

static void
add_cell(DataTable *table, CellKind kind, TableCell cell)
{
    g_assert(table->column[table->cells->len % table->n_columns].kind == kind);
    g_array_append_val(table->cells, cell);
}

void
data_table_text(DataTable *table, const char *text)
{
    add_cell(table, CELL_TEXT, (TableCell){g_strdup(text), NAN});
}

void
data_table_number(DataTable *table, double number)
{
    add_cell(table, CELL_NUMBER, (TableCell){NULL, number});
}

void
data_table_day(DataTable *table, double day)
{
    add_cell(table, CELL_DAY, (TableCell){NULL, day_date(day).year != 0 ? floor(day) : NAN});
}

static const TableCell *
cell_at(const DataTable *table, size_t row, size_t column)
{
    return &g_array_index(table->cells, TableCell, row * table->n_columns + column);
}

/* ---- CSV ---- */

static void
csv_cell_out(const TableCell *cell, CellKind kind, GString *out)
{
    if (kind == CELL_TEXT)
        csv_text(out, cell->text);
    else if (kind == CELL_NUMBER)
        csv_number(out, cell->number);
    else {
        g_autofree char *day = isfinite(cell->number) ? day_iso(cell->number) : g_strdup("");
        csv_word(out, day);
    }
}

void
write_table_csv(const DataTable *table, GString *out)
{
    for (size_t k = 0; k < table->n_columns; k++)
        csv_word(out, table->column[k].head);
    csv_row_end(out);
    for (size_t row = 0; row < table->cells->len / table->n_columns; row++) {
        for (size_t k = 0; k < table->n_columns; k++)
            csv_cell_out(cell_at(table, row, k), table->column[k].kind, out);
        csv_row_end(out);
    }
}

/* ---- workbook ---- */

#define DAY_ZERO 2415019.0     /* what a spreadsheet counts days from: 30 December 1899 */
enum { LONGEST_TEXT = 32000 }; /* a cell holds 32767 characters */

typedef struct {
    const Office *lib;
    lxw_workbook *book;
    lxw_format *bold, *wrap, *day;
} Book;

static void
sheet_cell(const Book *b, lxw_worksheet *sheet, size_t row, size_t column, const TableCell *cell,
           CellKind kind)
{
    lxw_row_t r = (lxw_row_t) row;
    lxw_col_t c = (lxw_col_t) column;
    if (kind == CELL_TEXT && cell->text != NULL && cell->text[0] != '\0') {
        g_autofree char *valid = g_utf8_make_valid(cell->text, -1);
        if (strlen(valid) > LONGEST_TEXT)
            *g_utf8_find_prev_char(valid, valid + LONGEST_TEXT) = '\0';
        b->lib->worksheet_write_string(sheet, r, c, valid, b->wrap);
    }
    if (kind != CELL_TEXT && isfinite(cell->number))
        b->lib->worksheet_write_number(sheet, r, c,
                                       kind == CELL_DAY ? cell->number - DAY_ZERO : cell->number,
                                       kind == CELL_DAY ? b->day : NULL);
}

static void
sheet_fill(const Book *b, const DataTable *table)
{
    const Office *lib = b->lib;
    lxw_worksheet *sheet = lib->workbook_add_worksheet(b->book, table->name);
    size_t rows = table->cells->len / table->n_columns;
    for (size_t k = 0; k < table->n_columns; k++) {
        lib->worksheet_set_column(sheet, (lxw_col_t) k, (lxw_col_t) k, table->column[k].width,
                                  NULL);
        lib->worksheet_write_string(sheet, 0, (lxw_col_t) k, table->column[k].head, b->bold);
        for (size_t row = 0; row < rows; row++)
            sheet_cell(b, sheet, row + 1, k, cell_at(table, row, k), table->column[k].kind);
    }
    lib->worksheet_freeze_panes(sheet, 1, 0);
    lib->worksheet_autofilter(sheet, 0, 0, (lxw_row_t) rows, (lxw_col_t) (table->n_columns - 1));
    lib->worksheet_set_landscape(sheet);
    lib->worksheet_repeat_rows(sheet, 0, 0);
    lib->worksheet_fit_to_pages(sheet, 1, 0);
}

static void
book_formats(Book *b)
{
    b->bold = b->lib->workbook_add_format(b->book);
    b->wrap = b->lib->workbook_add_format(b->book);
    b->day = b->lib->workbook_add_format(b->book);
    b->lib->format_set_bold(b->bold);
    b->lib->format_set_text_wrap(b->bold);
    b->lib->format_set_text_wrap(b->wrap);
    b->lib->format_set_align(b->wrap, LXW_ALIGN_VERTICAL_TOP);
    b->lib->format_set_align(b->day, LXW_ALIGN_VERTICAL_TOP);
    b->lib->format_set_num_format(b->day, "yyyy-mm-dd");
}

static gboolean
book_write(const Office *lib, const char *path, size_t n, const DataTable *const table[],
           const char *title, double created_day, GError **error)
{
    Book b = {.lib = lib, .book = lib->workbook_new(path)};
    double day = isfinite(created_day) ? created_day : date_day((Date){2000, 1, 1});
    lxw_doc_properties properties = {.title = (char *) title,
                                     .created = (time_t) ((day - 2440588.0) * 86400.0)};
    lib->workbook_set_properties(b.book, &properties);
    book_formats(&b);
    for (size_t i = 0; i < n; i++)
        sheet_fill(&b, table[i]);
    lxw_error problem = lib->workbook_close(b.book);
    if (problem != LXW_NO_ERROR)
        g_set_error(error, REPORT_ERROR, 0, "the workbook cannot be written (fault %d)",
                    (int) problem);
    return problem == LXW_NO_ERROR;
}

/* The library writes to files only. */
GBytes *
write_workbook(size_t n, const DataTable *const table[], const char *title, double created_day,
               GError **error)
{
    const Office *lib = office_lib(error);
    g_autofree char *path = NULL, *bytes = NULL;
    gsize length = 0;
    int file = lib != NULL ? g_file_open_tmp("careen-XXXXXX.xlsx", &path, error) : -1;
    if (file < 0)
        return NULL;
    close(file);
    gboolean good = book_write(lib, path, n, table, title, created_day, error) &&
                    g_file_get_contents(path, &bytes, &length, error);
    g_unlink(path);
    return good ? g_bytes_new_take(g_steal_pointer(&bytes), length) : NULL;
}
