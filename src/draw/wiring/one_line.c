/* The one-line diagram: sources at the left, each circuit in a row of its own, its load at the right with what flows in it.
 *
 * In a page it is one column, as wide as a telephone; in a file as many columns as fill a sheet that lies on its side best. Where
 * print on such a sheet could not be read, it is also had as several sheets, with marks where one goes on on another.
 * Invariant: every circuit is one part of the picture, whether that is one sheet or several. */
#include "draw/axes.h"
#include "draw/wiring/one_line_diagram.h"

#include <math.h>

#define FIRST_BAR 24.0
#define STEP 44.0           /* from bar to bar, with room for a fuse and its rating */
#define LINE_BELOW_TOP 24.0 /* a row's line under its upper edge: the rating stands above it */
#define ONE_ROW 46.0
#define HEAD_ROW 24.0
#define HEAD_STEP 19.0 /* from line to line of a head, which is bold */
#define TITLE_LINE 20.0
#define FOOT 20.0 /* below a column, for the mark that it goes on */
/* A sheet of A4 on its side with three columns: print of 3.1 mm, 9 point. */
#define SHEET_WIDTH (SHEET_COLUMNS * CANVAS_WIDTH)
#define SHEET_BOTTOM 893.0
#define KEY_BELOW 360.0 /* with the title above */
#define KEY_BESIDE 640.0
#define TITLE 60.0
#define EASY_MM_A_UNIT 0.25 /* print of 3.8 mm, 10 point */
enum { MOST_COLUMNS = 4, CLASS_ROOM = 64 };

unsigned
one_line_sheet_of(unsigned column)
{
    return column / SHEET_COLUMNS + 1;
}

/* ---- layout ---- */

static double
column_x(const Diagram *d, unsigned column)
{
    return ((double) column - d->first_column) * CANVAS_WIDTH;
}

static double
bar_x(const Diagram *d, unsigned column, unsigned depth)
{
    return column_x(d, column) + FIRST_BAR + STEP * depth;
}

/* Of what leads to a bar the texts stand beside the bar, of all others behind the symbols; from the left of the column. */
static double
texts_x(const Diagram *d, const OneLineRow *row)
{
    return row->to_bar ? FIRST_BAR + STEP * (row->depth + 1) + 9.0 : d->text_x;
}

static double
room_beside(const Diagram *d, const OneLineRow *row)
{
    return CANVAS_WIDTH - 4.0 - texts_x(d, row);
}

/* On its bar at the left, beside it further in; from the bar. NAN: a board, or named again. */
static double
head_symbol_x(const Diagram *d, const OneLineRow *row)
{
    if (d->fig->node[row->node].kind == NODE_BOARD)
        return NAN;
    return row->kind == ROW_ROOT ? 0.0 : row->kind == ROW_BOARD ? SYMBOL_HALF + 8.0 : NAN;
}

/* Of a head's words, from its bar. */
static double
head_text_x(const Diagram *d, const OneLineRow *row)
{
    double symbol_x = head_symbol_x(d, row);
    return 8.0 + (isfinite(symbol_x) ? symbol_x + SYMBOL_HALF : 0.0);
}

typedef struct {
    double *link, *name, *again; /* as OneLineHeights */
} Measured;

static void
measured_clear(Measured *m)
{
    g_free(m->link);
    g_free(m->name);
    g_free(m->again);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Measured, measured_clear)

/* The bar's name, *names lines of it, then what is joined to it elsewhere. */
static GPtrArray *
head_lines(const Diagram *d, const OneLineRow *row, guint *names)
{
    double room = CANVAS_WIDTH - 4.0 - FIRST_BAR - STEP * row->depth - head_text_x(d, row);
    g_autofree char *words = one_line_head_words(d, row);
    GPtrArray *lines = text_lines(words, room, MOST_LINES);
    *names = lines->len;
    if (row->kind != ROW_MORE)
        g_ptr_array_extend_and_steal(lines, one_line_joined_lines(d, row->node, room));
    return lines;
}

static void
place_columns(Diagram *d, unsigned deepest)
{
    d->symbol_x = FIRST_BAR + STEP * (deepest + 1) + SYMBOL_HALF;
    d->text_x = d->symbol_x + SYMBOL_HALF + 6.0;
}

/* What a head's words take beyond their first line. */
static double
further_lines(const Diagram *d, const OneLineRow *row)
{
    guint names;
    g_autoptr(GPtrArray) lines = head_lines(d, row, &names);
    return HEAD_STEP * (lines->len - 1.0);
}

static void
measure_head(const Diagram *d, OneLineRow row, Measured *m)
{
    m->name[row.node] = further_lines(d, &row);
    row.kind = ROW_MORE;
    m->again[row.node] = further_lines(d, &row);
}

static void
note_references(Diagram *d, const OneLineLayout *draft)
{
    d->refers_to = g_new(size_t, d->fig->links + 1);
    for (size_t i = 0; i < d->fig->links; i++)
        d->refers_to[i] = NO_NODE;
    for (guint i = 0; i < draft->rows->len; i++) {
        const OneLineRow *row = &g_array_index(draft->rows, OneLineRow, i);
        if (row->kind == ROW_ELSEWHERE)
            d->refers_to[row->link] = row->node;
    }
}

/* How far the symbols stand to the right depends on how deep the boards are, and how tall a row is on the room beside: hence a
 * draft, in which all rows are alike, is looked at first. */
static OneLineHeights
measure_rows(Diagram *d, Measured *m)
{
    for (size_t i = 0; i < d->fig->links; i++)
        m->link[i] = ONE_ROW;
    OneLineHeights heights = {ONE_ROW, HEAD_ROW, HEAD_ROW, m->link, m->name, m->again};
    g_autoptr(OneLineLayout) draft = one_line_layout(d->fig, &heights);
    place_columns(d, draft->deepest);
    note_references(d, draft);
    for (guint i = 0; i < draft->rows->len; i++) {
        const OneLineRow *row = &g_array_index(draft->rows, OneLineRow, i);
        guint names;
        if (row->link == NO_LINK) {
            measure_head(d, *row, m);
            continue;
        }
        g_autoptr(GPtrArray) lines = one_line_row_lines(d, row, room_beside(d, row), &names);
        m->link[row->link] = ONE_ROW + TEXT_STEP * (lines->len - 2.0);
    }
    return heights;
}

/* The key stands beside a single column, below several. */
static double
scale_of(const OneLineLayout *layout)
{
    if (layout->columns == 1)
        return sheet_scale(2.0 * CANVAS_WIDTH, fmax(layout->height, KEY_BESIDE) + TITLE);
    return sheet_scale(layout->columns * CANVAS_WIDTH, layout->height + KEY_BELOW);
}

/* As few columns as there need be for print that is read with ease, else as large as it can be. */
static OneLineLayout *
best_columns(const OneLineLayout *whole, const OneLineHeights *heights, unsigned most)
{
    OneLineLayout *best = one_line_columns(whole, heights, 1);
    for (unsigned n = 2; n <= most && scale_of(best) < EASY_MM_A_UNIT; n++) {
        OneLineLayout *tried = one_line_columns(whole, heights, n);
        OneLineLayout *worse = scale_of(tried) > 1.02 * scale_of(best) ? best : tried;
        best = worse == tried ? best : tried;
        one_line_layout_free(worse);
    }
    return best;
}

/* ---- sheets ---- */

static double
sheet_top(void)
{
    return 2.0 * TITLE_LINE + 14.0;
}

static double
key_height(const Diagram *d)
{
    double height = 470.0;
    for (size_t kind = 0; kind < G_N_ELEMENTS(d->shown); kind++)
        height += d->shown[kind] ? LINE_HEIGHT + 8.0 : 0.0;
    return height;
}

/* Where the last column ends. */
static double
last_bottom(const OneLineLayout *layout)
{
    if (layout->rows->len == 0)
        return 0.0;
    const OneLineRow *last = &g_array_index(layout->rows, OneLineRow, layout->rows->len - 1);
    return last->top + last->height;
}

/* Of the key: below the last circuit, or the next column when there is no room. */
static unsigned
key_column(const Diagram *d)
{
    double room = SHEET_BOTTOM - d->top - last_bottom(d->layout);
    return d->layout->columns - (room >= key_height(d) ? 1 : 0);
}

static void
note_places(Diagram *d)
{
    d->column = g_new0(unsigned, d->fig->nodes + 1);
    d->link_column = g_new0(unsigned, d->fig->links + 1);
    for (guint i = 0; i < d->layout->rows->len; i++) {
        const OneLineRow *row = &g_array_index(d->layout->rows, OneLineRow, i);
        const OneLineNode *node = &d->fig->node[row->node];
        bool ends_here = row->kind == ROW_ROOT || row->kind == ROW_BOARD ||
                         (row->kind == ROW_LINK && !row->to_bar);
        if (ends_here)
            d->column[row->node] = row->column;
        if (row->link != NO_LINK)
            d->link_column[row->link] = row->column;
        d->shown[node->kind] |= ends_here;
        d->elsewhere |= row->kind == ROW_ELSEWHERE;
        d->returns |= row->link != NO_LINK &&
                      d->fig->link[row->link].conductors != CONDUCTORS_PAIR &&
                      d->fig->link[row->link].guard.kind == GUARD_UNSAID;
    }
}

static void
lay_out(Diagram *d)
{
    g_auto(Measured) m = {g_new0(double, d->fig->links + 1), g_new0(double, d->fig->nodes + 1),
                          g_new0(double, d->fig->nodes + 1)};
    OneLineHeights heights = measure_rows(d, &m);
    g_autoptr(OneLineLayout) whole = one_line_layout(d->fig, &heights);
    if (d->sheet > 0)
        d->layout = one_line_columns_of(whole, &heights, SHEET_BOTTOM - sheet_top() - FOOT);
    else
        d->layout = best_columns(whole, &heights, d->canvas.how->in_page ? 1 : MOST_COLUMNS);
    d->top = d->sheet > 0 ? sheet_top() : 10.0;
    note_places(d);
    d->sheets = one_line_sheet_of(key_column(d));
    d->first_column = d->sheet > 0 ? (d->sheet - 1) * SHEET_COLUMNS : 0;
}

static void
diagram_clear(Diagram *d)
{
    one_line_layout_free(d->layout);
    g_free(d->column);
    g_free(d->link_column);
    g_free(d->refers_to);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Diagram, diagram_clear)

/* Laid out to be counted, never drawn. */
static void
lay_out_unseen(Diagram *d, const OneLinePicture *fig, const DrawHow *how, unsigned sheet)
{
    *d = (Diagram){.fig = fig, .sheet = sheet, .canvas = {.how = how}};
    lay_out(d);
}

unsigned
one_line_sheets(const OneLinePicture *fig, const DrawHow *how)
{
    g_auto(Diagram) whole, split;
    lay_out_unseen(&whole, fig, how, 0);
    lay_out_unseen(&split, fig, how, 1);
    return scale_of(whole.layout) >= LEAST_MM_A_UNIT ? 1 : split.sheets;
}

/* ---- drawing ---- */

static const OneLineRow *
row_at(const Diagram *d, size_t i)
{
    return &g_array_index(d->layout->rows, OneLineRow, i);
}

static bool
on_sheet(const Diagram *d, unsigned column)
{
    return d->sheet == 0 || one_line_sheet_of(column) == d->sheet;
}

static double
line_y(const Diagram *d, const OneLineRow *row)
{
    return d->top + row->top + (row->kind == ROW_MORE ? 18.0 : LINE_BELOW_TOP);
}

static void
wire_class(const OneLineLink *link, char text[static CLASS_ROOM])
{
    const char *loss = !(link->lost_frac >= 0.0) ? "loss-none"
                       : link->lost_frac < 0.5   ? "loss-low"
                       : link->lost_frac <= 1.0  ? "loss-near"
                                                 : "loss-over";
    const char *load = !(link->load_frac >= 0.5) ? "load-low"
                       : link->load_frac < 0.8   ? "load-mid"
                       : link->load_frac <= 1.0  ? "load-high"
                                                 : "load-over";
    g_snprintf(text, CLASS_ROOM, "wire %s %s", loss, load);
}

/* The fuse, or what sort of conductor it is where it is but one. */
static void
draw_over_line(Diagram *d, const OneLineLink *link, double x, double y)
{
    g_autofree char *guard = guard_text(&link->guard);
    const char *sign = link->conductors == CONDUCTORS_NEGATIVE ? "\u2212" : "+";
    if (*guard != '\0')
        draw_text_kept(&d->canvas, "rating", x, y - 7.0, ANCHOR_MIDDLE, guard);
    else if (link->conductors != CONDUCTORS_PAIR)
        draw_text_kept(&d->canvas, "rating", x, y - 5.0, ANCHOR_MIDDLE, sign);
}

static void
draw_texts(Diagram *d, const OneLineRow *row, double y)
{
    double x = column_x(d, row->column) + texts_x(d, row);
    guint names;
    g_autoptr(GPtrArray) lines = one_line_row_lines(d, row, room_beside(d, row), &names);
    for (guint i = 0; i < lines->len; i++)
        draw_text_kept(&d->canvas, i < names ? "circuit" : "figures", x, y - 3.0 + TEXT_STEP * i,
                       ANCHOR_START, g_ptr_array_index(lines, i));
}

/* From the fuse to the end: a bar, a symbol, the line of the circuit above, or a reference. */
static void
draw_end(Diagram *d, const OneLineRow *row, const char *wire, double y, double above)
{
    double from = bar_x(d, row->column, row->depth + 1);
    double x = column_x(d, row->column) + d->symbol_x;
    if (row->to_bar)
        return;
    if (row->kind == ROW_LINK) {
        draw_line(&d->canvas, wire, from, y, x - SYMBOL_HALF, y);
        draw_symbol(&d->canvas, d->fig->node[row->node].kind, x, y);
    } else if (row->kind == ROW_BESIDE) {
        double px[] = {from, x, x}, py[] = {y, y, above + SYMBOL_HALF};
        draw_path(&d->canvas, wire, 3, px, py, false);
    } else {
        draw_line(&d->canvas, wire, from, y, x - 7, y);
        one_line_reference(&d->canvas, x, y);
    }
}

static void
draw_circuit(Diagram *d, const OneLineRow *row, double above)
{
    const OneLineLink *link = &d->fig->link[row->link];
    char wire[CLASS_ROOM];
    wire_class(link, wire);
    double y = line_y(d, row), x0 = bar_x(d, row->column, row->depth), x1 = x0 + STEP;
    g_autofree char *label = one_line_spoken(d, row);
    part_open(&d->canvas, "part circuit", link->path, NULL, label);
    draw_guard(&d->canvas, link->guard.kind, wire, x0, x1, y);
    draw_over_line(d, link, (x0 + x1) / 2.0, y);
    draw_end(d, row, wire, y, above);
    draw_texts(d, row, y);
    part_close(&d->canvas);
}

static void
draw_head(Diagram *d, const OneLineRow *row)
{
    const OneLineNode *node = &d->fig->node[row->node];
    double x = bar_x(d, row->column, row->depth), y = line_y(d, row);
    g_autofree char *words = one_line_head_words(d, row);
    guint names;
    g_autoptr(GPtrArray) lines = head_lines(d, row, &names);
    double base = row->kind == ROW_BOARD  ? d->top + row->top + 15.0
                  : row->kind == ROW_MORE ? y
                                          : y + 5.0;
    part_open(&d->canvas, "part", node->path, NULL, words);
    draw_symbol(&d->canvas, node->kind, x + head_symbol_x(d, row),
                row->kind == ROW_BOARD ? base - 5.0 : y);
    for (guint i = 0; i < lines->len; i++)
        draw_text_kept(&d->canvas, i < names ? "board" : "figures", x + head_text_x(d, row),
                       base + HEAD_STEP * i, ANCHOR_START, g_ptr_array_index(lines, i));
    part_close(&d->canvas);
}

static bool
goes_on_on_another_sheet(const Diagram *d, const OneLineBar *bar)
{
    return bar->to_below && !on_sheet(d, bar->column + 1);
}

static void
draw_bar(Diagram *d, const OneLineBar *bar)
{
    const OneLineRow *first = row_at(d, bar->first), *last = row_at(d, bar->last);
    double x = bar_x(d, bar->column, bar->depth), top = line_y(d, first) - 5.0;
    if (bar->from_above)
        top = d->top + first->top;
    else if (first->kind == ROW_ROOT && isfinite(head_symbol_x(d, first)))
        top = line_y(d, first) + SYMBOL_HALF;
    double bottom = bar->to_below ? d->top + last->top + last->height : line_y(d, last) + 5.0;
    if (goes_on_on_another_sheet(d, bar))
        bottom += FOOT - 2.0;
    bool board = d->fig->node[bar->node].kind == NODE_BOARD;
    draw_line(&d->canvas, board ? "busbar" : "busbar thin", x, top, x, bottom);
}

/* At the foot of a sheet, once for all bars that go on from there. */
static void
draw_foot(Diagram *d, const OneLineBar *deepest)
{
    const OneLineRow *last = row_at(d, deepest->last);
    g_autofree char *text = g_strdup_printf("goes on: sheet %u", d->sheet + 1);
    draw_text_kept(&d->canvas, "figures", bar_x(d, deepest->column, deepest->depth) + 8.0,
                   d->top + last->top + last->height + FOOT - 4.0, ANCHOR_START, text);
}

static void
draw_bars(Diagram *d)
{
    const OneLineBar *deepest = NULL;
    for (guint i = 0; i < d->layout->bars->len; i++) {
        const OneLineBar *bar = &g_array_index(d->layout->bars, OneLineBar, i);
        if (!on_sheet(d, bar->column))
            continue;
        draw_bar(d, bar);
        if (goes_on_on_another_sheet(d, bar) && (deepest == NULL || bar->depth > deepest->depth))
            deepest = bar;
    }
    if (deepest != NULL)
        draw_foot(d, deepest);
}

static void
draw_rows(Diagram *d)
{
    double above = 0.0; /* line of the circuit that others stand beside */
    for (guint i = 0; i < d->layout->rows->len; i++) {
        const OneLineRow *row = row_at(d, i);
        if (!on_sheet(d, row->column))
            continue;
        if (row->link == NO_LINK) {
            draw_head(d, row);
            continue;
        }
        draw_circuit(d, row, above);
        if (row->kind != ROW_BESIDE)
            above = line_y(d, row);
    }
}

/* ---- the whole ---- */

/* What hangs on a wall says what it is; a page has said so above the picture. */
static void
draw_title(Diagram *d)
{
    g_autofree char *title =
        d->sheet > 0 ? g_strdup_printf("One-line diagram, sheet %u of %u", d->sheet, d->sheets)
                     : g_strdup("One-line diagram");
    double y = TITLE_LINE;
    draw_text_kept(&d->canvas, "view-name", CANVAS_MARGIN, y, ANCHOR_START, title);
    if (d->fig->caption == NULL)
        return;
    g_autoptr(GPtrArray) lines =
        text_lines(d->fig->caption, d->canvas.width - 2.0 * CANVAS_MARGIN, MOST_LINES);
    for (guint i = 0; i < lines->len && (d->sheet == 0 || i == 0); i++)
        draw_text_kept(&d->canvas, "caption", CANVAS_MARGIN, y += TITLE_LINE, ANCHOR_START,
                       g_ptr_array_index(lines, i));
    if (d->sheet == 0)
        d->top = y + 14.0;
}

static void
draw_key_beside(Diagram *d)
{
    double y = d->top - TITLE_LINE;
    d->canvas.left = CANVAS_WIDTH;
    one_line_key_of_lines(d, &y);
    one_line_key_of_symbols(d, &y);
}

/* Below all columns, in as many as there are. */
static void
draw_key_below(Diagram *d)
{
    double top = d->top + d->layout->height + 8.0, y = top;
    one_line_key_of_lines(d, &y);
    if (d->canvas.how->in_page && d->fig->caption != NULL)
        draw_paragraph(&d->canvas, "caption", CANVAS_MARGIN, &y, d->fig->caption);
    y += 6.0;
    if (d->layout->columns > 1) {
        d->canvas.left = CANVAS_WIDTH;
        y = top;
    }
    one_line_key_of_symbols(d, &y);
}

static void
draw_key_on_sheet(Diagram *d)
{
    unsigned column = key_column(d);
    double y = d->top + (column < d->layout->columns ? last_bottom(d->layout) : -20.0);
    d->canvas.left = column_x(d, column);
    one_line_key_of_lines(d, &y);
    one_line_key_of_symbols(d, &y);
}

void
draw_one_line(const OneLinePicture *fig, const DrawHow *how, Markup *svg)
{
    g_auto(Diagram) d = {.fig = fig, .sheet = how->sheet};
    canvas_begin(&d.canvas, svg, how, "group", "One-line diagram", fig->caption);
    lay_out(&d);
    bool beside = d.sheet == 0 && !how->in_page && d.layout->columns == 1;
    d.canvas.width = d.sheet > 0 ? SHEET_WIDTH : (d.layout->columns + beside) * CANVAS_WIDTH;
    if (!how->in_page)
        draw_title(&d);
    d.canvas.height = d.sheet > 0 ? SHEET_BOTTOM : d.top + d.layout->height;
    draw_bars(&d);
    draw_rows(&d);
    if (beside)
        draw_key_beside(&d);
    else if (d.sheet == 0)
        draw_key_below(&d);
    else if (d.sheet == d.sheets)
        draw_key_on_sheet(&d);
    canvas_end(&d.canvas);
}
