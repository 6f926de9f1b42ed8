/* Scales at the edge of a plot, and the key below it. */
#pragma once

#include "draw/canvas.h"

/* Ticks in round numbers of the reader's unit, grid lines, and the name with its unit. */
void axis_x(Canvas *canvas, const Frame *frame, QuantityKind kind, const char *name);
void axis_y(Canvas *canvas, const Frame *frame, QuantityKind kind, const char *name);
/* The same where the model is the logarithm to base 10 of an SI value whose unit is shown as it is: a decade a tick; across, where there are few, its 2 and 5
 * too. */
void log_axis_x(Canvas *canvas, const Frame *frame, const char *name);
void log_axis_y(Canvas *canvas, const Frame *frame, const char *name);
/* Lines across the plot at a model value; nothing when it is not finite or outside. */
void rule_x(Canvas *canvas, const Frame *frame, const char *classes, double x);
void rule_y(Canvas *canvas, const Frame *frame, const char *classes, double y);
/* A short bar of a round length with its text, for drawings to scale. Returns its width. */
double scale_bar(Canvas *canvas, double units_per_m, double x, double y, double room);

/* The key: one line each below *y, which moves. */
void key_line(Canvas *canvas, const char *classes, double *y, const char *text);
void key_box(Canvas *canvas, const char *classes, double *y, const char *text);
void key_tag(Canvas *canvas, const char *classes, const char *tag, double *y, const char *text);
void key_head(Canvas *canvas, double *y, const char *text);
/* How far a line of the key with that text moves. */
double key_step(const char *text);
