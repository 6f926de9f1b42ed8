/* What each task can do to the date: a bar to the left where it goes well, to the right where it goes badly.
 * Invariant: the middle is the mean finish of all trials. */
#include "draw/axes.h"

#include <math.h>

#define TOP 40.0
#define ROW 40.0
#define BAR_HEIGHT 13.0

static Frame
frame_of(const TornadoPicture *fig)
{
    double low = 0.0, high = 0.0;
    for (size_t i = 0; i < fig->bars; i++) {
        if (isfinite(fig->bar[i].early_days))
            low = fmin(low, fig->bar[i].early_days);
        if (isfinite(fig->bar[i].late_days))
            high = fmax(high, fig->bar[i].late_days);
    }
    double over = 0.06 * range_span(low, high);
    return frame_fit(low - over, high + over, 0.0, 1.0, CANVAS_MARGIN + 6.0, TOP,
                     CANVAS_WIDTH - 2.0 * CANVAS_MARGIN - 12.0,
                     fmax(ROW * (double) fig->bars, ROW));
}

static char *
days_words(double days)
{
    double size = fabs(days);
    return g_strdup_printf("%.*f day%s %s", size < 10.0 ? 1 : 0, size, size == 1.0 ? "" : "s",
                           days < 0.0 ? "earlier" : "later");
}

static void
draw_bar(Canvas *canvas, const Frame *frame, const TornadoBar *bar, double y)
{
    g_autofree char *name = name_plain(bar->name);
    g_autofree char *early = days_words(bar->early_days), *late = days_words(bar->late_days);
    bool known = isfinite(bar->early_days) && isfinite(bar->late_days);
    g_autofree char *words =
        known ? g_strdup_printf("%s: %s to %s", name, early, late) : g_strdup(name);
    g_autofree char *fitted = text_fitted(name, frame->right - frame->left);
    part_open(canvas, "part", bar->path, NULL, words);
    draw_text_kept(canvas, "bar-name", frame->left, y + 13.0, ANCHOR_START, fitted);
    double zero = frame_x(frame, 0.0);
    double from = frame_x(frame, bar->early_days), to = frame_x(frame, bar->late_days);
    draw_box(canvas, "sway early", fmin(from, zero), y + 18.0, fabs(zero - from), BAR_HEIGHT);
    draw_box(canvas, "sway late", fmin(to, zero), y + 18.0, fabs(to - zero), BAR_HEIGHT);
    part_close(canvas);
}

void
draw_tornado(const TornadoPicture *fig, const DrawHow *how, Markup *svg)
{
    Canvas canvas;
    canvas_begin(&canvas, svg, how, "group", "What drives the date", fig->caption);
    Frame frame = frame_of(fig);
    draw_text_kept(&canvas, "view-name", CANVAS_MARGIN, 18.0, ANCHOR_START,
                   "What each task does to the finish");
    axis_x(&canvas, &frame, Q_NONE, "days: earlier to the left, later to the right");
    rule_x(&canvas, &frame, "axis", 0.0);
    for (size_t i = 0; i < fig->bars; i++)
        draw_bar(&canvas, &frame, &fig->bar[i], frame.top + ROW * (double) i);
    double y = canvas.height + 4.0;
    key_box(&canvas, "sway late", &y, "when it takes as long as in the worst tenth of the trials");
    key_box(&canvas, "sway early", &y, "when it takes as short as in the best tenth");
    y += 6.0;
    if (fig->caption != NULL)
        draw_paragraph(&canvas, "caption", CANVAS_MARGIN, &y, fig->caption);
    if (fig->left_out > 0) {
        g_autofree char *words = g_strdup_printf("%zu more hardly move it.", fig->left_out);
        draw_paragraph(&canvas, "caption", CANVAS_MARGIN, &y, words);
    }
    canvas_end(&canvas);
}
