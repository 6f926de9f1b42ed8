/* The key of the one-line diagram: what its lines and symbols mean, only those that stand in it. */
#include "draw/axes.h"
#include "draw/wiring/one_line_diagram.h"

enum { KEY_SYMBOLS = 6 }; /* in the first column of the key, where there is a second */

void
one_line_reference(Canvas *canvas, double x, double y)
{
    double px[] = {x - 7, x + 5, x - 7}, py[] = {y - 6, y, y + 6};
    draw_path(canvas, "symbol", 3, px, py, true);
}

void
one_line_key_of_lines(Diagram *d, double *y)
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
    *y += 6.0;
    draw_paragraph(&d->canvas, "caption", d->canvas.left + CANVAS_MARGIN, y,
                   "In a row: area of one conductor, length one way, current, volts lost in that "
                   "circuit out and back; too much: on its whole way from the source.");
}

static void
key_row(Diagram *d, double *y, const char *text)
{
    key_line(&d->canvas, "none", y, text);
}

static void
key_of_guards(Diagram *d, double *y)
{
    double x = d->canvas.left + CANVAS_MARGIN;
    *y += 6.0;
    draw_guard(&d->canvas, GUARD_FUSE, "wire", x, x + 36.0, *y + 15.0);
    key_row(d, y, "fuse, its rating above");
    *y += 4.0;
    draw_guard(&d->canvas, GUARD_BREAKER, "wire", x, x + 36.0, *y + 15.0);
    key_row(d, y, "breaker: C16 is curve C, 16 A");
    if (!d->returns)
        return;
    draw_text(&d->canvas, "rating", x + 18.0, *y + LINE_HEIGHT, ANCHOR_MIDDLE, "+  \u2212");
    key_row(d, y, "one conductor alone, fed or return");
}

/* The rest of the symbols in the next column, where that is free. */
static bool
turns_over(const Diagram *d, size_t shown)
{
    return shown == KEY_SYMBOLS && d->sheet == 0 && d->layout->columns > 2;
}

void
one_line_key_of_symbols(Diagram *d, double *y)
{
    double top = *y;
    size_t shown = 0;
    key_head(&d->canvas, y, "Symbols");
    key_of_guards(d, y);
    for (size_t kind = 0; kind < G_N_ELEMENTS(d->shown); kind++) {
        if (!d->shown[kind])
            continue;
        if (turns_over(d, ++shown)) {
            d->canvas.left += CANVAS_WIDTH;
            *y = top + LINE_HEIGHT + 12.0;
        }
        *y += 8.0;
        draw_symbol(&d->canvas, kind, d->canvas.left + CANVAS_MARGIN + 18.0, *y + 15.0);
        key_row(d, y, symbol_words(kind));
    }
    if (!d->elsewhere)
        return;
    *y += 8.0;
    one_line_reference(&d->canvas, d->canvas.left + CANVAS_MARGIN + 18.0, *y + 15.0);
    key_row(d, y, "goes on where the thing named is drawn");
}
