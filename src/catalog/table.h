/* A trade table while it is read: cells by column name, faults with table and line. */
#pragma once

#include "base/csv.h"
#include "base/unit.h"
#include "catalog/catalog.h"

typedef struct {
    QuantityKind kind;
    char text[8];
    Unit unit;
} TableUnit;

typedef struct {
    const char *name; /* "limits.csv" */
    Csv *csv;
    TableUnit unit[16]; /* read before: a few hundred cells share a handful of units */
    size_t units;
} Table;

/* A file of data/ as compiled in (g_free). */
char *catalog_text(const char *file);

/* NULL csv and *error when the text is no table or its header is not exactly the given one. */
bool table_open(Table *table, const char *name, const char *text, size_t n,
                const char *const header[], GError **error);
void table_fault(const Table *table, size_t row, GError **error, const char *format, ...)
    G_GNUC_PRINTF(4, 5);

/* Cell that must not be empty, NULL and *error when it is. The text lives as long as the table's
 * csv. */
const char *table_text(const Table *table, size_t row, size_t column, GError **error);

/* "1.5 kg" and no more: a finite number and a unit of the kind. text must live as long as the
 * table's csv. On failure *problem says what is wrong (g_free). */
bool table_quantity(Table *table, const char *text, QuantityKind kind, double *si, char **problem);
bool table_number(Table *table, size_t row, size_t column, QuantityKind kind, double *si,
                  GError **error);
bool table_source(const Table *table, size_t row, size_t source_column, size_t standing_column,
                  Source *source, GError **error);
