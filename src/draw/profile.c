/* Side view with deck edge, keel, houses and water lines.
 * Invariant: one scale both ways, so that nothing in the view is enlarged against the rest. */
#include "draw/profile.h"

#include <math.h>

void
profile_take(Extent *extent, const SideOutline *hull, const Lie *lie)
{
    for (size_t i = 0; i < hull->n; i++) {
        extent_take(extent, hull->x_m[i], NAN, hull->deck_m[i]);
        extent_take(extent, NAN, NAN, hull->bottom_m[i]);
    }
    if (hull->n == 0 || lie == NULL || !isfinite(lie->origin_depth_m))
        return;
    extent_take(extent, NAN, NAN, water_z(lie, hull->x_m[0], 0.0));
    extent_take(extent, NAN, NAN, water_z(lie, hull->x_m[hull->n - 1], 0.0));
}

Frame
profile_frame(const Extent *extent, double top)
{
    double room = CANVAS_WIDTH - 2.0 * CANVAS_MARGIN - 8.0;
    double long_m = range_span(extent->x_low, extent->x_high);
    double scale = fmin(room / long_m, PROFILE_TALLEST / range_span(extent->z_low, extent->z_high));
    double left = CANVAS_MARGIN + 4.0 + (room - scale * long_m) / 2.0;
    return frame_scaled(scale, extent->x_low, extent->x_high, extent->z_low, extent->z_high, left,
                        top);
}

static void
outline(Canvas *canvas, const Frame *frame, const char *classes, const SideOutline *hull,
        const double z_m[])
{
    g_autofree double *x = g_new(double, hull->n), *y = g_new(double, hull->n);
    for (size_t i = 0; i < hull->n; i++) {
        x[i] = frame_x(frame, hull->x_m[i]);
        y[i] = frame_y(frame, z_m[i]);
    }
    draw_path(canvas, classes, hull->n, x, y, false);
}

void
profile_hull(Canvas *canvas, const Frame *frame, const SideOutline *hull)
{
    if (hull->n == 0)
        return;
    outline(canvas, frame, "deck-edge", hull, hull->deck_m);
    outline(canvas, frame, "keel", hull, hull->bottom_m);
    const size_t ends[] = {0, hull->n - 1};
    for (int k = 0; k < 2; k++) {
        double x = frame_x(frame, hull->x_m[ends[k]]);
        draw_line(canvas, "deck-edge", x, frame_y(frame, hull->deck_m[ends[k]]), x,
                  frame_y(frame, hull->bottom_m[ends[k]]));
    }
}

void
profile_house(Canvas *canvas, const Frame *frame, const Block *house)
{
    double x = frame_x(frame, house->x_aft_m), y = frame_y(frame, house->z_high_m);
    part_open(canvas, "part", house->path, "along", house->name);
    draw_box(canvas, "house", x, y, frame_x(frame, house->x_fwd_m) - x,
             frame_y(frame, house->z_low_m) - y);
    part_close(canvas);
}

void
profile_water(Canvas *canvas, const Frame *frame, const char *classes, const Lie *lie)
{
    if (!isfinite(lie->origin_depth_m))
        return;
    double x0 = CANVAS_MARGIN / 2, x1 = CANVAS_WIDTH - CANVAS_MARGIN / 2;
    double m0 = (x0 - frame->x0) / frame->xk, m1 = (x1 - frame->x0) / frame->xk;
    draw_line(canvas, classes, x0, frame_y(frame, water_z(lie, m0, 0.0)), x1,
              frame_y(frame, water_z(lie, m1, 0.0)));
}

double
profile_at(const SideOutline *hull, const double value_m[], double x_m)
{
    for (size_t i = 0; i + 1 < hull->n; i++) {
        double step = hull->x_m[i + 1] - hull->x_m[i];
        double share = step > 0.0 ? (x_m - hull->x_m[i]) / step : 0.0;
        if (share >= 0.0 && share <= 1.0)
            return value_m[i] + share * (value_m[i + 1] - value_m[i]);
    }
    return NAN;
}

Box
profile_bounds(const Frame *frame, double above, double below)
{
    return (Box){2.0, frame->top - above, CANVAS_WIDTH - 2.0, frame->bottom + below};
}
