/* Tables of figures of a trade: leading texts, figures in SI, source and standing of each row.
 *
 * One line of `forms` in the .c describes a table; the file of data/ must have exactly those columns, then `standing` and
 * `source`. An empty cell is NAN; a first figure that has to grow is never empty. What a table hands out lives as long as the table. */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "base/source.h"

typedef enum {
    TABLE_CONDUCTORS,      /* area; resistance per length at 20 degC by CONDUCTOR_* */
    TABLE_GAUGES,          /* gauge; least area of vehicle cable, circular mils */
    TABLE_AMPACITY_GAUGE,  /* gauge; current by insulation temperature */
    TABLE_AMPACITY_METRIC, /* area; current by insulation temperature */
    TABLE_AMPACITY_FIXED,  /* insulation-loaded-method; current by area */
    TABLE_AMBIENT_FACTORS, /* set; temperature, factor */
    TABLE_BUNDLE_FACTORS,  /* set; count from which it holds, factor */
    TABLE_INTERRUPTING,  /* system voltage up to, cranking current up to (NAN: any); main, branch */
    TABLE_FUSE_FAMILIES, /* family, meaning, use; system up to, rating from, to, interrupting */
    TABLE_FUSE_CURVES,   /* family; multiple of the rating, fastest, slowest */
    TABLE_GG_FUSES,      /* rating; least at 10 s, most at 5 s, least and most at 0.1 s */
    TABLE_GG_DISCONNECTION, /* set; rating, current within 5 s, within 0.4 s */
    TABLE_HULL_CURRENTS,    /* rule, meaning; current asked by one square metre of painted steel */
    TABLE_WATERS,           /* water; resistivity in ohm m: least, usual, most */
    TABLE_USUAL_ANODES,     /* metal; net mass of one */
    TABLE_SOBOL, /* first numbers, blanks between; dimension, degree and code of its polynomial */
    TABLE_USUAL_WORK, /* kind of item or of task, layer, what it does; hours: low, likely, high */
    TABLE_AIR,        /* month; mean temperature */
    N_TRADE_TABLES
} TradeTableId;

enum { TRADE_TEXTS = 3, TRADE_FIGURES = 17 };

/* Columns of TABLE_CONDUCTORS after the area. */
enum {
    CONDUCTOR_CLASS_2_PLAIN,
    CONDUCTOR_CLASS_2_TINNED,
    CONDUCTOR_CLASS_5_PLAIN,
    CONDUCTOR_CLASS_5_TINNED,
    CONDUCTOR_CLASS_2_ALUMINIUM
};

typedef struct {
    TradeTableId id;
    size_t n, texts, figures;
    const char *const *header; /* [texts + figures] */
    const char **text[TRADE_TEXTS];
    double *figure[TRADE_FIGURES];
    Source *source;
    double heading[TRADE_FIGURES]; /* SI value of a header cell that is a quantity, else NAN */
    struct Csv *csv;
} TradeTable;

/* As compiled in; a table that does not parse is a fault of ours and stops the tests. */
TradeTable *trade_table_load(TradeTableId id);
/* NULL and *error with file, line and column. */
TradeTable *trade_table_parse(TradeTableId id, const char *text, GError **error);
void trade_table_free(TradeTable *table);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(TradeTable, trade_table_free)

/* Rows whose first text is the word, which stand together: how many, from *first on. */
size_t trade_table_rows(const TradeTable *table, const char *word, size_t *first);
/* The file, such as "conductors.csv". */
const char *trade_table_file(TradeTableId id);
