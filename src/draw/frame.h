/* From model coordinates (y up) to the picture's (y down): turned here and nowhere else. */
#pragma once

#include <stdbool.h>

#include "base/kind.h"

typedef struct {
    double x0, xk, y0, yk; /* picture = x0 + xk * model */
    double left, right, top, bottom;
    double x_low, x_high, y_low, y_high;
} Frame;

/* Fills a box; the model range is widened to something where it is empty or not finite. */
Frame frame_fit(double x_low, double x_high, double y_low, double y_high, double left, double top,
                double width, double height);
/* One scale both ways, picture units per metre; x_low lies at left, y_high at top. */
Frame frame_scaled(double scale, double x_low, double x_high, double y_low, double y_high,
                   double left, double top);
double frame_x(const Frame *frame, double x);
double frame_y(const Frame *frame, double y);

/* Length of a range, or of what frame_scaled makes of one that is empty or not finite: decide scales with this. */
double range_span(double low, double high);

/* Steps of 1, 2 or 5 times a power of ten: about n of them in the range. */
double nice_step(double low, double high, int n);

/* An SI value in the reader's unit of its kind, and the unit; "" for a pure number. */
double shown_value(double si, QuantityKind kind, UnitsChoice units);
double shown_to_si(double shown, QuantityKind kind, UnitsChoice units);
