/* Tables of figures, read by what `forms` says of them. Invariant: rows with one first text stand together, and where the
 * form says so the first figure grows among them. */
#include "catalog/trade_table.h"

#include <math.h>
#include <string.h>

#include "catalog/table.h"

typedef struct {
    const char *file;
    size_t texts, figures;
    bool grows;                 /* the first figure, among rows of one first text */
    QuantityKind first, others; /* of the figures */
    QuantityKind heading;       /* of the header cells of figures that are quantities */
    const char *header[TRADE_TEXTS + TRADE_FIGURES];
} Form;

static const Form forms[N_TRADE_TABLES] = {
    [TABLE_CONDUCTORS] = {"conductors.csv",
                          0,
                          6,
                          true,
                          Q_SMALL_AREA,
                          Q_RESISTANCE_PER_LENGTH,
                          Q_NONE,
                          {"area", "class-2-plain", "class-2-tinned", "class-5-plain",
                           "class-5-tinned", "class-2-aluminium"}},
    [TABLE_GAUGES] =
        {"gauges.csv", 1, 1, false, Q_NONE, Q_NONE, Q_NONE, {"gauge", "sae-circular-mils"}},
    [TABLE_AMPACITY_GAUGE] = {"ampacity-gauge.csv",
                              1,
                              7,
                              false,
                              Q_CURRENT,
                              Q_CURRENT,
                              Q_TEMPERATURE,
                              {"gauge", "60 degC", "75 degC", "80 degC", "90 degC", "105 degC",
                               "125 degC", "200 degC"}},
    [TABLE_AMPACITY_METRIC] = {"ampacity-metric.csv",
                               0,
                               6,
                               true,
                               Q_SMALL_AREA,
                               Q_CURRENT,
                               Q_TEMPERATURE,
                               {"area", "70 degC", "85 degC", "105 degC", "125 degC", "200 degC"}},
    [TABLE_AMPACITY_FIXED] = {"ampacity-fixed.csv",
                              1,
                              16,
                              false,
                              Q_CURRENT,
                              Q_CURRENT,
                              Q_SMALL_AREA,
                              {"laying", "1.5 mm2", "2.5 mm2", "4 mm2", "6 mm2", "10 mm2", "16 mm2",
                               "25 mm2", "35 mm2", "50 mm2", "70 mm2", "95 mm2", "120 mm2",
                               "150 mm2", "185 mm2", "240 mm2", "300 mm2"}},
    [TABLE_AMBIENT_FACTORS] = {"ambient-factors.csv",
                               1,
                               2,
                               true,
                               Q_TEMPERATURE,
                               Q_NONE,
                               Q_NONE,
                               {"set", "temperature", "factor"}},
    [TABLE_BUNDLE_FACTORS] =
        {"bundle-factors.csv", 1, 2, true, Q_NONE, Q_NONE, Q_NONE, {"set", "from", "factor"}},
    [TABLE_INTERRUPTING] = {"interrupting.csv",
                            0,
                            4,
                            false,
                            Q_VOLTAGE,
                            Q_CURRENT,
                            Q_NONE,
                            {"system-to", "cranking-to", "main", "branch"}},
    [TABLE_FUSE_FAMILIES] = {"fuse-families.csv",
                             3,
                             4,
                             false,
                             Q_VOLTAGE,
                             Q_CURRENT,
                             Q_NONE,
                             {"family", "meaning", "use", "system-to", "rating-from", "rating-to",
                              "interrupting"}},
    [TABLE_FUSE_CURVES] = {"fuse-curves.csv",
                           1,
                           3,
                           true,
                           Q_NONE,
                           Q_TIME,
                           Q_NONE,
                           {"family", "multiple", "fastest", "slowest"}},
    [TABLE_GG_FUSES] = {"gg-fuses.csv",
                        0,
                        5,
                        true,
                        Q_CURRENT,
                        Q_CURRENT,
                        Q_NONE,
                        {"rating", "least-10-s", "most-5-s", "least-0.1-s", "most-0.1-s"}},
    [TABLE_GG_DISCONNECTION] = {"gg-disconnection.csv",
                                1,
                                3,
                                true,
                                Q_CURRENT,
                                Q_CURRENT,
                                Q_NONE,
                                {"set", "rating", "within-5-s", "within-0.4-s"}},
    [TABLE_HULL_CURRENTS] = {"hull-currents.csv",
                             2,
                             1,
                             false,
                             Q_CURRENT,
                             Q_CURRENT,
                             Q_NONE,
                             {"rule", "meaning", "on-1-m2"}},
    [TABLE_WATERS] =
        {"waters.csv", 1, 3, false, Q_NONE, Q_NONE, Q_NONE, {"water", "least", "usual", "most"}},
    [TABLE_USUAL_ANODES] =
        {"usual-anodes.csv", 1, 1, true, Q_MASS, Q_NONE, Q_NONE, {"metal", "mass"}},
    [TABLE_SOBOL] = {"sobol-directions.csv",
                     2,
                     2,
                     false,
                     Q_NONE,
                     Q_NONE,
                     Q_NONE,
                     {"first", "code", "dimension", "degree"}},
    [TABLE_USUAL_WORK] = {"usual-work.csv",
                          3,
                          3,
                          false,
                          Q_NONE,
                          Q_NONE,
                          Q_NONE,
                          {"kind", "layer", "does", "low", "likely", "high"}},
    [TABLE_AIR] =
        {"air-temperatures.csv", 1, 1, false, Q_TEMPERATURE, Q_NONE, Q_NONE, {"month", "mean"}},
};

const char *
trade_table_file(TradeTableId id)
{
    return forms[id].file;
}

static bool
figure_read(Table *csv, const Form *form, size_t row, size_t k, double *figure, GError **error)
{
    size_t column = form->texts + k;
    *figure = NAN;
    if ((k > 0 || !form->grows) && csv_cell(csv->csv, row, column)[0] == '\0')
        return true;
    return table_number(csv, row, column, k == 0 ? form->first : form->others, figure, error);
}

static bool
row_read(TradeTable *table, Table *csv, size_t row, GError **error)
{
    const Form *form = &forms[table->id];
    for (size_t k = 0; k < form->texts; k++)
        if ((table->text[k][row] = table_text(csv, row, k, error)) == NULL)
            return false;
    for (size_t k = 0; k < form->figures; k++)
        if (!figure_read(csv, form, row, k, &table->figure[k][row], error))
            return false;
    size_t standing = form->texts + form->figures;
    return table_source(csv, row, standing + 1, standing, &table->source[row], error);
}

static bool
same_group(const TradeTable *table, size_t a, size_t b)
{
    return table->texts == 0 || strcmp(table->text[0][a], table->text[0][b]) == 0;
}

static bool
order_holds(const TradeTable *table, const Table *csv, size_t row, GError **error)
{
    if (row == 0)
        return true;
    if (same_group(table, row, row - 1)) {
        if (!forms[table->id].grows || table->figure[0][row] > table->figure[0][row - 1])
            return true;
        table_fault(csv, row, error, "%s: must grow from row to row", table->header[table->texts]);
        return false;
    }
    for (size_t i = 0; i + 1 < row; i++)
        if (same_group(table, row, i)) {
            table_fault(csv, row, error, "%s: its rows must stand together", table->text[0][row]);
            return false;
        }
    return true;
}

static void
headings_read(TradeTable *table, Table *csv)
{
    for (size_t k = 0; k < table->figures; k++) {
        const char *cell = table->header[table->texts + k];
        g_autofree char *problem = NULL;
        QuantityKind kind = forms[table->id].heading;
        if (kind == Q_NONE || !table_quantity(csv, cell, kind, &table->heading[k], &problem))
            table->heading[k] = NAN;
    }
}

static TradeTable *
table_new(TradeTableId id, Csv *csv)
{
    const Form *form = &forms[id];
    TradeTable *table = g_new0(TradeTable, 1);
    *table = (TradeTable){.id = id,
                          .n = csv_rows(csv),
                          .texts = form->texts,
                          .figures = form->figures,
                          .header = form->header,
                          .csv = csv};
    for (size_t k = 0; k < form->texts; k++)
        table->text[k] = g_new0(const char *, table->n + 1);
    for (size_t k = 0; k < form->figures; k++)
        table->figure[k] = g_new0(double, table->n + 1);
    table->source = g_new0(Source, table->n + 1);
    return table;
}

TradeTable *
trade_table_parse(TradeTableId id, const char *text, GError **error)
{
    const Form *form = &forms[id];
    const char *header[TRADE_TEXTS + TRADE_FIGURES + 2];
    size_t columns = form->texts + form->figures;
    memcpy(header, form->header, columns * sizeof *header);
    header[columns] = "standing";
    header[columns + 1] = "source";
    Table csv = {0};
    if (!table_open(&csv, form->file, text, columns + 2, header, error))
        return NULL;
    g_autoptr(TradeTable) table = table_new(id, csv.csv);
    for (size_t row = 0; row < table->n; row++)
        if (!row_read(table, &csv, row, error) || !order_holds(table, &csv, row, error))
            return NULL;
    headings_read(table, &csv);
    return g_steal_pointer(&table);
}

TradeTable *
trade_table_load(TradeTableId id)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *text = catalog_text(forms[id].file);
    TradeTable *table = trade_table_parse(id, text, &error);
    if (table == NULL)
        g_error("data/%s", error->message);
    return table;
}

void
trade_table_free(TradeTable *table)
{
    if (table == NULL)
        return;
    for (size_t k = 0; k < TRADE_TEXTS; k++)
        g_free(table->text[k]);
    for (size_t k = 0; k < TRADE_FIGURES; k++)
        g_free(table->figure[k]);
    g_free(table->source);
    csv_free(table->csv);
    g_free(table);
}

size_t
trade_table_rows(const TradeTable *table, const char *word, size_t *first)
{
    size_t n = 0;
    *first = table->n;
    for (size_t i = 0; table->texts > 0 && i < table->n; i++)
        if (strcmp(table->text[0][i], word) == 0) {
            *first = n == 0 ? i : *first;
            n++;
        }
    return n;
}
