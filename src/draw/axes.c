/* Axes, rules, the scale bar and the key. Ticks are round in the unit that is shown, not in SI. */
#include "draw/axes.h"

#include <math.h>
#include <string.h>

enum { KEY_LINES = 3 };
#define KEY_TEXT_X 44.0 /* behind the sample */
#define KEY_LINE_STEP (LINE_HEIGHT - 2.0)

static int
decimals_of(double step)
{
    int decimals = (int) ceil(-log10(step) - 1e-9);
    return decimals < 0 ? 0 : decimals > 6 ? 6 : decimals;
}

static char *
tick_text(double value, int decimals)
{
    char format[16], text[G_ASCII_DTOSTR_BUF_SIZE * 4];
    g_snprintf(format, sizeof format, "%%.%df", decimals);
    double shown = fabs(value) < 0.5 * pow(10.0, -decimals) ? 0.0 : value;
    if (fabs(shown) >= 1e9)
        g_strlcpy(format, "%.3g", sizeof format);
    g_ascii_formatd(text, sizeof text, format, fabs(shown));
    size_t whole = strspn(text, "0123456789");
    g_autoptr(GString) out = g_string_new(shown < 0.0 ? "\u2212" : "");
    for (size_t i = 0; text[i] != '\0'; i++) {
        if (i > 0 && i < whole && (whole - i) % 3 == 0)
            g_string_append(out, "\u00a0");
        g_string_append_c(out, text[i]);
    }
    return g_string_free(g_steal_pointer(&out), FALSE);
}

typedef struct {
    double first, step;
    int n, decimals;
} Ticks;

/* A circle is divided by other steps than a metre. */
static double
angle_step(double low, double high, int about, double otherwise)
{
    static const double steps[] = {10, 15, 20, 30, 45, 60, 90, 180};
    double rough = (high - low) / about;
    for (size_t i = 0; rough > 5.0 && i < G_N_ELEMENTS(steps); i++)
        if (steps[i] >= rough)
            return steps[i];
    return otherwise;
}

static Ticks
ticks_of(double low_si, double high_si, QuantityKind kind, UnitsChoice units, int about)
{
    double low = shown_value(low_si, kind, units), high = shown_value(high_si, kind, units);
    Ticks ticks = {.step = nice_step(low, high, about)};
    if (kind == Q_ANGLE)
        ticks.step = angle_step(low, high, about, ticks.step);
    ticks.first = ceil(low / ticks.step - 1e-6) * ticks.step;
    ticks.n = (int) floor((high - ticks.first) / ticks.step + 1e-6) + 1;
    ticks.n = ticks.n < 0 ? 0 : ticks.n > 40 ? 40 : ticks.n;
    ticks.decimals = decimals_of(ticks.step);
    return ticks;
}

static char *
axis_name(const char *name, QuantityKind kind, UnitsChoice units)
{
    const char *unit = kind_shown(kind, units);
    return *unit == '\0' ? g_strdup(name) : g_strdup_printf("%s, %s", name, unit);
}

void
axis_x(Canvas *canvas, const Frame *frame, QuantityKind kind, const char *name)
{
    UnitsChoice units = canvas->how->units;
    int about = (int) ((frame->right - frame->left) / 60.0);
    Ticks ticks = ticks_of(frame->x_low, frame->x_high, kind, units, about < 1 ? 1 : about);
    double last_end = -1e9;
    for (int i = 0; i < ticks.n; i++) {
        double value = ticks.first + i * ticks.step;
        double x = frame_x(frame, shown_to_si(value, kind, units));
        draw_line(canvas, "grid", x, frame->top, x, frame->bottom);
        g_autofree char *text = tick_text(value, ticks.decimals);
        double half = text_width(text) / 2;
        if (x - half < last_end + 6.0 || x + half > CANVAS_WIDTH - 1.0)
            continue;
        draw_text_kept(canvas, "tick", x, frame->bottom + 17.0, ANCHOR_MIDDLE, text);
        last_end = x + half;
    }
    draw_line(canvas, "axis", frame->left, frame->bottom, frame->right, frame->bottom);
    g_autofree char *full = axis_name(name, kind, units);
    draw_text_kept(canvas, "axis-name", frame->right, frame->bottom + 36.0, ANCHOR_END, full);
    canvas->height = fmax(canvas->height, frame->bottom + 40.0);
}

void
axis_y(Canvas *canvas, const Frame *frame, QuantityKind kind, const char *name)
{
    UnitsChoice units = canvas->how->units;
    int about = (int) ((frame->bottom - frame->top) / 36.0);
    Ticks ticks = ticks_of(frame->y_low, frame->y_high, kind, units, about < 1 ? 1 : about);
    for (int i = 0; i < ticks.n; i++) {
        double value = ticks.first + i * ticks.step;
        double y = frame_y(frame, shown_to_si(value, kind, units));
        draw_line(canvas, "grid", frame->left, y, frame->right, y);
        g_autofree char *text = tick_text(value, ticks.decimals);
        draw_text_kept(canvas, "tick", frame->left - 5.0, y + 5.0, ANCHOR_END, text);
    }
    draw_line(canvas, "axis", frame->left, frame->top, frame->left, frame->bottom);
    g_autofree char *full = axis_name(name, kind, units);
    draw_text_kept(canvas, "axis-name", CANVAS_MARGIN, frame->top - 12.0, ANCHOR_START, full);
}

/* Lines at 1, 2 and 5 of a decade. */
static void
log_grid(Canvas *canvas, const Frame *frame, bool across, double decade)
{
    static const double steps[] = {0.0, 0.30103, 0.69897};
    for (size_t i = 0; i < G_N_ELEMENTS(steps); i++) {
        if (across)
            rule_y(canvas, frame, "grid", decade + steps[i]);
        else
            rule_x(canvas, frame, "grid", decade + steps[i]);
    }
}

/* At 1, 2 and 5 of each decade where there are few of them, else at 1. */
static void
log_ticks_x(Canvas *canvas, const Frame *frame)
{
    static const double steps[] = {1.0, 2.0, 5.0};
    size_t n = frame->x_high - frame->x_low < 2.0 ? G_N_ELEMENTS(steps) : 1;
    double last_end = -1e9;
    for (double at = floor(frame->x_low); at <= frame->x_high + 1e-9; at++)
        for (size_t i = 0; i < n; i++) {
            double value = steps[i] * pow(10.0, at), x = frame_x(frame, log10(value));
            g_autofree char *text = tick_text(value, decimals_of(pow(10.0, at)));
            double half = text_width(text) / 2;
            if (x < frame->left - 0.5 || x + half > CANVAS_WIDTH || x - half < last_end + 6.0)
                continue;
            draw_text_kept(canvas, "tick", x, frame->bottom + 17.0, ANCHOR_MIDDLE, text);
            last_end = x + half;
        }
}

void
log_axis_x(Canvas *canvas, const Frame *frame, const char *name)
{
    for (double at = floor(frame->x_low); at <= frame->x_high + 1e-9; at++)
        log_grid(canvas, frame, false, at);
    log_ticks_x(canvas, frame);
    draw_line(canvas, "axis", frame->left, frame->bottom, frame->right, frame->bottom);
    draw_text_kept(canvas, "axis-name", frame->right, frame->bottom + 36.0, ANCHOR_END, name);
    canvas->height = fmax(canvas->height, frame->bottom + 40.0);
}

void
log_axis_y(Canvas *canvas, const Frame *frame, const char *name)
{
    for (double at = floor(frame->y_low); at <= frame->y_high + 1e-9; at++) {
        log_grid(canvas, frame, true, at);
        double y = frame_y(frame, at);
        g_autofree char *text = tick_text(pow(10.0, at), decimals_of(pow(10.0, at)));
        if (y <= frame->bottom + 0.5)
            draw_text_kept(canvas, "tick", frame->left - 5.0, y + 5.0, ANCHOR_END, text);
    }
    draw_line(canvas, "axis", frame->left, frame->top, frame->left, frame->bottom);
    draw_text_kept(canvas, "axis-name", CANVAS_MARGIN, frame->top - 12.0, ANCHOR_START, name);
}

void
rule_x(Canvas *canvas, const Frame *frame, const char *classes, double x)
{
    double at = frame_x(frame, x);
    if (at >= frame->left - 0.5 && at <= frame->right + 0.5)
        draw_line(canvas, classes, at, frame->top, at, frame->bottom);
}

void
rule_y(Canvas *canvas, const Frame *frame, const char *classes, double y)
{
    double at = frame_y(frame, y);
    if (at >= frame->top - 0.5 && at <= frame->bottom + 0.5)
        draw_line(canvas, classes, frame->left, at, frame->right, at);
}

double
scale_bar(Canvas *canvas, double units_per_m, double x, double y, double room)
{
    UnitsChoice units = canvas->how->units;
    double most = shown_value(room / units_per_m, Q_LENGTH, units);
    double length = nice_step(0.0, most, 1);
    while (length > most)
        length = nice_step(0.0, length / 2.5, 1);
    double width = shown_to_si(length, Q_LENGTH, units) * units_per_m;
    if (!isfinite(width))
        return 0.0;
    draw_box(canvas, "bar", x, y - 5.0, width / 2, 5.0);
    draw_box(canvas, "bar-open", x + width / 2, y - 5.0, width / 2, 5.0);
    g_autofree char *number = tick_text(length, decimals_of(length));
    g_autofree char *text = g_strdup_printf("%s %s", number, kind_shown(Q_LENGTH, units));
    draw_text_kept(canvas, "tick", x + width + 6.0, y + 1.0, ANCHOR_START, text);
    keep_free(canvas, x, y - 6.0, x + width, y);
    return width + 6.0 + text_width(text);
}

/* Few lines: a long name must not push the others out of sight. */
static GPtrArray *
key_lines(const char *text)
{
    return text_lines(text, CANVAS_WIDTH - 2.0 * CANVAS_MARGIN - KEY_TEXT_X, KEY_LINES);
}

double
key_step(const char *text)
{
    g_autoptr(GPtrArray) lines = key_lines(text);
    return LINE_HEIGHT + (lines->len - 1.0) * KEY_LINE_STEP;
}

static void
key_text(Canvas *canvas, double *y, const char *text)
{
    double x = canvas->left + CANVAS_MARGIN + KEY_TEXT_X;
    g_autoptr(GPtrArray) lines = key_lines(text);
    for (guint i = 0; i < lines->len; i++) {
        *y += i > 0 ? KEY_LINE_STEP : 0.0;
        draw_text_kept(canvas, "key", x, *y, ANCHOR_START, g_ptr_array_index(lines, i));
    }
    canvas->height = fmax(canvas->height, *y);
}

void
key_line(Canvas *canvas, const char *classes, double *y, const char *text)
{
    *y += LINE_HEIGHT;
    double x = canvas->left + CANVAS_MARGIN;
    draw_line(canvas, classes, x, *y - 5.0, x + 36.0, *y - 5.0);
    key_text(canvas, y, text);
}

void
key_box(Canvas *canvas, const char *classes, double *y, const char *text)
{
    *y += LINE_HEIGHT;
    draw_box(canvas, classes, canvas->left + CANVAS_MARGIN, *y - 12.0, 36.0, 13.0);
    key_text(canvas, y, text);
}

void
key_tag(Canvas *canvas, const char *classes, const char *tag, double *y, const char *text)
{
    *y += LINE_HEIGHT;
    Markup *svg = canvas->svg;
    double size = fmax(text_width(tag) + 6.0, 19.0);
    markup_empty(svg, "rect", "class", classes, "x",
                 markup_number(svg, canvas->left + CANVAS_MARGIN + 18.0 - size / 2), "y",
                 markup_number(svg, *y - 14.5), "width", markup_number(svg, size), "height", "18",
                 "rx", "9", NULL);
    draw_text(canvas, "tag-text", canvas->left + CANVAS_MARGIN + 18.0, *y - 0.3, ANCHOR_MIDDLE,
              tag);
    key_text(canvas, y, text);
}

void
key_head(Canvas *canvas, double *y, const char *text)
{
    *y += LINE_HEIGHT + 6.0;
    draw_text_kept(canvas, "key-head", canvas->left + CANVAS_MARGIN, *y, ANCHOR_START, text);
    canvas->height = fmax(canvas->height, *y);
}
