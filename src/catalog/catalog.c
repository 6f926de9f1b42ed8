/* The trade tables together. What a Catalog hands out lives as long as the Catalog; ids of limits
 * and of cautions are unique. */
#include "catalog/catalog.h"

#include <string.h>

#include "catalog/masses.h"
#include "catalog/table.h"

struct Catalog {
    MassTable *masses;
    TradeTable *trade[N_TRADE_TABLES];
    Table limit_table, caution_table;
    Limit *limit;
    Caution *caution;
    size_t limits, cautions;
    GHashTable *limit_by_id, *caution_by_id; /* borrowed keys and values */
};

static bool
quantity_kind_find(const char *word, QuantityKind *kind)
{
    static const char *const names[Q_N_KINDS] = {
#define KIND(name, word, si, metric, imperial) #name,
#include "base/kinds.def"
#undef KIND
    };
    for (int i = 0; i < Q_N_KINDS; i++)
        if (g_ascii_strcasecmp(word, names[i]) == 0) {
            *kind = (QuantityKind) i;
            return true;
        }
    return false;
}

enum { LIMIT_ID, LIMIT_WHAT, LIMIT_VALUE, LIMIT_KIND, LIMIT_SOURCE, LIMIT_STANDING, LIMIT_COLUMNS };

static bool
limit_parse(Table *table, size_t i, Limit *limit, GError **error)
{
    const char *kind = table_text(table, i, LIMIT_KIND, error);
    if (kind == NULL)
        return false;
    if (!quantity_kind_find(kind, &limit->kind)) {
        table_fault(table, i, error, "kind: no such kind of quantity: %s", kind);
        return false;
    }
    limit->id = table_text(table, i, LIMIT_ID, error);
    if (limit->id == NULL)
        return false;
    limit->what = table_text(table, i, LIMIT_WHAT, error);
    return limit->what != NULL &&
           table_number(table, i, LIMIT_VALUE, limit->kind, &limit->value, error) &&
           table_source(table, i, LIMIT_SOURCE, LIMIT_STANDING, &limit->source, error);
}

static bool
limits_parse(Catalog *catalog, const char *text, GError **error)
{
    static const char *const header[LIMIT_COLUMNS] = {"id",   "what",   "value",
                                                      "kind", "source", "standing"};
    Table *table = &catalog->limit_table;
    if (!table_open(table, "limits.csv", text, LIMIT_COLUMNS, header, error))
        return false;
    catalog->limits = csv_rows(table->csv);
    catalog->limit = g_new0(Limit, catalog->limits);
    for (size_t i = 0; i < catalog->limits; i++) {
        Limit *limit = &catalog->limit[i];
        if (!limit_parse(table, i, limit, error))
            return false;
        if (!g_hash_table_insert(catalog->limit_by_id, (char *) limit->id, limit)) {
            table_fault(table, i, error, "id: stands twice: %s", limit->id);
            return false;
        }
    }
    return true;
}

enum {
    CAUTION_ID,
    CAUTION_TRIGGER,
    CAUTION_TEXT,
    CAUTION_ASK,
    CAUTION_SOURCE,
    CAUTION_STANDING,
    CAUTION_COLUMNS
};

static bool
caution_parse(const Table *table, size_t i, Caution *caution, GError **error)
{
    const char **const member[] = {&caution->id, &caution->trigger, &caution->text, &caution->ask};
    for (size_t column = CAUTION_ID; column <= CAUTION_ASK; column++)
        if ((*member[column] = table_text(table, i, column, error)) == NULL)
            return false;
    return table_source(table, i, CAUTION_SOURCE, CAUTION_STANDING, &caution->source, error);
}

static bool
cautions_parse(Catalog *catalog, const char *text, GError **error)
{
    static const char *const header[CAUTION_COLUMNS] = {"id",  "trigger", "text",
                                                        "ask", "source",  "standing"};
    Table *table = &catalog->caution_table;
    if (!table_open(table, "cautions.csv", text, CAUTION_COLUMNS, header, error))
        return false;
    catalog->cautions = csv_rows(table->csv);
    catalog->caution = g_new0(Caution, catalog->cautions);
    for (size_t i = 0; i < catalog->cautions; i++) {
        Caution *caution = &catalog->caution[i];
        if (!caution_parse(table, i, caution, error))
            return false;
        if (!g_hash_table_insert(catalog->caution_by_id, (char *) caution->id, caution)) {
            table_fault(table, i, error, "id: stands twice: %s", caution->id);
            return false;
        }
    }
    return true;
}

Catalog *
catalog_parse(const char *masses, const char *limits, const char *cautions, GError **error)
{
    g_autoptr(Catalog) catalog = g_new0(Catalog, 1);
    catalog->limit_by_id = g_hash_table_new(g_str_hash, g_str_equal);
    catalog->caution_by_id = g_hash_table_new(g_str_hash, g_str_equal);
    for (int id = 0; id < N_TRADE_TABLES; id++)
        catalog->trade[id] = trade_table_load((TradeTableId) id);
    catalog->masses = masses_parse(masses, error);
    if (catalog->masses == NULL || !limits_parse(catalog, limits, error) ||
        !cautions_parse(catalog, cautions, error))
        return NULL;
    return g_steal_pointer(&catalog);
}

Catalog *
catalog_load(void)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *masses = catalog_text("typical-masses.csv");
    g_autofree char *limits = catalog_text("limits.csv");
    g_autofree char *cautions = catalog_text("cautions.csv");
    Catalog *catalog = catalog_parse(masses, limits, cautions, &error);
    if (catalog == NULL)
        g_error("data/%s", error->message);
    return catalog;
}

void
catalog_free(Catalog *catalog)
{
    if (catalog == NULL)
        return;
    masses_free(catalog->masses);
    for (int id = 0; id < N_TRADE_TABLES; id++)
        trade_table_free(catalog->trade[id]);
    g_hash_table_unref(catalog->limit_by_id);
    g_hash_table_unref(catalog->caution_by_id);
    g_free(catalog->limit);
    g_free(catalog->caution);
    g_clear_pointer(&catalog->limit_table.csv, csv_free);
    g_clear_pointer(&catalog->caution_table.csv, csv_free);
    g_free(catalog);
}

const TradeTable *
catalog_table(const Catalog *catalog, TradeTableId id)
{
    return catalog->trade[id];
}

bool
catalog_mass(const Catalog *catalog, const char *kind, const ItemSize *size, TypicalMass *out)
{
    return masses_find(catalog->masses, kind, size, out);
}

size_t
catalog_kinds(const Catalog *catalog, const char *const **kinds)
{
    return masses_kinds(catalog->masses, kinds);
}

const char *
catalog_kind_meaning(const Catalog *catalog, const char *kind)
{
    return masses_meaning(catalog->masses, kind);
}

const Limit *
catalog_limit(const Catalog *catalog, const char *id)
{
    return g_hash_table_lookup(catalog->limit_by_id, id);
}

size_t
catalog_limits(const Catalog *catalog, const Limit **limits)
{
    *limits = catalog->limit;
    return catalog->limits;
}

const Caution *
catalog_caution(const Catalog *catalog, const char *id)
{
    return g_hash_table_lookup(catalog->caution_by_id, id);
}

size_t
catalog_cautions(const Catalog *catalog, const Caution **cautions)
{
    *cautions = catalog->caution;
    return catalog->cautions;
}
