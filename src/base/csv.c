/* RFC 4180 tables. Cells are kept, NUL-ended and in order, in one buffer no longer than the text:
 * each cell takes over the place of the separator behind it. Every row has as many cells as the
 * header. */
#include "base/csv.h"

#include <string.h>

struct Csv {
    char *cells;       /* the text of all cells, one after another */
    GPtrArray *starts; /* char *: every cell, the header's first */
    GArray *lines;     /* unsigned: line each row begins on, the header's first */
    size_t columns;
};

typedef struct {
    const char *at, *end;
    char *out;
    unsigned line;
    Csv *csv;
    GError **error;
} Reader;

GQuark
csv_error_quark(void)
{
    return g_quark_from_static_string("careen-csv-error-quark");
}

void
csv_free(Csv *csv)
{
    if (csv == NULL)
        return;
    g_free(csv->cells);
    g_ptr_array_unref(csv->starts);
    g_array_unref(csv->lines);
    g_free(csv);
}

static bool
fail(const Reader *r, const char *what)
{
    size_t in_row = r->csv->starts->len;
    if (r->csv->columns > 0)
        in_row -= r->csv->columns * (r->csv->lines->len - 1);
    g_set_error(r->error, CSV_ERROR, 0, "line %u, row %u, column %zu: %s", r->line,
                r->csv->lines->len, in_row, what);
    return false;
}

static bool
read_quoted(Reader *r)
{
    unsigned opened = r->line;
    for (r->at++; r->at < r->end; r->at++) {
        if (*r->at == '"') {
            if (r->at + 1 == r->end || r->at[1] != '"')
                break;
            r->at++;
        } else if (*r->at == '\n') {
            r->line++;
        }
        *r->out++ = *r->at;
    }
    if (r->at == r->end) {
        r->line = opened;
        return fail(r, "a quote is opened here and never closed");
    }
    r->at++;
    if (r->at < r->end && strchr(",\r\n", *r->at) == NULL)
        return fail(r, "text behind a closing quote; a comma or the end of the line is expected "
                       "(a quote inside a quoted cell is written twice)");
    return true;
}

static bool
read_plain(Reader *r)
{
    for (; r->at < r->end && strchr(",\r\n", *r->at) == NULL; r->at++) {
        if (*r->at == '"')
            return fail(r, "a quote inside a cell that does not begin with one; quote the whole "
                           "cell and write the quote twice");
        *r->out++ = *r->at;
    }
    return true;
}

/* Reads one cell and what ends it; *row_ends tells which it was. */
static bool
read_cell(Reader *r, bool *row_ends)
{
    g_ptr_array_add(r->csv->starts, r->out);
    if (r->at < r->end && *r->at == '"' ? !read_quoted(r) : !read_plain(r))
        return false;
    *r->out++ = '\0';
    *row_ends = true;
    if (r->at == r->end)
        return true;
    if (*r->at == ',') {
        r->at++;
        *row_ends = false;
        return true;
    }
    if (*r->at == '\r') {
        if (r->at + 1 == r->end || r->at[1] != '\n')
            return fail(r, "a carriage return that ends no line");
        r->at++;
    }
    r->at++;
    return true;
}

static bool
check_header(Reader *r)
{
    Csv *csv = r->csv;
    csv->columns = csv->starts->len;
    g_autoptr(GHashTable) seen = g_hash_table_new(g_str_hash, g_str_equal);
    for (size_t i = 0; i < csv->columns; i++) {
        char *name = g_ptr_array_index(csv->starts, i);
        const char *what = *name == '\0'                   ? "this column has no name"
                           : !g_hash_table_add(seen, name) ? "two columns bear this name"
                                                           : NULL;
        if (what != NULL) {
            g_set_error(r->error, CSV_ERROR, 0, "line 1, row 1, column %zu: %s: `%s`", i + 1, what,
                        name);
            return false;
        }
    }
    return true;
}

static bool
read_row(Reader *r)
{
    Csv *csv = r->csv;
    unsigned begins = r->line;
    guint before = csv->starts->len;
    g_array_append_val(csv->lines, begins);
    for (bool ends = false; !ends;) {
        if (!read_cell(r, &ends))
            return false;
    }
    if (csv->columns == 0) {
        if (!check_header(r))
            return false;
    } else if (csv->starts->len - before != csv->columns) {
        g_set_error(r->error, CSV_ERROR, 0,
                    "line %u, row %u, column %u: %u cells where the header has %zu", begins,
                    csv->lines->len, csv->starts->len - before, csv->starts->len - before,
                    csv->columns);
        return false;
    }
    r->line++;
    return true;
}

/* Blank lines behind the last row are no rows, except where a row is one cell. */
static bool
at_end(const Reader *r)
{
    const char *at = r->at;
    while (r->csv->columns > 1 && at < r->end &&
           (*at == '\n' || (*at == '\r' && at + 1 < r->end && at[1] == '\n')))
        at++;
    return at == r->end;
}

static bool
check_encoding(Reader *r)
{
    const char *bad;
    if (g_utf8_validate_len(r->at, (gsize) (r->end - r->at), &bad))
        return true;
    unsigned line = 1, column = 1;
    for (const char *c = r->at; c < bad; c++) {
        column += *c == ',';
        if (*c == '\n') {
            line++;
            column = 1;
        }
    }
    g_set_error(r->error, CSV_ERROR, 0, "line %u, column %u: %s; the file must be UTF-8", line,
                column, *bad == '\0' ? "a NUL byte" : "bytes that are no UTF-8");
    return false;
}

Csv *
csv_parse(const char *text, gsize length, GError **error)
{
    g_return_val_if_fail(text != NULL, NULL);
    g_autoptr(Csv) csv = g_new0(Csv, 1);
    csv->starts = g_ptr_array_new();
    csv->lines = g_array_new(FALSE, FALSE, sizeof(unsigned));
    csv->cells = g_malloc(length + 1);

    Reader r = {
        .at = text, .end = text + length, .out = csv->cells, .line = 1, .csv = csv, .error = error};
    if (length >= 3 && memcmp(text, "\xef\xbb\xbf", 3) == 0)
        r.at += 3;
    if (!check_encoding(&r))
        return NULL;
    if (r.at == r.end) {
        g_set_error(error, CSV_ERROR, 0, "line 1: the table is empty; a header row is expected");
        return NULL;
    }
    while (!at_end(&r)) {
        if (!read_row(&r))
            return NULL;
    }
    return g_steal_pointer(&csv);
}

Csv *
csv_load(const char *path, GError **error)
{
    g_autofree char *text = NULL;
    gsize length;
    if (!g_file_get_contents(path, &text, &length, error))
        return NULL;
    Csv *csv = csv_parse(text, length, error);
    if (csv == NULL)
        g_prefix_error(error, "%s: ", path);
    return csv;
}

size_t
csv_rows(const Csv *csv)
{
    return csv->lines->len - 1;
}

size_t
csv_columns(const Csv *csv)
{
    return csv->columns;
}

const char *
csv_header(const Csv *csv, size_t column)
{
    g_return_val_if_fail(column < csv->columns, NULL);
    return g_ptr_array_index(csv->starts, column);
}

const char *
csv_cell(const Csv *csv, size_t row, size_t column)
{
    g_return_val_if_fail(row < csv_rows(csv) && column < csv->columns, NULL);
    return g_ptr_array_index(csv->starts, (row + 1) * csv->columns + column);
}

int
csv_column(const Csv *csv, const char *header)
{
    for (size_t i = 0; i < csv->columns; i++) {
        if (g_str_equal(csv_header(csv, i), header))
            return (int) i;
    }
    return -1;
}

unsigned
csv_line(const Csv *csv, size_t row)
{
    g_return_val_if_fail(row < csv_rows(csv), 0);
    return g_array_index(csv->lines, unsigned, row + 1);
}
