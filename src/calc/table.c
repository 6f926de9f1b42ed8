/* Tables of calculators. Invariant: every column of the input has a value in every row, its own or the one it has when
 * left out. */
#include "calc/table.h"

#include <math.h>
#include <string.h>

#include "base/csv.h"
#include "base/diagnostics.h"
#include "base/unit.h"
#include "calc/arguments.h"

typedef struct {
    double *number;
    size_t *choice;
    char **text;
} Cells;

struct CalcTable {
    const Input *input;
    size_t rows;
    Cells *column; /* one a column of the input */
};

typedef struct {
    const char *file;
    const Csv *csv;
    int *at; /* CSV column of each column of the input, -1 when left out */
    Unit *unit;
} Reading;

size_t
calc_table_rows(const CalcTable *table)
{
    return table->rows;
}

void
calc_table_free(CalcTable *table)
{
    if (table == NULL)
        return;
    for (size_t k = 0; k < table->input->n_columns; k++) {
        g_free(table->column[k].number);
        g_free(table->column[k].choice);
        for (size_t i = 0; table->column[k].text != NULL && i < table->rows; i++)
            g_free(table->column[k].text[i]);
        g_free(table->column[k].text);
    }
    g_free(table->column);
    g_free(table);
}

static size_t
find_column(const Input *input, const char *name)
{
    for (size_t k = 0; k < input->n_columns; k++)
        if (g_ascii_strcasecmp(input->columns[k].name, name) == 0)
            return k;
    return input->n_columns;
}

static gboolean
unknown_column(const Input *input, const Reading *r, const char *name, GError **error)
{
    g_autofree const char **names = g_new0(const char *, input->n_columns + 1);
    for (size_t k = 0; k < input->n_columns; k++)
        names[k] = input->columns[k].name;
    const char *near = nearest_word(name, input->n_columns, names);
    g_autofree char *all = g_strjoinv(", ", (char **) names);
    g_set_error(error, CALC_ERROR, 0, "%s: %s has no column \"%s\"; its columns are %s%s%s%s",
                r->file, input->name, name, all, near != NULL ? " (" : "", near != NULL ? near : "",
                near != NULL ? "?)" : "");
    return FALSE;
}

/* Pairs the cells of the header with the columns of the input. */
static gboolean
read_header(const Input *input, Reading *r, GError **error)
{
    for (size_t k = 0; k < input->n_columns; k++)
        r->at[k] = -1;
    for (size_t c = 0; c < csv_columns(r->csv); c++) {
        const char *cell = csv_header(r->csv, c), *slash = strchr(cell, '/');
        g_autofree char *name =
            slash != NULL ? g_strndup(cell, (gsize) (slash - cell)) : g_strdup(cell);
        g_autofree char *unit = g_strdup(slash != NULL ? slash + 1 : "");
        g_strstrip(name);
        g_strstrip(unit);
        size_t k = find_column(input, name);
        if (k == input->n_columns)
            return unknown_column(input, r, name, error);
        const Column *column = &input->columns[k];
        if (r->at[k] >= 0) {
            g_set_error(error, CALC_ERROR, 0, "%s: the column \"%s\" is there twice", r->file,
                        name);
            return FALSE;
        }
        r->at[k] = (int) c;
        r->unit[k] = (Unit){1.0, 0.0};
        if (column->unit == NULL && *unit != '\0') {
            g_set_error(error, CALC_ERROR, 0, "%s: the column \"%s\" holds words and takes no unit",
                        r->file, name);
            return FALSE;
        }
        if (column->unit == NULL || (*unit == '\0' && strcmp(column->unit, "1") == 0))
            continue;
        g_autofree char *problem = NULL;
        if (!unit_parse_as(unit, column->unit, &r->unit[k], &problem)) {
            g_set_error(error, CALC_ERROR, 0, "%s: column \"%s\": %s", r->file, cell, problem);
            return FALSE;
        }
    }
    for (size_t k = 0; k < input->n_columns; k++)
        if (r->at[k] < 0 && !input->columns[k].optional) {
            g_set_error(error, CALC_ERROR, 0, "%s: %s needs a column \"%s%s%s\"", r->file,
                        input->name, input->columns[k].name,
                        input->columns[k].unit != NULL ? "/" : "",
                        input->columns[k].unit != NULL ? input->columns[k].unit : "");
            return FALSE;
        }
    return TRUE;
}

static gboolean
bad_cell(const Reading *r, size_t row, const char *column, const char *expected, const char *cell,
         GError **error)
{
    g_set_error(error, CALC_ERROR, 0, "%s:%u: %s: %s is expected, not \"%s\"", r->file,
                csv_line(r->csv, row), column, expected, cell);
    return FALSE;
}

static gboolean
read_number(const Unit *unit, const char *cell, double *number)
{
    char *end;
    double value = g_ascii_strtod(cell, &end);
    if (end == cell || *end != '\0')
        return FALSE;
    *number = unit_si(unit, value);
    return isfinite(*number);
}

static gboolean
read_cell(const Column *column, const Reading *r, size_t k, size_t row, Cells *cells,
          GError **error)
{
    g_autofree char *cell = g_strdup(r->at[k] >= 0 ? csv_cell(r->csv, row, (size_t) r->at[k]) : "");
    g_strstrip(cell);
    if (column->unit != NULL) {
        if (*cell == '\0' && column->optional)
            cells->number[row] = column->absent;
        else if (!read_number(&r->unit[k], cell, &cells->number[row]))
            return bad_cell(r, row, column->name, "a number", cell, error);
        return TRUE;
    }
    if (column->words == NULL) {
        if (*cell == '\0' && !column->optional)
            return bad_cell(r, row, column->name, "a word", cell, error);
        cells->text[row] = g_steal_pointer(&cell);
        return TRUE;
    }
    if (*cell == '\0' && column->optional) {
        cells->choice[row] = (size_t) column->absent;
        return TRUE;
    }
    for (size_t i = 0; column->words[i] != NULL; i++)
        if (g_ascii_strcasecmp(column->words[i], cell) == 0) {
            cells->choice[row] = i;
            return TRUE;
        }
    g_autofree char *all = g_strjoinv(", ", (char **) column->words);
    g_autofree char *expected = g_strdup_printf("one of %s", all);
    return bad_cell(r, row, column->name, expected, cell, error);
}

static CalcTable *
table_new(const Input *input, size_t rows)
{
    CalcTable *table = g_new0(CalcTable, 1);
    table->input = input;
    table->rows = rows;
    table->column = g_new0(Cells, input->n_columns);
    for (size_t k = 0; k < input->n_columns; k++) {
        if (input->columns[k].unit != NULL)
            table->column[k].number = g_new0(double, rows + 1);
        else if (input->columns[k].words != NULL)
            table->column[k].choice = g_new0(size_t, rows + 1);
        else
            table->column[k].text = g_new0(char *, rows + 1);
    }
    return table;
}

static CalcTable *
read_rows(const Input *input, Reading *r, GError **error)
{
    if (!read_header(input, r, error))
        return NULL;
    if (csv_rows(r->csv) == 0) {
        g_set_error(error, CALC_ERROR, 0, "%s: the table has no rows", r->file);
        return NULL;
    }
    CalcTable *table = table_new(input, csv_rows(r->csv));
    for (size_t i = 0; i < table->rows; i++)
        for (size_t k = 0; k < input->n_columns; k++)
            if (!read_cell(&input->columns[k], r, k, i, &table->column[k], error)) {
                calc_table_free(table);
                return NULL;
            }
    return table;
}

CalcTable *
calc_table_load(const Input *input, const char *path, GError **error)
{
    g_autoptr(Csv) csv = csv_load(path, error);
    if (csv == NULL) {
        g_prefix_error(error, "%s: ", input->name);
        return NULL;
    }
    g_autofree char *file = g_path_get_basename(path);
    Reading r = {file, csv, g_new(int, input->n_columns), g_new0(Unit, input->n_columns)};
    CalcTable *table = read_rows(input, &r, error);
    g_free(r.at);
    g_free(r.unit);
    return table;
}

static const Cells *
cells_of(const CalcTable *table, const char *column)
{
    size_t k = find_column(table->input, column);
    g_assert(k < table->input->n_columns);
    return &table->column[k];
}

const double *
calc_table_numbers(const CalcTable *table, const char *column)
{
    const Cells *cells = cells_of(table, column);
    g_assert(cells->number != NULL);
    return cells->number;
}

const size_t *
calc_table_choices(const CalcTable *table, const char *column)
{
    const Cells *cells = cells_of(table, column);
    g_assert(cells->choice != NULL);
    return cells->choice;
}

const char *const *
calc_table_texts(const CalcTable *table, const char *column)
{
    const Cells *cells = cells_of(table, column);
    g_assert(cells->text != NULL);
    return (const char *const *) cells->text;
}
