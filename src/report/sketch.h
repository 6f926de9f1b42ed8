/* Plain line drawings for paper, in millimetres, y down: black on white, thin and thick lines, and blank tables to be
 * filled with a pencil. The result is SVG that states its size, so it prints at true size. */
#pragma once

#include <glib.h>
#include <stdbool.h>
#include <stddef.h>

typedef struct {
    GString *svg;
} Sketch;

typedef struct {
    double x, y;
} Pen; /* a corner of a line, mm */

typedef enum { TEXT_START, TEXT_MIDDLE, TEXT_END } TextAnchor;
typedef enum { LINE_THIN, LINE_THICK, LINE_DASHED } LineLook;

void sketch_begin(Sketch *sketch, double width_mm, double height_mm);
char *sketch_end(Sketch *sketch); /* the SVG; g_free */

void sketch_line(Sketch *sketch, LineLook look, double x1, double y1, double x2, double y2);
void sketch_run(Sketch *sketch, LineLook look, size_t n, const Pen pen[]);
/* Closed and light grey inside. */
void sketch_solid(Sketch *sketch, size_t n, const Pen pen[]);
void sketch_circle(Sketch *sketch, bool solid, double x, double y, double radius);
/* A length between two points: arrow heads at both ends. */
void sketch_span(Sketch *sketch, double x1, double y1, double x2, double y2);
/* An arrow head at the second point only. */
void sketch_arrow(Sketch *sketch, double x1, double y1, double x2, double y2);
void sketch_text(Sketch *sketch, double x, double y, TextAnchor anchor, const char *text);
void sketch_bold(Sketch *sketch, double x, double y, TextAnchor anchor, const char *text);
/* Still water with its triangle, from x1 to x2. */
void sketch_water(Sketch *sketch, double x1, double x2, double y);

typedef struct {
    const char *head;
    double width_mm;
} GridColumn;

/* A table to write in. label: what stands in the first column of each row, or NULL for an empty one. Gives its height. */
double sketch_grid(Sketch *sketch, double x, double y, size_t n_columns, const GridColumn column[],
                   size_t n_rows, const char *const label[], double row_mm);
/* Its height before it is drawn. */
double sketch_grid_height(size_t n_columns, const GridColumn column[], size_t n_rows,
                          double row_mm);
/* A bar of 100 mm with ticks each 10 mm, from (x, y) to the right. */
void sketch_bar(Sketch *sketch, double x, double y);
