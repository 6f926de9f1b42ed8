/* Reading of trade tables. Every fault names table, line and column, so that a slip in data/ is
 * found at once. */
#include "catalog/table.h"

#include <gio/gio.h>
#include <math.h>
#include <string.h>

#include "catalog-data.h"

G_DEFINE_QUARK(catalog - error - quark, catalog_error)

char *
catalog_text(const char *file)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = g_strconcat("/careen/data/", file, NULL);
    g_autoptr(GBytes) bytes = g_resource_lookup_data(catalog_data_get_resource(), path,
                                                     G_RESOURCE_LOOKUP_FLAGS_NONE, &error);
    if (bytes == NULL)
        g_error("%s", error->message);
    gsize length;
    const char *text = g_bytes_get_data(bytes, &length);
    return g_strndup(text, length);
}

void
table_fault(const Table *table, size_t row, GError **error, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    g_autofree char *text = g_strdup_vprintf(format, arguments);
    va_end(arguments);
    g_set_error(error, CATALOG_ERROR, 0, "%s:%u: %s", table->name, csv_line(table->csv, row), text);
}

static bool
header_fits(const Csv *csv, size_t n, const char *const header[])
{
    if (csv_columns(csv) != n)
        return false;
    for (size_t i = 0; i < n; i++)
        if (strcmp(csv_header(csv, i), header[i]) != 0)
            return false;
    return true;
}

bool
table_open(Table *table, const char *name, const char *text, size_t n, const char *const header[],
           GError **error)
{
    table->name = name;
    table->units = 0;
    table->csv = csv_parse(text, strlen(text), error);
    if (table->csv == NULL) {
        g_prefix_error(error, "%s: ", name);
        return false;
    }
    if (header_fits(table->csv, n, header))
        return true;
    g_set_error(error, CATALOG_ERROR, 0, "%s:1: the header does not name the expected columns",
                name);
    g_clear_pointer(&table->csv, csv_free);
    return false;
}

const char *
table_text(const Table *table, size_t row, size_t column, GError **error)
{
    const char *cell = csv_cell(table->csv, row, column);
    if (cell[0] != '\0' && !g_ascii_isspace(cell[0]) && !g_ascii_isspace(cell[strlen(cell) - 1]))
        return cell;
    table_fault(table, row, error, "%s: is empty or has a blank at its end",
                csv_header(table->csv, column));
    return NULL;
}

static bool
unit_read(Table *table, const char *text, QuantityKind kind, Unit *unit, char **problem)
{
    for (size_t i = 0; i < table->units; i++)
        if (table->unit[i].kind == kind && strcmp(table->unit[i].text, text) == 0) {
            *unit = table->unit[i].unit;
            return true;
        }
    if (!unit_parse(text, kind, unit, problem))
        return false;
    if (table->units < G_N_ELEMENTS(table->unit) && strlen(text) < sizeof table->unit->text) {
        TableUnit *known = &table->unit[table->units++];
        *known = (TableUnit){.kind = kind, .unit = *unit};
        g_strlcpy(known->text, text, sizeof known->text);
    }
    return true;
}

bool
table_quantity(Table *table, const char *text, QuantityKind kind, double *si, char **problem)
{
    char *rest;
    double number = g_ascii_strtod(text, &rest);
    Unit unit = {.factor = 1.0};
    bool begins = g_ascii_isdigit(text[0]) || (text[0] == '-' && g_ascii_isdigit(text[1]));
    if (!begins || !isfinite(number) || (rest[0] != ' ' && rest[0] != '\0')) {
        *problem = g_strdup("expected a plain number with its unit");
        return false;
    }
    if (kind == Q_NONE && rest[0] == '\0') {
        *si = number;
        return true;
    }
    if (!unit_read(table, rest[0] == ' ' ? rest + 1 : rest, kind, &unit, problem))
        return false;
    *si = unit.factor * number + unit.offset;
    return true;
}

bool
table_number(Table *table, size_t row, size_t column, QuantityKind kind, double *si, GError **error)
{
    const char *cell = table_text(table, row, column, error);
    g_autofree char *problem = NULL;
    if (cell == NULL)
        return false;
    if (table_quantity(table, cell, kind, si, &problem))
        return true;
    table_fault(table, row, error, "%s: %s", csv_header(table->csv, column), problem);
    return false;
}

static bool
standing_find(const char *word, Standing *standing)
{
    for (int i = STANDING_DERIVED; i <= STANDING_MEMORY; i++)
        if (i != STANDING_OWNER && strcmp(word, standing_word((Standing) i)) == 0) {
            *standing = (Standing) i;
            return true;
        }
    return false;
}

bool
table_source(const Table *table, size_t row, size_t source_column, size_t standing_column,
             Source *source, GError **error)
{
    const char *text = table_text(table, row, source_column, error);
    if (text == NULL)
        return false;
    const char *word = table_text(table, row, standing_column, error);
    if (word == NULL)
        return false;
    source->text = text;
    if (standing_find(word, &source->standing))
        return true;
    table_fault(table, row, error, "standing: no such word: %s", word);
    return false;
}
