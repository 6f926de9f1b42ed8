/* The one-line diagram broken into columns: for one sheet as low as they can be, for several sheets no taller than these are.
 * Invariant: what goes on in the next column bears its name there again. */
#include "draw/wiring/one_line_layout.h"

#include <math.h>

/* A column more is as bad as so many bars that go on in the next one. */
#define COLUMN_COST 1.5

/* A head stands with the first row below it, and what leads to one end stands together. */
static bool
may_break_before(const OneLineLayout *whole, guint i)
{
    const OneLineRow *row = &g_array_index(whole->rows, OneLineRow, i), *before = row - 1;
    return row->kind != ROW_BESIDE && row->kind != ROW_BOARD && before->kind != ROW_ROOT &&
           before->kind != ROW_BOARD;
}

static bool
runs_through(const OneLineBar *bar, guint row)
{
    return bar->first < row && bar->last >= row;
}

static double
more_height(const OneLineHeights *heights, size_t node)
{
    return heights->more + heights->again[node];
}

/* How many bars go on past a break before that row, and how tall their names are at the head of the next column. */
static size_t
bars_through(const OneLineLayout *whole, guint row, const OneLineHeights *heights, double *height)
{
    size_t n = 0;
    *height = 0.0;
    for (guint b = 0; b < whole->bars->len; b++) {
        const OneLineBar *bar = &g_array_index(whole->bars, OneLineBar, b);
        if (!runs_through(bar, row))
            continue;
        n++;
        *height += more_height(heights, bar->node);
    }
    return n;
}

/* First row of each column but the first, when none is taller than that (but for what may not be broken), each as full as it can
 * be. */
static GArray *
breaks_of(const OneLineLayout *whole, const OneLineHeights *heights, double tallest)
{
    GArray *breaks = g_array_new(FALSE, FALSE, sizeof(guint));
    double height = 0.0;
    guint last_good = 0;
    for (guint i = 0; i < whole->rows->len; i++) {
        double own = g_array_index(whole->rows, OneLineRow, i).height;
        if (i > 0 && may_break_before(whole, i))
            last_good = i;
        guint from = breaks->len > 0 ? g_array_index(breaks, guint, breaks->len - 1) : 0;
        if (height + own > tallest && last_good > from) {
            g_array_append_val(breaks, last_good);
            bars_through(whole, last_good, heights, &height);
            for (guint k = last_good; k < i; k++)
                height += g_array_index(whole->rows, OneLineRow, k).height;
        }
        height += own;
    }
    return breaks;
}

static GArray *
least_tall(const OneLineLayout *whole, const OneLineHeights *heights, unsigned columns)
{
    double step = whole->height / (columns * 100.0);
    double tallest = whole->height / columns;
    for (;; tallest += step) {
        GArray *breaks = breaks_of(whole, heights, tallest);
        if (breaks->len < columns)
            return breaks;
        g_array_unref(breaks);
    }
}

/* ---- boards kept together ---- */

typedef struct { /* a row before which a column may begin */
    guint row;
    double top, heads; /* of the row in the whole; of the names that stand again above it */
    double cost;       /* of the best breaking of all rows before it */
    guint from;        /* place where the column before it begins */
    size_t bars;       /* that go on past it */
} Place;

/* The first row, every row that a column may begin with, and the end of all. */
static GArray *
places_of(const OneLineLayout *whole, const OneLineHeights *heights)
{
    GArray *places = g_array_new(FALSE, FALSE, sizeof(Place));
    for (guint row = 0; row <= whole->rows->len; row++) {
        Place place = {.row = row, .top = whole->height, .cost = INFINITY};
        if (row > 0 && row < whole->rows->len && !may_break_before(whole, row))
            continue;
        if (row < whole->rows->len) {
            place.top = g_array_index(whole->rows, OneLineRow, row).top;
            place.bars = bars_through(whole, row, heights, &place.heads);
        }
        g_array_append_val(places, place);
    }
    return places;
}

/* The best column that ends at a place: no taller than asked, unless there is no place to break it. */
static void
end_column(GArray *places, guint at, double tallest)
{
    Place *end = &g_array_index(places, Place, at);
    for (guint from = at; from-- > 0;) {
        const Place *begin = &g_array_index(places, Place, from);
        double rows = end->top - begin->top, cost = begin->cost + COLUMN_COST + (double) end->bars;
        if (rows > tallest && from + 1 < at)
            break;
        if (cost >= end->cost || (rows + begin->heads > tallest && from + 1 < at))
            continue;
        end->cost = cost;
        end->from = from;
    }
}

static GArray *
fewest_broken(const OneLineLayout *whole, const OneLineHeights *heights, double tallest)
{
    g_autoptr(GArray) places = places_of(whole, heights);
    GArray *breaks = g_array_new(FALSE, FALSE, sizeof(guint));
    g_array_index(places, Place, 0).cost = 0.0;
    for (guint at = 1; at < places->len; at++)
        end_column(places, at, tallest);
    for (guint at = g_array_index(places, Place, places->len - 1).from; at > 0;) {
        const Place *begin = &g_array_index(places, Place, at);
        g_array_prepend_val(breaks, begin->row);
        at = begin->from;
    }
    return breaks;
}

/* ---- the columns ---- */

static const OneLineBar *
bar_at(const OneLineLayout *whole, guint row, unsigned depth)
{
    for (guint b = 0; b < whole->bars->len; b++) {
        const OneLineBar *bar = &g_array_index(whole->bars, OneLineBar, b);
        if (bar->depth == depth && runs_through(bar, row))
            return bar;
    }
    return NULL;
}

/* Copies the rows into columns; now[i] is where row i of the whole went. */
static void
fill_columns(const OneLineLayout *whole, const OneLineHeights *heights, const GArray *breaks,
             OneLineLayout *out, guint now[])
{
    double top = 0.0;
    for (guint i = 0; i < whole->rows->len; i++) {
        bool fresh = out->columns <= breaks->len &&
                     g_array_index(breaks, guint, out->columns - 1) == i && i > 0;
        if (fresh) {
            out->columns++;
            top = 0.0;
        }
        for (unsigned depth = 0; fresh && depth < ONE_LINE_DEPTH; depth++) {
            const OneLineBar *bar = bar_at(whole, i, depth);
            if (bar == NULL)
                continue;
            OneLineRow more = {.kind = ROW_MORE,
                               .link = NO_LINK,
                               .node = bar->node,
                               .depth = depth,
                               .column = out->columns - 1,
                               .top = top,
                               .height = more_height(heights, bar->node)};
            g_array_append_val(out->rows, more);
            top += more.height;
        }
        OneLineRow row = g_array_index(whole->rows, OneLineRow, i);
        row.column = out->columns - 1;
        row.top = top;
        top += row.height;
        now[i] = out->rows->len;
        g_array_append_val(out->rows, row);
        out->height = MAX(out->height, top);
    }
}

/* The part of a bar in one column: from its first row there, or the row that names it again. */
static void
add_part(OneLineLayout *out, const OneLineBar *bar, size_t first, size_t last)
{
    unsigned column = g_array_index(out->rows, OneLineRow, last).column;
    size_t from = first;
    while (g_array_index(out->rows, OneLineRow, from).column != column ||
           (from > first && g_array_index(out->rows, OneLineRow, from).kind == ROW_MORE &&
            g_array_index(out->rows, OneLineRow, from).node != bar->node))
        from++;
    OneLineBar part = {bar->node, bar->depth, column, from, last, from != first, false};
    g_array_append_val(out->bars, part);
}

static void
break_bar(OneLineLayout *out, const OneLineBar *bar, const guint now[])
{
    size_t first = now[bar->first], last = now[bar->last], begun = out->bars->len;
    for (size_t i = first; i <= last; i++) {
        unsigned column = g_array_index(out->rows, OneLineRow, i).column;
        bool ends = i == last || g_array_index(out->rows, OneLineRow, i + 1).column != column;
        if (ends)
            add_part(out, bar, first, i);
    }
    for (size_t i = begun; i + 1 < out->bars->len; i++)
        g_array_index(out->bars, OneLineBar, i).to_below = true;
}

static OneLineLayout *
broken(const OneLineLayout *whole, const OneLineHeights *heights, const GArray *breaks)
{
    OneLineLayout *out = g_new0(OneLineLayout, 1);
    out->rows = g_array_new(FALSE, FALSE, sizeof(OneLineRow));
    out->bars = g_array_new(FALSE, FALSE, sizeof(OneLineBar));
    out->columns = 1;
    out->deepest = whole->deepest;
    g_autofree guint *now = g_new0(guint, whole->rows->len + 1);
    fill_columns(whole, heights, breaks, out, now);
    for (guint b = 0; b < whole->bars->len; b++)
        break_bar(out, &g_array_index(whole->bars, OneLineBar, b), now);
    return out;
}

OneLineLayout *
one_line_columns(const OneLineLayout *whole, const OneLineHeights *heights, unsigned columns)
{
    g_autoptr(GArray) breaks = least_tall(whole, heights, columns);
    return broken(whole, heights, breaks);
}

OneLineLayout *
one_line_columns_of(const OneLineLayout *whole, const OneLineHeights *heights, double tallest)
{
    g_autoptr(GArray) breaks = fewest_broken(whole, heights, tallest);
    return broken(whole, heights, breaks);
}
