/* Canvas, its shapes and parts. Nothing that is not finite reaches the text. */
#include "draw/canvas.h"

#include <math.h>

#include "base/number.h"

void
canvas_begin(Canvas *canvas, Markup *out, const DrawHow *how, const char *role, const char *title,
             const char *desc)
{
    *canvas = (Canvas){.out = out,
                       .svg = markup_new(),
                       .how = how,
                       .role = role,
                       .title = title,
                       .width = CANVAS_WIDTH,
                       .desc = g_strdup(desc != NULL && *desc != '\0' ? desc : title),
                       .taken = g_array_new(FALSE, FALSE, sizeof(Box))};
}

void
canvas_readout(Canvas *canvas, const Frame *frame, QuantityKind x_kind, QuantityKind y_kind)
{
    UnitsChoice units = canvas->how->units;
    canvas->frame = frame;
    canvas->ux = kind_shown(x_kind, units);
    canvas->uy = kind_shown(y_kind, units);
    canvas->fx = shown_value(1.0, x_kind, units);
    canvas->fy = shown_value(1.0, y_kind, units);
}

char *
frame_text(const Frame *frame, double fx, double fy)
{
    const double numbers[] = {frame->x0, frame->xk / fx, frame->y0, frame->yk / fy};
    g_autoptr(GString) text = g_string_new(NULL);
    for (size_t i = 0; i < G_N_ELEMENTS(numbers); i++) {
        char number[G_ASCII_DTOSTR_BUF_SIZE];
        g_ascii_formatd(number, sizeof number, "%.6g", numbers[i]);
        g_string_append_printf(text, "%s%s", i > 0 ? " " : "", number);
    }
    return g_string_free(g_steal_pointer(&text), FALSE);
}

/* Where a page's script shows what it reads off. */
static void
draw_cursor(Canvas *canvas)
{
    Markup *out = canvas->out;
    markup_open(out, "g", "class", "cursor", "aria-hidden", "true", NULL);
    markup_empty(out, "line", "y1", markup_number(out, canvas->frame->top), "y2",
                 markup_number(out, canvas->frame->bottom), NULL);
    markup_empty(out, "circle", "r", "5", NULL);
    markup_close(out);
}

double
sheet_scale(double width, double height)
{
    return fmin(277.0 / width, 190.0 / height);
}

double
best_sheet_scale(double width, double height)
{
    return fmax(sheet_scale(width, height), sheet_scale(height, width));
}

void
canvas_end(Canvas *canvas)
{
    const char *prefix = canvas->how->prefix;
    g_autofree char *title_id = g_strconcat(prefix, "-t", NULL);
    g_autofree char *desc_id = g_strconcat(prefix, "-d", NULL);
    g_autofree char *read_id =
        canvas->how->in_page && canvas->frame != NULL ? g_strconcat(prefix, "-read", NULL) : NULL;
    g_autofree char *ids = g_strconcat(title_id, " ", desc_id, NULL);
    g_autofree char *frame =
        canvas->frame != NULL ? frame_text(canvas->frame, canvas->fx, canvas->fy) : NULL;
    g_autofree char *body = markup_steal(canvas->svg);
    double height = ceil(canvas->height + CANVAS_MARGIN);
    g_autofree char *box = g_strdup_printf("0 0 %.0f %.0f", canvas->width, height);
    g_autofree char *wide_mm = NULL, *high_mm = NULL;
    if (canvas->width > CANVAS_WIDTH) {
        double scale = best_sheet_scale(canvas->width, height);
        wide_mm = g_strdup_printf("%.0fmm", canvas->width * scale);
        high_mm = g_strdup_printf("%.0fmm", height * scale);
    }

    markup_open(canvas->out, "svg", "xmlns", "http://www.w3.org/2000/svg", "class", "drawing", "id",
                prefix, "role", canvas->role, "tabindex", canvas->how->in_page ? "0" : NULL,
                "width", wide_mm, "height", high_mm, "viewBox", box, "font-size", "15",
                "aria-labelledby", ids, "aria-describedby", read_id, "data-frame", frame, "data-ux",
                frame != NULL ? canvas->ux : NULL, "data-uy", frame != NULL ? canvas->uy : NULL,
                NULL);
    markup_element(canvas->out, "title", canvas->title, "id", title_id, NULL);
    markup_element(canvas->out, "desc", canvas->desc, "id", desc_id, NULL);
    markup_raw(canvas->out, body);
    if (read_id != NULL)
        draw_cursor(canvas);
    markup_close(canvas->out);
    g_array_free(canvas->taken, TRUE);
    g_free(canvas->desc);
}

void
draw_line(Canvas *canvas, const char *classes, double x1, double y1, double x2, double y2)
{
    if (!isfinite(x1) || !isfinite(y1) || !isfinite(x2) || !isfinite(y2))
        return;
    Markup *svg = canvas->svg;
    markup_empty(svg, "line", "class", classes, "x1", markup_number(svg, x1), "y1",
                 markup_number(svg, y1), "x2", markup_number(svg, x2), "y2", markup_number(svg, y2),
                 NULL);
}

void
draw_circle(Canvas *canvas, const char *classes, double x, double y, double radius)
{
    if (!isfinite(x) || !isfinite(y) || !isfinite(radius))
        return;
    Markup *svg = canvas->svg;
    markup_empty(svg, "circle", "class", classes, "cx", markup_number(svg, x), "cy",
                 markup_number(svg, y), "r", markup_number(svg, radius), NULL);
}

void
draw_box(Canvas *canvas, const char *classes, double x, double y, double width, double height)
{
    if (!isfinite(x) || !isfinite(y) || !(width >= 0.0) || !(height >= 0.0) || !isfinite(width) ||
        !isfinite(height))
        return;
    Markup *svg = canvas->svg;
    markup_empty(svg, "rect", "class", classes, "x", markup_number(svg, x), "y",
                 markup_number(svg, y), "width", markup_number(svg, width), "height",
                 markup_number(svg, height), NULL);
}

static void
append_points(Canvas *canvas, GString *d, size_t n, const double x[], const double y[], bool closed)
{
    bool down = false;
    for (size_t i = 0; i < n; i++) {
        if (!isfinite(x[i]) || !isfinite(y[i])) {
            down = false;
            continue;
        }
        g_string_append_printf(d, "%s%s %s",
                               down         ? " "
                               : d->len > 0 ? " M"
                                            : "M",
                               markup_number(canvas->svg, x[i]), markup_number(canvas->svg, y[i]));
        down = true;
    }
    if (closed && d->len > 0)
        g_string_append(d, " Z");
}

void
draw_path(Canvas *canvas, const char *classes, size_t n, const double x[], const double y[],
          bool closed)
{
    g_autoptr(GString) d = g_string_new(NULL);
    append_points(canvas, d, n, x, y, closed);
    if (d->len > 0)
        markup_empty(canvas->svg, "path", "class", classes, "d", d->str, NULL);
}

static void
append_shown(GString *list, double value)
{
    char text[G_ASCII_DTOSTR_BUF_SIZE];
    if (list->len > 0)
        g_string_append_c(list, ' ');
    g_string_append(list, g_ascii_formatd(text, sizeof text, "%.5g", value));
}

void
draw_curve(Canvas *canvas, const Frame *frame, const char *classes, const char *name, size_t n,
           const double x[], const double y[])
{
    g_autofree double *px = g_new(double, n), *py = g_new(double, n);
    g_autoptr(GString) d = g_string_new(NULL);
    g_autoptr(GString) xs = g_string_new(NULL);
    g_autoptr(GString) ys = g_string_new(NULL);
    bool readout = canvas->frame == frame;
    for (size_t i = 0; i < n; i++) {
        px[i] = frame_x(frame, x[i]);
        py[i] = frame_y(frame, y[i]);
        if (readout && isfinite(px[i]) && isfinite(py[i])) {
            append_shown(xs, x[i] * canvas->fx);
            append_shown(ys, y[i] * canvas->fy);
        }
    }
    append_points(canvas, d, n, px, py, false);
    if (d->len > 0)
        markup_empty(canvas->svg, "path", "class", classes, "d", d->str, "data-x",
                     readout ? xs->str : NULL, "data-y", readout ? ys->str : NULL, "data-name",
                     readout && canvas->how->in_page ? name : NULL, NULL);
}

char *
show(const Canvas *canvas, double si, QuantityKind kind)
{
    double spread = 0.025 * fabs(si);
    if (kind == Q_LENGTH)
        spread = fmax(spread, 0.02);
    else if (kind == Q_ANGLE)
        spread = fmax(spread, 0.2 * G_PI / 180.0);
    return number_show(si, spread, kind, canvas->how->units);
}

/* Feet that were typed in metres are rounded; a length bears no more than the centimetre. */
char *
show_typed(const Canvas *canvas, double si, QuantityKind kind)
{
    char number[G_ASCII_DTOSTR_BUF_SIZE];
    UnitsChoice units = canvas->how->units;
    double value = shown_value(si, kind, units);
    if (kind == Q_LENGTH)
        value = round(100.0 * value) / 100.0;
    g_ascii_formatd(number, sizeof number, "%.4g", value);
    if (!(fabs(value) < 1e4) || !(fabs(value) >= 1e-3) ||
        (kind == Q_LENGTH && units == UNITS_IMPERIAL))
        return show(canvas, si, kind);
    return g_strdup_printf("%s\u00a0%s", number, kind_shown(kind, units));
}

char *
show_spread(const Canvas *canvas, double si, double spread, QuantityKind kind)
{
    if (!isfinite(spread) || spread <= 0.0)
        return show(canvas, si, kind);
    return number_show_spread(si, spread, kind, canvas->how->units);
}
