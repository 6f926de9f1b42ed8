/* Outline and scale of the deck seen from above.
 * Invariant: the frame holds every point that was taken. */
#include "draw/deck_plan.h"

#include <math.h>

#include "draw/axes.h"

#define TALLEST 620.0

void
deck_take(Extent *extent, const DeckOutline *deck)
{
    for (size_t i = 0; i < deck->points; i++)
        for (int side = -1; side <= 1; side += 2)
            extent_take(extent, deck->x_m[i], side * deck->y_m[i], NAN);
}

Frame
deck_frame(const Canvas *canvas, const Extent *extent, double top, double margin)
{
    double room = canvas->width - 2.0 * margin;
    double long_m = range_span(extent->x_low, extent->x_high),
           wide_m = range_span(extent->y_low, extent->y_high);
    double scale = fmin(room / long_m, TALLEST / wide_m);
    double left = (canvas->width - scale * long_m) / 2.0;
    return frame_scaled(scale, extent->x_low, extent->x_high, extent->y_low, extent->y_high, left,
                        top + margin);
}

void
deck_draw(Canvas *canvas, const Frame *frame, const DeckOutline *deck)
{
    size_t n = deck->points;
    g_autofree double *x = g_new(double, 2 * n + 1), *y = g_new(double, 2 * n + 1);
    for (size_t i = 0; i < n; i++) {
        size_t back = 2 * n - 1 - i;
        x[i] = x[back] = frame_x(frame, deck->x_m[i]);
        y[i] = frame_y(frame, deck->y_m[i]);
        y[back] = frame_y(frame, -deck->y_m[i]);
    }
    draw_path(canvas, "deck-edge", 2 * n, x, y, true);
    rule_y(canvas, frame, "centreline", 0.0);
}
