/* A table for a spreadsheet, as CSV or as one sheet of a workbook: texts, numbers and days, each column of one kind. */
#pragma once

#include <glib.h>
#include <stddef.h>

typedef enum { CELL_TEXT, CELL_NUMBER, CELL_DAY } CellKind;

typedef struct {
    const char *head;
    CellKind kind;
    double width; /* in characters */
} TableColumn;

typedef struct {
    char *text;    /* of CELL_TEXT; NULL: empty */
    double number; /* of the others, a Julian day number of CELL_DAY; NAN: empty */
} TableCell;

typedef struct {
    const char *name; /* of the sheet */
    size_t n_columns;
    const TableColumn *column;
    GArray *cells; /* TableCell, row by row */
} DataTable;

DataTable *data_table_new(const char *name, size_t n_columns, const TableColumn column[]);
void data_table_free(DataTable *table);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(DataTable, data_table_free)

/* The next cell of the row; the column's kind must be that of the call. The owner's text, taken as it is. */
void data_table_text(DataTable *table, const char *text);
void data_table_number(DataTable *table, double number);
void data_table_day(DataTable *table, double day);

/* As RFC 4180 has it (report/csv); days as 2027-04-12. */
void write_table_csv(const DataTable *table, GString *out);
/* A workbook (XLSX) with a sheet for each table; created_day: stated as the day it was made, the same tables then give the same
 * bytes; NAN: 1 January 2000. NULL with *error. */
GBytes *write_workbook(size_t n, const DataTable *const table[], const char *title,
                       double created_day, GError **error);
