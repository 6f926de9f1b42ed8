/* The one-line diagram: sources at the left, each circuit in a row of its own, its load at the right with what flows in it.
 *
 * In a page it is one column, as wide as a telephone; in a file as many columns as fill a sheet that lies on its side best.
 * Invariant: every circuit is one part of the picture. */
#include "base/number.h"
#include "draw/axes.h"
#include "draw/wiring/one_line_layout.h"
#include "draw/wiring/symbols.h"

#include <math.h>
#include <string.h>

#define TOP 10.0
#define FIRST_BAR 24.0
#define STEP 44.0           /* from bar to bar, with room for a fuse and its rating */
#define LINE_BELOW_TOP 24.0 /* a row's line under its upper edge: the rating stands above it */
#define ONE_ROW 46.0
#define TEXT_STEP 17.0
enum { COLUMNS = 4, CLASS_ROOM = 64, KEY_SYMBOLS = 6 };

typedef struct {
    Canvas canvas;
    const OneLinePicture *fig;
    OneLineLayout *layout;
    double symbol_x, text_x; /* from the left of the column */
    bool kinds[NODE_UNKNOWN + 1];
    bool elsewhere, returns;
} Diagram;

/* ---- words ---- */

static const char *
change_words(const OneLineNode *node)
{
    return !node->missing                  ? ""
           : node->change == CHANGE_FITTED ? " (not fitted yet)"
                                           : " (not aboard)";
}

static const OneLineNode *
far_end(const Diagram *d, const OneLineRow *row)
{
    return &d->fig->node[row->node];
}

/* The circuit as on its label, and the device where that says something else. */
static char *
row_name(const Diagram *d, const OneLineRow *row)
{
    const OneLineLink *link = &d->fig->link[row->link];
    const OneLineNode *end = far_end(d, row);
    g_autofree char *name = name_plain(link->name), *device = name_plain(end->name);
    if (row->kind == ROW_ELSEWHERE)
        return g_strdup_printf("%s, to %s", name, device);
    if (row->to_bar || row->kind == ROW_BESIDE || strstr(device, name) != NULL)
        return g_strconcat(row->to_bar || row->kind == ROW_BESIDE ? name : device,
                           row->to_bar ? "" : change_words(end), NULL);
    if (strstr(name, device) != NULL)
        return g_strconcat(name, change_words(end), NULL);
    return g_strconcat(name, ": ", device, change_words(end), NULL);
}

static void
append_part(GString *text, const char *part, const char *behind)
{
    g_string_append_printf(text, "%s%s%s", text->len > 0 ? ", " : "", part, behind);
}

/* What the cable is, as it was written down. */
static char *
cable_words(const Diagram *d, const OneLineLink *link)
{
    GString *text = g_string_new(link->bolted ? "bolted on, no cable" : "");
    const double typed[] = {link->area_m2, link->length_m};
    static const QuantityKind kinds[] = {Q_SMALL_AREA, Q_LENGTH};
    for (size_t i = 0; i < G_N_ELEMENTS(typed); i++) {
        g_autofree char *shown =
            isfinite(typed[i]) ? show_typed(&d->canvas, typed[i], kinds[i]) : NULL;
        if (shown != NULL)
            append_part(text, shown, "");
    }
    if (text->len == 0)
        g_string_append(text, "size and length not known");
    return g_string_free(text, FALSE);
}

/* To two digits (three above 100): more helps nobody at the bench. */
static void
append_reckoned(GString *text, double value, const char *unit, const char *behind)
{
    char number[G_ASCII_DTOSTR_BUF_SIZE];
    if (!isfinite(value))
        return;
    g_ascii_formatd(number, sizeof number, fabs(value) < 99.5 ? "%.2g" : "%.3g", value);
    g_autofree char *part = g_strdup_printf("%s\u00a0%s", number, unit);
    append_part(text, part, behind);
}

/* What flows in it; "" when that is not known. */
static char *
flow_words(const OneLineLink *link)
{
    GString *text = g_string_new(NULL);
    append_reckoned(text, link->current_A, "A", link->load_frac > 1.0 ? " (too hot)" : "");
    append_reckoned(text, link->drop_V, "V", link->lost_frac > 1.0 ? " (too much)" : "");
    return g_string_free(text, FALSE);
}

static char *
row_figures(const Diagram *d, size_t i)
{
    g_autofree char *cable = cable_words(d, &d->fig->link[i]), *flow = flow_words(&d->fig->link[i]);
    return g_strconcat(cable, *flow != '\0' ? ", " : "", flow, NULL);
}

static char *
spoken(const Diagram *d, const OneLineRow *row)
{
    g_autofree char *name = row_name(d, row), *figures = row_figures(d, row->link);
    g_autofree char *guard = guard_text(&d->fig->link[row->link].guard);
    return g_strdup_printf("%s: %s%s%s", name, figures, *guard != '\0' ? ", protected: " : "",
                           guard);
}

/* ---- layout ---- */

static double
bar_x(unsigned column, unsigned depth)
{
    return column * CANVAS_WIDTH + FIRST_BAR + STEP * depth;
}

/* Of what leads to a bar the texts stand beside the bar, of all others behind the symbols; from the left of the column. */
static double
texts_x(const Diagram *d, const OneLineRow *row)
{
    return row->to_bar ? bar_x(0, row->depth + 1) + 9.0 : d->text_x;
}

static void
append_lines(GPtrArray *lines, const char *text, double room)
{
    char *rest = NULL;
    g_ptr_array_add(lines, text_split(text, room, &rest));
    if (rest != NULL)
        g_ptr_array_add(lines, text_fitted(rest, room));
    g_free(rest);
}

/* The name's lines, then those of the figures; *names of them are the name's. */
static GPtrArray *
row_lines(const Diagram *d, const OneLineRow *row, guint *names)
{
    GPtrArray *lines = g_ptr_array_new_with_free_func(g_free);
    double room = CANVAS_WIDTH - 4.0 - texts_x(d, row);
    g_autofree char *name = row_name(d, row), *figures = row_figures(d, row->link);
    append_lines(lines, name, room);
    *names = lines->len;
    if (text_width(figures) <= room) {
        g_ptr_array_add(lines, g_steal_pointer(&figures));
        return lines;
    }
    g_autofree char *cable = cable_words(d, &d->fig->link[row->link]),
                    *flow = flow_words(&d->fig->link[row->link]);
    append_lines(lines, cable, room);
    append_lines(lines, flow, room);
    return lines;
}

static void
place_columns(Diagram *d, unsigned deepest)
{
    d->symbol_x = FIRST_BAR + STEP * (deepest + 1) + SYMBOL_HALF;
    d->text_x = d->symbol_x + SYMBOL_HALF + 6.0;
}

static double
key_height(const Diagram *d)
{
    return d->canvas.how->in_page ? 560.0 : 300.0;
}

static unsigned
best_columns(const Diagram *d, const OneLineLayout *whole, const OneLineHeights *heights)
{
    unsigned best = 1;
    double largest = 0.0;
    for (unsigned n = 1; n <= COLUMNS && !d->canvas.how->in_page; n++) {
        g_autoptr(OneLineLayout) tried = one_line_columns(whole, heights, n);
        double scale = sheet_scale(n * CANVAS_WIDTH, tried->height + key_height(d));
        if (scale > 1.02 * largest) {
            largest = scale;
            best = n;
        }
    }
    return best;
}

/* Twice: how far the symbols stand to the right depends on how deep the boards are, and how tall a row is on the room beside. */
static void
lay_out(Diagram *d)
{
    g_autofree double *link = g_new(double, d->fig->links + 1);
    for (size_t i = 0; i < d->fig->links; i++)
        link[i] = ONE_ROW;
    OneLineHeights heights = {.root = 46.0, .board = 24.0, .more = 24.0, .link = link};
    g_autoptr(OneLineLayout) draft = one_line_layout(d->fig, &heights);
    place_columns(d, draft->deepest);
    for (guint i = 0; i < draft->rows->len; i++) {
        const OneLineRow *row = &g_array_index(draft->rows, OneLineRow, i);
        guint names;
        g_autoptr(GPtrArray) lines = row->link != NO_LINK ? row_lines(d, row, &names) : NULL;
        if (lines != NULL)
            link[row->link] = ONE_ROW + TEXT_STEP * (lines->len - 2.0);
    }
    g_autoptr(OneLineLayout) whole = one_line_layout(d->fig, &heights);
    d->layout = one_line_columns(whole, &heights, best_columns(d, whole, &heights));
    d->canvas.width = d->layout->columns * CANVAS_WIDTH;
    d->canvas.height = TOP + d->layout->height;
}

/* ---- drawing ---- */

static const OneLineRow *
row_at(const Diagram *d, size_t i)
{
    return &g_array_index(d->layout->rows, OneLineRow, i);
}

static double
column_x(const OneLineRow *row)
{
    return row->column * CANVAS_WIDTH;
}

static double
line_y(const OneLineRow *row)
{
    return TOP + row->top + (row->kind == ROW_MORE ? 18.0 : LINE_BELOW_TOP);
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
    d->returns |= link->conductors != CONDUCTORS_PAIR;
}

static void
draw_texts(Diagram *d, const OneLineRow *row, double y)
{
    double x = column_x(row) + texts_x(d, row);
    guint names;
    g_autoptr(GPtrArray) lines = row_lines(d, row, &names);
    for (guint i = 0; i < lines->len; i++)
        draw_text_kept(&d->canvas, i < names ? "circuit" : "figures", x, y - 3.0 + TEXT_STEP * i,
                       ANCHOR_START, g_ptr_array_index(lines, i));
}

/* From the fuse to the end: a bar, a symbol, the line of the circuit above, or a reference. */
static void
draw_end(Diagram *d, const OneLineRow *row, const char *wire, double y, double above)
{
    double from = bar_x(row->column, row->depth + 1), x = column_x(row) + d->symbol_x;
    const OneLineNode *end = far_end(d, row);
    if (row->to_bar)
        return;
    if (row->kind == ROW_LINK) {
        draw_line(&d->canvas, wire, from, y, x - SYMBOL_HALF, y);
        draw_symbol(&d->canvas, end->kind, x, y);
        d->kinds[end->kind] = true;
    } else if (row->kind == ROW_BESIDE) {
        double px[] = {from, x, x}, py[] = {y, y, above + SYMBOL_HALF};
        draw_path(&d->canvas, wire, 3, px, py, false);
    } else {
        double px[] = {x - 7, x + 5, x - 7}, py[] = {y - 6, y, y + 6};
        draw_line(&d->canvas, wire, from, y, x - 7, y);
        draw_path(&d->canvas, "symbol", 3, px, py, true);
        d->elsewhere = true;
    }
}

static void
draw_circuit(Diagram *d, const OneLineRow *row, double above)
{
    const OneLineLink *link = &d->fig->link[row->link];
    char wire[CLASS_ROOM];
    wire_class(link, wire);
    double y = line_y(row), x0 = bar_x(row->column, row->depth), x1 = x0 + STEP;
    g_autofree char *label = spoken(d, row);
    part_open(&d->canvas, "part circuit", link->path, NULL, label);
    draw_guard(&d->canvas, link->guard.kind, wire, x0, x1, y);
    draw_over_line(d, link, (x0 + x1) / 2.0, y);
    draw_end(d, row, wire, y, above);
    draw_texts(d, row, y);
    part_close(&d->canvas);
}

static char *
node_words(const Diagram *d, const OneLineNode *node, bool again)
{
    g_autofree char *name = name_plain(node->name);
    g_autofree char *volts = node->source && isfinite(node->nominal_V)
                                 ? show_typed(&d->canvas, node->nominal_V, Q_VOLTAGE)
                                 : NULL;
    g_autofree char *guard = guard_text(&node->guard);
    if (again)
        return g_strconcat("(continued) ", name, NULL);
    return g_strconcat(name, volts != NULL ? ", " : "", volts != NULL ? volts : "",
                       *guard != '\0' ? ", through " : "", guard, change_words(node), NULL);
}

static void
draw_head(Diagram *d, const OneLineRow *row)
{
    const OneLineNode *node = &d->fig->node[row->node];
    double x = bar_x(row->column, row->depth), y = line_y(row), text_x = x + 8.0;
    bool symbol = row->kind == ROW_ROOT && node->kind != NODE_BOARD;
    g_autofree char *words = node_words(d, node, row->kind == ROW_MORE);
    part_open(&d->canvas, "part", node->path, NULL, words);
    if (symbol) {
        draw_symbol(&d->canvas, node->kind, x, y);
        d->kinds[node->kind] = true;
        text_x = x + SYMBOL_HALF + 8.0;
    }
    double room = column_x(row) + CANVAS_WIDTH - 4.0 - text_x;
    g_autofree char *fitted = text_fitted(words, room);
    double base = row->kind == ROW_BOARD ? TOP + row->top + 15.0 : y + 5.0;
    draw_text_kept(&d->canvas, "board", text_x, row->kind == ROW_MORE ? y : base, ANCHOR_START,
                   fitted);
    part_close(&d->canvas);
}

static void
draw_bars(Diagram *d)
{
    for (guint i = 0; i < d->layout->bars->len; i++) {
        const OneLineBar *bar = &g_array_index(d->layout->bars, OneLineBar, i);
        const OneLineRow *first = row_at(d, bar->first), *last = row_at(d, bar->last);
        double x = bar_x(bar->column, bar->depth);
        double top = bar->from_above ? TOP + first->top : line_y(first) - 5.0;
        if (first->kind == ROW_ROOT && d->fig->node[bar->node].kind != NODE_BOARD)
            top = line_y(first) + SYMBOL_HALF;
        double bottom = bar->to_below ? TOP + last->top + last->height : line_y(last) + 5.0;
        bool board = d->fig->node[bar->node].kind == NODE_BOARD;
        draw_line(&d->canvas, board ? "busbar" : "busbar thin", x, top, x, bottom);
        d->kinds[NODE_BOARD] |= board;
    }
}

static void
draw_rows(Diagram *d)
{
    double above = 0.0; /* line of the circuit that others stand beside */
    for (guint i = 0; i < d->layout->rows->len; i++) {
        const OneLineRow *row = row_at(d, i);
        if (row->link == NO_LINK) {
            draw_head(d, row);
            continue;
        }
        draw_circuit(d, row, above);
        if (row->kind != ROW_BESIDE)
            above = line_y(row);
    }
}

/* ---- the key ---- */

static void
key_of_lines(Diagram *d, double *y)
{
    key_head(&d->canvas, y, "Colour and dashes: volts lost on the way");
    key_line(&d->canvas, "wire loss-low", y, "less than half of what is allowed there");
    key_line(&d->canvas, "wire loss-near", y, "half of it or more");
    key_line(&d->canvas, "wire loss-over", y, "more than is allowed");
    key_line(&d->canvas, "wire loss-none", y, "nothing flows, or it is not known");
    key_head(&d->canvas, y, "Thickness: current, of what the wire may carry");
    key_line(&d->canvas, "wire load-low", y, "less than half, or not known");
    key_line(&d->canvas, "wire load-mid", y, "half or more");
    key_line(&d->canvas, "wire load-high", y, "80 % or more");
    key_line(&d->canvas, "wire load-over", y, "more than it may carry");
}

static void
key_row(Diagram *d, double *y, const char *text)
{
    key_line(&d->canvas, "none", y, text);
}

static void
key_of_symbols(Diagram *d, double *y)
{
    double x = d->canvas.left + CANVAS_MARGIN, top = *y;
    key_head(&d->canvas, y, "Symbols");
    *y += 6.0;
    draw_guard(&d->canvas, GUARD_FUSE, "wire", x, x + 36.0, *y + 15.0);
    key_row(d, y, "fuse, its rating above");
    *y += 4.0;
    draw_guard(&d->canvas, GUARD_BREAKER, "wire", x, x + 36.0, *y + 15.0);
    key_row(d, y, "breaker: C16 is curve C, 16 A");
    if (d->returns) {
        draw_text(&d->canvas, "rating", x + 18.0, *y + LINE_HEIGHT, ANCHOR_MIDDLE, "+  \u2212");
        key_row(d, y, "one conductor alone, fed or return");
    }
    size_t shown = 0;
    for (size_t kind = 0; kind < G_N_ELEMENTS(d->kinds); kind++) {
        if (!d->kinds[kind])
            continue;
        if (++shown == KEY_SYMBOLS && d->layout->columns > 2) { /* the rest in the next column */
            d->canvas.left += CANVAS_WIDTH;
            x += CANVAS_WIDTH;
            *y = top + LINE_HEIGHT + 12.0;
        }
        *y += 8.0;
        draw_symbol(&d->canvas, kind, x + 18.0, *y + 15.0);
        key_row(d, y, symbol_words(kind));
    }
    if (d->elsewhere) {
        double px[] = {x + 11, x + 23, x + 11}, py[] = {*y + 9, *y + 15, *y + 21};
        draw_path(&d->canvas, "symbol", 3, px, py, true);
        key_row(d, y, "goes on where the thing named is drawn");
    }
}

static void
draw_key(Diagram *d)
{
    double top = TOP + d->layout->height + 8.0, y = top;
    key_of_lines(d, &y);
    y += 6.0;
    if (d->fig->caption != NULL)
        draw_paragraph(&d->canvas, "caption", CANVAS_MARGIN, &y, d->fig->caption);
    draw_paragraph(&d->canvas, "caption", CANVAS_MARGIN, &y,
                   "In a row: area of one conductor, length one way, current, volts lost in that "
                   "circuit out and back; too much: on its whole way from the source.");
    if (d->layout->columns > 1) {
        d->canvas.left = CANVAS_WIDTH;
        y = top;
    }
    key_of_symbols(d, &y);
}

void
draw_one_line(const OneLinePicture *fig, const DrawHow *how, Markup *svg)
{
    Diagram d = {.fig = fig};
    canvas_begin(&d.canvas, svg, how, "group", "One-line diagram", fig->caption);
    lay_out(&d);
    draw_bars(&d);
    draw_rows(&d);
    draw_key(&d);
    canvas_end(&d.canvas);
    one_line_layout_free(d.layout);
}
