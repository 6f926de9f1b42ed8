/* RFC 4180 tables, whole in memory: quoted cells, CRLF or LF, a BOM is skipped. */
#pragma once

#include <glib.h>
#include <stdbool.h>

typedef struct Csv Csv;

/* NULL and *error (domain CSV_ERROR) with row and column for a ragged row, a stray quote, NUL, bad UTF-8. */
Csv *csv_parse(const char *text, gsize length, GError **error);
Csv *csv_load(const char *path, GError **error);
void csv_free(Csv *csv);
size_t csv_rows(const Csv *csv); /* without the header row */
size_t csv_columns(const Csv *csv);
const char *csv_header(const Csv *csv, size_t column);
const char *csv_cell(const Csv *csv, size_t row, size_t column);
int csv_column(const Csv *csv, const char *header); /* -1 when there is none */
unsigned csv_line(const Csv *csv, size_t row);      /* line of the file the row begins on */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Csv, csv_free)

#define CSV_ERROR csv_error_quark()
GQuark csv_error_quark(void);
