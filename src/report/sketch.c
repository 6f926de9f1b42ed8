/* Line drawings and blank tables as SVG.
 *
 * Invariant: a unit of the drawing is a millimetre of the paper. */
#include "report/sketch.h"

#include <math.h>
#include <string.h>

#define FONT "font-family=\"Liberation Sans, Arial, Helvetica, sans-serif\""
#define TEXT_MM 2.9
#define LEADING_MM 3.4
#define HEAD_PAD_MM 1.6
#define ARROW_MM 1.8

void
sketch_begin(Sketch *sketch, double width_mm, double height_mm)
{
    sketch->svg = g_string_new(NULL);
    g_string_printf(sketch->svg,
                    "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%.2fmm\" height=\"%.2fmm\" "
                    "viewBox=\"0 0 %.2f %.2f\">",
                    width_mm, height_mm, width_mm, height_mm);
}

char *
sketch_end(Sketch *sketch)
{
    g_string_append(sketch->svg, "</svg>");
    return g_string_free(g_steal_pointer(&sketch->svg), FALSE);
}

static const char *
look_text(LineLook look)
{
    switch (look) {
    case LINE_THICK:
        return "stroke=\"#000\" stroke-width=\"0.6\"";
    case LINE_DASHED:
        return "stroke=\"#000\" stroke-width=\"0.25\" stroke-dasharray=\"1.6 1\"";
    default:
        return "stroke=\"#000\" stroke-width=\"0.2\"";
    }
}

void
sketch_line(Sketch *sketch, LineLook look, double x1, double y1, double x2, double y2)
{
    g_string_append_printf(sketch->svg,
                           "<line x1=\"%.2f\" y1=\"%.2f\" x2=\"%.2f\" y2=\"%.2f\" %s/>", x1, y1, x2,
                           y2, look_text(look));
}

static void
points(Sketch *sketch, const char *element, size_t n, const Pen pen[])
{
    g_string_append_printf(sketch->svg, "<%s points=\"", element);
    for (size_t i = 0; i < n; i++)
        g_string_append_printf(sketch->svg, "%s%.2f,%.2f", i > 0 ? " " : "", pen[i].x, pen[i].y);
    g_string_append(sketch->svg, "\" ");
}

void
sketch_run(Sketch *sketch, LineLook look, size_t n, const Pen pen[])
{
    points(sketch, "polyline", n, pen);
    g_string_append_printf(sketch->svg, "fill=\"none\" stroke-linejoin=\"round\" %s/>",
                           look_text(look));
}

void
sketch_solid(Sketch *sketch, size_t n, const Pen pen[])
{
    points(sketch, "polygon", n, pen);
    g_string_append_printf(sketch->svg, "fill=\"#e4e4e4\" stroke-linejoin=\"round\" %s/>",
                           look_text(LINE_THICK));
}

void
sketch_circle(Sketch *sketch, bool solid, double x, double y, double radius)
{
    g_string_append_printf(sketch->svg,
                           "<circle cx=\"%.2f\" cy=\"%.2f\" r=\"%.2f\" fill=\"%s\" %s/>", x, y,
                           radius, solid ? "#000" : "#fff", look_text(LINE_THIN));
}

void
sketch_arrow(Sketch *sketch, double x1, double y1, double x2, double y2)
{
    double length = hypot(x2 - x1, y2 - y1);
    sketch_line(sketch, LINE_THIN, x1, y1, x2, y2);
    if (length <= 0.0)
        return;
    double ax = (x1 - x2) / length * ARROW_MM, ay = (y1 - y2) / length * ARROW_MM;
    Pen head[] = {{x2, y2},
                  {x2 + ax - ay * 0.3, y2 + ay + ax * 0.3},
                  {x2 + ax + ay * 0.3, y2 + ay - ax * 0.3}};
    points(sketch, "polygon", 3, head);
    g_string_append(sketch->svg, "fill=\"#000\"/>");
}

void
sketch_span(Sketch *sketch, double x1, double y1, double x2, double y2)
{
    double mx = (x1 + x2) / 2, my = (y1 + y2) / 2;
    sketch_arrow(sketch, mx, my, x1, y1);
    sketch_arrow(sketch, mx, my, x2, y2);
}

static void
set(Sketch *sketch, double x, double y, TextAnchor anchor, const char *weight, const char *text)
{
    static const char *const anchors[] = {"start", "middle", "end"};
    g_autofree char *valid = g_utf8_make_valid(text, -1);
    g_auto(GStrv) lines = g_strsplit(valid, "\n", -1);
    for (size_t i = 0; lines[i] != NULL; i++) {
        g_autofree char *safe = g_markup_escape_text(lines[i], -1);
        g_string_append_printf(
            sketch->svg,
            "<text x=\"%.2f\" y=\"%.2f\" " FONT
            " font-size=\"%.1f\" font-weight=\"%s\" text-anchor=\"%s\">%s</text>",
            x, y + (double) i * LEADING_MM, TEXT_MM, weight, anchors[anchor], safe);
    }
}

void
sketch_text(Sketch *sketch, double x, double y, TextAnchor anchor, const char *text)
{
    set(sketch, x, y, anchor, "normal", text);
}

void
sketch_bold(Sketch *sketch, double x, double y, TextAnchor anchor, const char *text)
{
    set(sketch, x, y, anchor, "bold", text);
}

void
sketch_water(Sketch *sketch, double x1, double x2, double y)
{
    double x = x1 + 4.0;
    Pen mark[] = {{x - 1.5, y - 2.4}, {x + 1.5, y - 2.4}, {x, y}, {x - 1.5, y - 2.4}};
    sketch_line(sketch, LINE_THIN, x1, y, x2, y);
    sketch_run(sketch, LINE_THIN, 4, mark);
    sketch_line(sketch, LINE_THIN, x - 1.4, y + 0.9, x + 1.4, y + 0.9);
    sketch_line(sketch, LINE_THIN, x - 0.7, y + 1.6, x + 0.7, y + 1.6);
}

static double
head_height(size_t n, const GridColumn column[])
{
    size_t most = 0;
    for (size_t i = 0; i < n; i++) {
        size_t lines = 1;
        for (const char *c = column[i].head; *c != '\0'; c++)
            lines += *c == '\n';
        most = MAX(most, column[i].head[0] != '\0' ? lines : 0);
    }
    return most > 0 ? (double) most * LEADING_MM + HEAD_PAD_MM : 0.0;
}

double
sketch_grid_height(size_t n_columns, const GridColumn column[], size_t n_rows, double row_mm)
{
    return head_height(n_columns, column) + (double) n_rows * row_mm;
}

double
sketch_grid(Sketch *sketch, double x, double y, size_t n_columns, const GridColumn column[],
            size_t n_rows, const char *const label[], double row_mm)
{
    double head = head_height(n_columns, column), width = 0.0;
    double height = sketch_grid_height(n_columns, column, n_rows, row_mm);
    for (size_t i = 0; i < n_columns; i++) {
        if (column[i].head[0] != '\0')
            sketch_bold(sketch, x + width + 1.0, y + LEADING_MM, TEXT_START, column[i].head);
        sketch_line(sketch, LINE_THIN, x + width, y, x + width, y + height);
        width += column[i].width_mm;
    }
    sketch_line(sketch, LINE_THIN, x + width, y, x + width, y + height);
    sketch_line(sketch, LINE_THIN, x, y, x + width, y);
    for (size_t row = 0; row < n_rows; row++) {
        double top = y + head + (double) row * row_mm;
        sketch_line(sketch, LINE_THIN, x, top, x + width, top);
        if (label != NULL && label[row] != NULL)
            sketch_text(sketch, x + 1.0, top + row_mm / 2 + TEXT_MM * 0.36, TEXT_START, label[row]);
    }
    sketch_line(sketch, LINE_THIN, x, y + height, x + width, y + height);
    return height;
}

void
sketch_bar(Sketch *sketch, double x, double y)
{
    sketch_line(sketch, LINE_THICK, x, y, x + 100.0, y);
    for (int i = 0; i <= 10; i++)
        sketch_line(sketch, LINE_THIN, x + 10.0 * i, y - (i % 10 == 0 ? 2.5 : 1.2), x + 10.0 * i,
                    y);
}
