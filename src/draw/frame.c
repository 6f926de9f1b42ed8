/* The one turn of axes, and round steps for scales. A Frame is finite and not degenerate, whatever
 * the figure held. */
#include "draw/frame.h"

#include <math.h>

#include "base/unit.h"

#include <glib.h>

/* A figure may hold anything; a range that cannot be drawn becomes one that can. */
static void
mend_range(double *low, double *high)
{
    if (!isfinite(*low) || !isfinite(*high) || !isfinite(*high - *low) || *high < *low) {
        *low = 0.0;
        *high = 1.0;
    }
    double least = 1e-9 * fmax(1.0, fmax(fabs(*low), fabs(*high)));
    if (*high - *low < least) {
        *low -= least > 0.5 ? least : 0.5;
        *high += least > 0.5 ? least : 0.5;
    }
}

double
range_span(double low, double high)
{
    mend_range(&low, &high);
    return high - low;
}

static Frame
frame_of(double x_low, double x_high, double y_low, double y_high, double left, double top,
         double xk, double yk)
{
    return (Frame){.x0 = left - xk * x_low,
                   .xk = xk,
                   .y0 = top + yk * y_high,
                   .yk = -yk,
                   .left = left,
                   .right = left + xk * (x_high - x_low),
                   .top = top,
                   .bottom = top + yk * (y_high - y_low),
                   .x_low = x_low,
                   .x_high = x_high,
                   .y_low = y_low,
                   .y_high = y_high};
}

Frame
frame_fit(double x_low, double x_high, double y_low, double y_high, double left, double top,
          double width, double height)
{
    mend_range(&x_low, &x_high);
    mend_range(&y_low, &y_high);
    return frame_of(x_low, x_high, y_low, y_high, left, top, width / (x_high - x_low),
                    height / (y_high - y_low));
}

Frame
frame_scaled(double scale, double x_low, double x_high, double y_low, double y_high, double left,
             double top)
{
    mend_range(&x_low, &x_high);
    mend_range(&y_low, &y_high);
    return frame_of(x_low, x_high, y_low, y_high, left, top, scale, scale);
}

double
frame_x(const Frame *frame, double x)
{
    return frame->x0 + frame->xk * x;
}

double
frame_y(const Frame *frame, double y)
{
    return frame->y0 + frame->yk * y;
}

double
nice_step(double low, double high, int n)
{
    double rough = (high - low) / n;
    if (!isfinite(rough) || rough <= 0.0)
        return 1.0;
    double ten = pow(10.0, floor(log10(rough)));
    double share = rough / ten;
    return ten * (share <= 1.0 ? 1.0 : share <= 2.0 ? 2.0 : share <= 5.0 ? 5.0 : 10.0);
}

static Unit
unit_of(QuantityKind kind, UnitsChoice units)
{
    Unit unit = {.factor = 1.0};
    g_autofree char *problem = NULL;
    const char *text = kind_shown(kind, units);
    if (*text != '\0' && !unit_parse(text, kind, &unit, &problem))
        g_error("display unit of %s: %s", kind_word(kind), problem);
    return unit;
}

double
shown_value(double si, QuantityKind kind, UnitsChoice units)
{
    Unit unit = unit_of(kind, units);
    return (si - unit.offset) / unit.factor;
}

double
shown_to_si(double shown, QuantityKind kind, UnitsChoice units)
{
    Unit unit = unit_of(kind, units);
    return shown * unit.factor + unit.offset;
}
