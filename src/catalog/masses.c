/* Typical masses by kind. The rows of a kind stand together and grow in size and in mass, or
 * masses_parse refuses the table: masses_find relies on it. */
#include "catalog/masses.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/interpolate.h"
#include "catalog/table.h"

enum { KIND, MEANING, ASKS, SIZE, MASS, SPREAD, STANDING, SOURCE, N_COLUMNS };
static const char *const header[N_COLUMNS] = {"kind", "meaning", "asks",     "size",
                                              "mass", "spread",  "standing", "source"};

typedef struct {
    const char *word;
    QuantityKind kind, second; /* second: of what follows " by " in the size cell, else Q_NONE */
} Asks;

static const Asks asks[] = {
    {"power", Q_POWER, Q_NONE}, {"volume", Q_VOLUME, Q_NONE},         {"length", Q_LENGTH, Q_NONE},
    {"area", Q_AREA, Q_NONE},   {"area thickness", Q_AREA, Q_LENGTH},
};

typedef struct {
    double mass_kg, spread_frac;
    Source source;
} MassRow;

typedef struct {
    const char *name, *meaning;
    const Asks *asks; /* NULL: one size only */
    size_t first, n;  /* its rows */
} MassKind;

struct MassTable {
    Table table;
    MassRow *row;
    double *size, *mass_kg; /* [rows], SI; mass once more, as interpolation wants it */
    MassKind *kind;         /* sorted by name */
    const char **name;      /* the same order */
    size_t kinds;
};

static const Asks *
asks_find(const char *word)
{
    for (size_t i = 0; i < G_N_ELEMENTS(asks); i++)
        if (strcmp(word, asks[i].word) == 0)
            return &asks[i];
    return NULL;
}

/* "1 m2 by 50 mm" is the product of both. */
static bool
size_parse(Table *table, const char *cell, const Asks *wanted, double *size, char **problem)
{
    const char *by = strstr(cell, " by ");
    double second = 1.0;
    if ((by != NULL) != (wanted->second != Q_NONE)) {
        *problem = g_strdup_printf("expected a size for \"%s\"", wanted->word);
        return false;
    }
    g_autofree char *first = by == NULL ? g_strdup(cell) : g_strndup(cell, (gsize) (by - cell));
    if (!table_quantity(table, first, wanted->kind, size, problem))
        return false;
    if (by != NULL && !table_quantity(table, by + strlen(" by "), wanted->second, &second, problem))
        return false;
    *size *= second;
    return true;
}

static bool
id_legal(const char *id)
{
    if (!g_ascii_islower(id[0]))
        return false;
    return strspn(id, "abcdefghijklmnopqrstuvwxyz0123456789-") == strlen(id);
}

static bool
row_parse(MassTable *masses, size_t i, GError **error)
{
    Table *table = &masses->table;
    MassRow *row = &masses->row[i];
    const char *asked = csv_cell(table->csv, i, ASKS), *size = csv_cell(table->csv, i, SIZE);
    const Asks *wanted = asks_find(asked);
    g_autofree char *problem = NULL;

    masses->size[i] = NAN;
    if (!table_number(table, i, MASS, Q_MASS, &row->mass_kg, error) ||
        !table_number(table, i, SPREAD, Q_FRACTION, &row->spread_frac, error) ||
        !table_source(table, i, SOURCE, STANDING, &row->source, error))
        return false;
    masses->mass_kg[i] = row->mass_kg;
    if (row->mass_kg <= 0.0 || row->spread_frac <= 0.0 || row->spread_frac >= 1.0) {
        table_fault(table, i, error, "mass or spread out of range");
        return false;
    }
    if (wanted == NULL && (asked[0] != '\0' || size[0] != '\0')) {
        table_fault(table, i, error, "asks: no such size: %s", asked);
        return false;
    }
    if (wanted != NULL && !size_parse(table, size, wanted, &masses->size[i], &problem)) {
        table_fault(table, i, error, "size: %s", problem);
        return false;
    }
    if (wanted != NULL && !(masses->size[i] > 0.0)) {
        table_fault(table, i, error, "size: expected more than nothing");
        return false;
    }
    return true;
}

static bool
kind_begins(MassTable *masses, size_t i, const char *name, GError **error)
{
    const Table *table = &masses->table;
    const char *meaning = table_text(table, i, MEANING, error);
    if (meaning == NULL)
        return false;
    if (!id_legal(name)) {
        table_fault(table, i, error, "kind: not a legal id: %s", name);
        return false;
    }
    masses->kind[masses->kinds++] =
        (MassKind){name, meaning, asks_find(csv_cell(table->csv, i, ASKS)), i, 1};
    return true;
}

static bool
kind_goes_on(MassTable *masses, size_t i, GError **error)
{
    const Table *table = &masses->table;
    MassKind *kind = &masses->kind[masses->kinds - 1];
    if (strcmp(csv_cell(table->csv, i, MEANING), kind->meaning) != 0 ||
        asks_find(csv_cell(table->csv, i, ASKS)) != kind->asks) {
        table_fault(table, i, error, "%s: meaning and asks must be the same in all its rows",
                    kind->name);
        return false;
    }
    if (!(masses->size[i] > masses->size[i - 1]) ||
        !(masses->mass_kg[i] > masses->mass_kg[i - 1])) {
        table_fault(table, i, error, "%s: size and mass must grow from row to row", kind->name);
        return false;
    }
    kind->n++;
    return true;
}

static int
by_name(const void *a, const void *b)
{
    return strcmp(((const MassKind *) a)->name, ((const MassKind *) b)->name);
}

static bool
kinds_sort(MassTable *masses, GError **error)
{
    if (masses->kinds > 0)
        qsort(masses->kind, masses->kinds, sizeof *masses->kind, by_name);
    for (size_t i = 0; i < masses->kinds; i++) {
        masses->name[i] = masses->kind[i].name;
        if (i > 0 && strcmp(masses->name[i], masses->name[i - 1]) == 0) {
            table_fault(&masses->table, masses->kind[i].first, error,
                        "%s: the rows of one kind must stand together", masses->name[i]);
            return false;
        }
    }
    return true;
}

static bool
rows_parse(MassTable *masses, GError **error)
{
    const Table *table = &masses->table;
    for (size_t i = 0; i < csv_rows(table->csv); i++) {
        const char *name = table_text(table, i, KIND, error);
        if (name == NULL || !row_parse(masses, i, error))
            return false;
        bool same = masses->kinds > 0 && strcmp(masses->kind[masses->kinds - 1].name, name) == 0;
        if (same ? !kind_goes_on(masses, i, error) : !kind_begins(masses, i, name, error))
            return false;
    }
    return kinds_sort(masses, error);
}

MassTable *
masses_parse(const char *text, GError **error)
{
    MassTable *masses = g_new0(MassTable, 1);
    if (!table_open(&masses->table, "typical-masses.csv", text, N_COLUMNS, header, error)) {
        masses_free(masses);
        return NULL;
    }
    size_t n = csv_rows(masses->table.csv);
    masses->row = g_new0(MassRow, n);
    masses->size = g_new0(double, n);
    masses->mass_kg = g_new0(double, n);
    masses->kind = g_new0(MassKind, n);
    masses->name = g_new0(const char *, n + 1);
    if (rows_parse(masses, error))
        return masses;
    masses_free(masses);
    return NULL;
}

void
masses_free(MassTable *masses)
{
    if (masses == NULL)
        return;
    g_clear_pointer(&masses->table.csv, csv_free);
    g_free(masses->row);
    g_free(masses->size);
    g_free(masses->mass_kg);
    g_free(masses->kind);
    g_free(masses->name);
    g_free(masses);
}

static const MassKind *
kind_find(const MassTable *masses, const char *name)
{
    MassKind wanted = {.name = name};
    if (name == NULL || masses->kinds == 0)
        return NULL;
    return bsearch(&wanted, masses->kind, masses->kinds, sizeof *masses->kind, by_name);
}

/* NAN when any part that is asked for is missing or not positive. */
static double
size_asked(const Asks *wanted, const ItemSize *size)
{
    double stated = NAN, second = 1.0;
    switch (wanted->kind) {
    case Q_POWER:
        stated = size->power_W;
        break;
    case Q_VOLUME:
        stated = size->volume_m3;
        break;
    case Q_LENGTH:
        stated = size->length_m;
        break;
    case Q_AREA:
        stated = size->area_m2;
        break;
    default:
        g_assert_not_reached();
    }
    if (wanted->second == Q_LENGTH)
        second = size->thickness_m;
    return stated > 0.0 && second > 0.0 && isfinite(stated * second) ? stated * second : NAN;
}

/* Mass of a stated size, and the row it leans on most. */
static size_t
kind_weigh(const MassTable *masses, const MassKind *kind, double size, TypicalMass *out)
{
    const double *sizes = masses->size + kind->first, *mass_kg = masses->mass_kg + kind->first;
    size_t nearest = 0;
    for (size_t i = 1; i < kind->n; i++)
        if (fabs(sizes[i] - size) < fabs(sizes[nearest] - size))
            nearest = i;
    out->outside = kind->n > 1 && (size < sizes[0] || size > sizes[kind->n - 1]);
    if (kind->n == 1 || out->outside)
        out->mass_kg = mass_kg[nearest] * (size / sizes[nearest]);
    else
        interpolate_linear(kind->n, sizes, mass_kg, size, &out->mass_kg);
    return kind->first + nearest;
}

bool
masses_find(const MassTable *masses, const char *name, const ItemSize *size, TypicalMass *out)
{
    const MassKind *kind = kind_find(masses, name);
    *out = (TypicalMass){.mass_kg = NAN, .spread_kg = NAN};
    if (kind == NULL)
        return false;
    out->kind = kind->name;
    out->asks = kind->asks == NULL ? NULL : kind->asks->word;
    size_t nearest = kind->first;
    double stated = kind->asks == NULL ? NAN : size_asked(kind->asks, size);
    if (kind->asks == NULL)
        out->mass_kg = masses->mass_kg[nearest];
    else if (isfinite(stated))
        nearest = kind_weigh(masses, kind, stated, out);
    out->source = masses->row[nearest].source;
    out->spread_kg = out->mass_kg * masses->row[nearest].spread_frac;
    return true;
}

size_t
masses_kinds(const MassTable *masses, const char *const **kinds)
{
    *kinds = masses->name;
    return masses->kinds;
}

const char *
masses_meaning(const MassTable *masses, const char *name)
{
    const MassKind *kind = kind_find(masses, name);
    return kind == NULL ? NULL : kind->meaning;
}
