/* Area of each under-water section along the length; the area under the curve is the volume. */
#include "draw/axes.h"
#include "draw/views.h"

#include <math.h>

static Frame
frame_of(const SectionalAreasPicture *fig)
{
    double most = 0.0;
    for (size_t i = 0; i < fig->n; i++)
        if (isfinite(fig->area_m2[i]))
            most = fmax(most, fig->area_m2[i]);
    double x_low = fig->n > 0 ? fig->x_m[0] : 0.0;
    double x_high = fig->n > 0 ? fig->x_m[fig->n - 1] : 1.0;
    return frame_fit(x_low, x_high, 0.0, 1.1 * most, 58.0, 40.0,
                     CANVAS_WIDTH - CANVAS_MARGIN - 58.0, 180.0);
}

static void
shade(Canvas *canvas, const Frame *frame, const SectionalAreasPicture *fig)
{
    size_t n = fig->n;
    if (n < 2)
        return;
    g_autofree double *x = g_new(double, n + 2), *y = g_new(double, n + 2);
    for (size_t i = 0; i < n; i++) {
        x[i] = frame_x(frame, fig->x_m[i]);
        y[i] = frame_y(frame, isfinite(fig->area_m2[i]) ? fig->area_m2[i] : 0.0);
    }
    x[n] = x[n - 1];
    x[n + 1] = x[0];
    y[n] = y[n + 1] = frame->bottom;
    draw_path(canvas, "shade-30", n + 2, x, y, true);
}

static void
key(Canvas *canvas, const Frame *frame, const SectionalAreasPicture *fig)
{
    double y = frame->bottom + 40.0;
    if (isfinite(fig->volume_m3)) {
        g_autofree char *volume = show(canvas, fig->volume_m3, Q_VOLUME);
        g_autofree char *text = g_strdup_printf("under-water section area; in all %s", volume);
        key_line(canvas, "lever", &y, text);
    }
    if (isfinite(fig->lcb_m)) {
        g_autofree char *at = show(canvas, fig->lcb_m, Q_LENGTH);
        g_autofree char *text = g_strdup_printf("the water carries her (LCB) at %s", at);
        key_line(canvas, "lcb", &y, text);
    }
    if (isfinite(fig->lcg_m)) {
        g_autofree char *at = show(canvas, fig->lcg_m, Q_LENGTH);
        g_autofree char *text = g_strdup_printf("her weight lies (LCG) at %s", at);
        key_line(canvas, "lcg", &y, text);
    }
    if (isfinite(fig->waterline_aft_m) && isfinite(fig->waterline_fwd_m)) {
        g_autofree char *aft = show(canvas, fig->waterline_aft_m, Q_LENGTH);
        g_autofree char *fwd = show(canvas, fig->waterline_fwd_m, Q_LENGTH);
        g_autofree char *text = g_strdup_printf("water line from %s to %s", aft, fwd);
        key_line(canvas, "water", &y, text);
    }
    if (fig->caption != NULL) {
        y += 4.0;
        draw_paragraph(canvas, "caption", CANVAS_MARGIN, &y, fig->caption);
    }
}

/* The two lie close together in any boat that floats: one name to the left, one to the right. */
static void
name_rules(Canvas *canvas, const Frame *frame, const SectionalAreasPicture *fig)
{
    bool carried_aft = fig->lcb_m <= fig->lcg_m;
    double y = frame->top - 5.0;
    draw_text_kept(canvas, "label", frame_x(frame, fig->lcb_m) + (carried_aft ? -2.0 : 2.0), y,
                   carried_aft ? ANCHOR_END : ANCHOR_START, "LCB");
    draw_text_kept(canvas, "label", frame_x(frame, fig->lcg_m) + (carried_aft ? 2.0 : -2.0), y,
                   carried_aft ? ANCHOR_START : ANCHOR_END, "LCG");
}

void
draw_sectional_areas(const SectionalAreasPicture *fig, const DrawHow *how, Markup *svg)
{
    Canvas canvas;
    Frame frame = frame_of(fig);
    canvas_begin(&canvas, svg, how, "img", "Sectional areas", fig->caption);
    canvas_readout(&canvas, &frame, Q_LENGTH, Q_AREA);
    axis_x(&canvas, &frame, Q_LENGTH, "from the stern");
    axis_y(&canvas, &frame, Q_AREA, "area under water");
    shade(&canvas, &frame, fig);
    draw_line(&canvas, "water", frame_x(&frame, fig->waterline_aft_m), frame.bottom,
              frame_x(&frame, fig->waterline_fwd_m), frame.bottom);
    rule_x(&canvas, &frame, "lcb", fig->lcb_m);
    rule_x(&canvas, &frame, "lcg", fig->lcg_m);
    draw_curve(&canvas, &frame, "lever", NULL, fig->n, fig->x_m, fig->area_m2);
    name_rules(&canvas, &frame, fig);
    key(&canvas, &frame, fig);
    canvas_end(&canvas);
}
