/* The curve of righting levers: port to the left, starboard to the right; the key below says what
 * each line is. */
#include "draw/axes.h"

#include <math.h>

#include "base/number.h"

#define PLOT_LEFT 58.0
#define PLOT_TOP 40.0
#define PLOT_HEIGHT 230.0
#define DEG (G_PI / 180.0)

static void
widen(double *low, double *high, double value)
{
    if (!isfinite(value))
        return;
    *low = fmin(*low, value);
    *high = fmax(*high, value);
}

/* What lies far past the last lever is no use to anybody and would squeeze the rest. */
static RightingLeverPicture
cropped(const RightingLeverPicture *fig)
{
    RightingLeverPicture part = *fig;
    double most = 90.0 * DEG + 1e-9;
    if (isfinite(fig->vanishing_rad))
        most = fmax(most, fabs(fig->vanishing_rad) + 10.0 * DEG);
    while (part.n > 0 && part.heel_rad[part.n - 1] > most)
        part.n--;
    while (part.n > 0 && part.heel_rad[0] < -most) {
        part.n--;
        part.heel_rad++;
        part.gz_m++;
        part.gz_spread_m += part.gz_spread_m != NULL;
    }
    return part;
}

static Frame
lever_frame(const RightingLeverPicture *fig)
{
    double x_low = INFINITY, x_high = -INFINITY, y_low = 0.0, y_high = 0.0;
    for (size_t i = 0; i < fig->n; i++) {
        widen(&x_low, &x_high, fig->heel_rad[i]);
        widen(&y_low, &y_high, fig->gz_m[i]);
        if (fig->gz_spread_m != NULL && isfinite(fig->gz_spread_m[i])) {
            widen(&y_low, &y_high, fig->gz_m[i] + fig->gz_spread_m[i]);
            widen(&y_low, &y_high, fig->gz_m[i] - fig->gz_spread_m[i]);
        }
    }
    double side = isfinite(fig->max_rad) && fig->max_rad < 0.0 ? -1.0 : 1.0;
    widen(&y_low, &y_high, side * fig->wind_gust_m);
    double margin = 0.08 * (y_high - y_low);
    return frame_fit(x_low, x_high, y_low - margin, y_high + margin, PLOT_LEFT, PLOT_TOP,
                     CANVAS_WIDTH - CANVAS_MARGIN - PLOT_LEFT, PLOT_HEIGHT);
}

/* Lever at any heel by straight lines between points; NAN outside. */
static double
lever_at(const RightingLeverPicture *fig, double heel)
{
    for (size_t i = 1; i < fig->n; i++) {
        double a = fig->heel_rad[i - 1], b = fig->heel_rad[i];
        if (heel >= a && heel <= b && b > a)
            return fig->gz_m[i - 1] + (fig->gz_m[i] - fig->gz_m[i - 1]) * (heel - a) / (b - a);
    }
    return NAN;
}

static void
shade(Canvas *canvas, const Frame *frame, const RightingLeverPicture *fig, const char *classes,
      double from, double to)
{
    enum { STEPS = 40 };
    double x[STEPS + 3], y[STEPS + 3];
    for (int i = 0; i <= STEPS; i++) {
        double heel = from + (to - from) * i / STEPS;
        x[i] = frame_x(frame, heel);
        y[i] = frame_y(frame, lever_at(fig, heel));
        if (!isfinite(y[i]))
            return;
    }
    x[STEPS + 1] = frame_x(frame, to);
    x[STEPS + 2] = frame_x(frame, from);
    y[STEPS + 1] = y[STEPS + 2] = frame_y(frame, 0.0);
    draw_path(canvas, classes, STEPS + 3, x, y, true);
}

static double
side_of(const RightingLeverPicture *fig)
{
    return isfinite(fig->max_rad) && fig->max_rad < 0.0 ? -1.0 : 1.0;
}

/* The first area runs to 30 degrees, the second to 40 or to where water comes in on that side. */
static double
area_end(const RightingLeverPicture *fig, double degrees)
{
    double side = side_of(fig), end = degrees * DEG;
    if (degrees > 30.0 && isfinite(fig->flooding_rad) && fig->flooding_rad * side > 0.0)
        end = fmin(end, fabs(fig->flooding_rad));
    return side * end;
}

static void
draw_areas(Canvas *canvas, const Frame *frame, const RightingLeverPicture *fig)
{
    if (!fig->areas)
        return;
    double first = area_end(fig, 30.0), second = area_end(fig, 40.0);
    if (isfinite(fig->area_30))
        shade(canvas, frame, fig, "shade-30", 0.0, first);
    if (isfinite(fig->area_30_40) && fabs(second) > fabs(first) + 1e-9)
        shade(canvas, frame, fig, "shade-40", first, second);
}

static void
draw_band(Canvas *canvas, const Frame *frame, const RightingLeverPicture *fig)
{
    if (fig->gz_spread_m == NULL || fig->n == 0)
        return;
    g_autofree double *x = g_new(double, 2 * fig->n), *y = g_new(double, 2 * fig->n);
    for (size_t i = 0; i < fig->n; i++) {
        size_t back = 2 * fig->n - 1 - i;
        x[i] = x[back] = frame_x(frame, fig->heel_rad[i]);
        y[i] = frame_y(frame, fig->gz_m[i] + fig->gz_spread_m[i]);
        y[back] = frame_y(frame, fig->gz_m[i] - fig->gz_spread_m[i]);
    }
    draw_path(canvas, "band", 2 * fig->n, x, y, true);
}

/* The slope at rest leads to GM one radian further; only the part within the plot is drawn. */
static void
draw_tangent(Canvas *canvas, const Frame *frame, const RightingLeverPicture *fig)
{
    if (!isfinite(fig->gm_m) || !isfinite(fig->list_rad) || fig->gm_m == 0.0)
        return;
    double side = side_of(fig);
    double reach = 1.0;
    double edge = side > 0.0 ? frame->x_high : frame->x_low;
    reach = fmin(reach, fabs(edge - fig->list_rad));
    double limit = side * fig->gm_m > 0.0 ? frame->y_high : frame->y_low;
    reach = fmin(reach, fabs(limit / fig->gm_m));
    draw_line(canvas, "tangent", frame_x(frame, fig->list_rad), frame_y(frame, 0.0),
              frame_x(frame, fig->list_rad + side * reach),
              frame_y(frame, side * reach * fig->gm_m));
}

static void
draw_wind(Canvas *canvas, const Frame *frame, const RightingLeverPicture *fig)
{
    double side = side_of(fig);
    rule_y(canvas, frame, "wind-steady", side * fig->wind_steady_m);
    rule_y(canvas, frame, "wind-gust", side * fig->wind_gust_m);
    rule_x(canvas, frame, "roll-back", fig->roll_back_rad);
}

static void
word_at(Canvas *canvas, const Frame *frame, double heel, double lever, const char *word)
{
    Box bounds = {frame->left + 2, frame->top + 1, frame->right - 1, frame->bottom - 2};
    double x = frame_x(frame, heel), y = frame_y(frame, lever);
    if (isfinite(x) && isfinite(y))
        draw_label(canvas, "label", x, fmin(fmax(y, frame->top + 10.0), frame->bottom - 10.0), word,
                   &bounds);
}

/* Labels keep off the curve itself. */
static void
keep_curve(Canvas *canvas, const Frame *frame, const RightingLeverPicture *fig)
{
    int steps = (int) ((frame->right - frame->left) / 6.0);
    for (int i = 0; i <= steps; i++) {
        double x = frame->left + 6.0 * i;
        double y = frame_y(frame, lever_at(fig, (x - frame->x0) / frame->xk));
        keep_free(canvas, x - 1.0, y - 2.0, x + 1.0, y + 2.0);
    }
}

static void
draw_words(Canvas *canvas, const Frame *frame, const RightingLeverPicture *fig)
{
    static const struct {
        const char *port, *starboard;
    } sides = {"to port", "to starboard"};
    if (frame->x_low < -5.0 * DEG)
        draw_text_kept(canvas, "side-name", frame->left + 4.0, frame->bottom - 6.0, ANCHOR_START,
                       sides.port);
    draw_text_kept(canvas, "side-name", frame->right - 2.0, frame->bottom - 6.0, ANCHOR_END,
                   sides.starboard);
    keep_curve(canvas, frame, fig);
    double x = frame_x(frame, fig->max_rad), y = frame_y(frame, fig->max_m * side_of(fig));
    draw_circle(canvas, "point", x, y, 3.5);
    word_at(canvas, frame, fig->max_rad, fig->max_m * side_of(fig), "greatest");
    draw_circle(canvas, "point", frame_x(frame, fig->list_rad), frame_y(frame, 0.0), 3.5);
    word_at(canvas, frame, fig->flooding_rad,
            side_of(fig) * 0.85 * fmax(fabs(frame->y_high), fabs(frame->y_low)), "water in");
    word_at(canvas, frame, fig->vanishing_rad, 0.0, "gone");
}

static void
say(Canvas *canvas, double *y, const char *classes, bool box, const char *format, const char *a,
    const char *b)
{
    g_autofree char *text = g_strdup_printf(format, a, b);
    if (box)
        key_box(canvas, classes, y, text);
    else
        key_line(canvas, classes, y, text);
}

static char *
side_angle(const Canvas *canvas, double angle)
{
    g_autofree char *number = show(canvas, fabs(angle), Q_ANGLE);
    return g_strdup_printf("%s to %s", number, angle < 0.0 ? "port" : "starboard");
}

static void
key_angles(Canvas *canvas, double *y, const RightingLeverPicture *fig)
{
    if (isfinite(fig->flooding_rad)) {
        g_autofree char *angle = side_angle(canvas, fig->flooding_rad);
        g_autofree char *name =
            name_plain(fig->flooding_name != NULL ? fig->flooding_name : "deck edge");
        say(canvas, y, "flooding", false, "water in at %s: %s", angle, name);
    }
    if (isfinite(fig->deck_edge_rad)) {
        g_autofree char *angle = side_angle(canvas, fig->deck_edge_rad);
        say(canvas, y, "deck-edge-angle", false, "deck edge under at %s%s", angle, "");
    }
    if (isfinite(fig->vanishing_rad)) {
        g_autofree char *angle = side_angle(canvas, fig->vanishing_rad);
        say(canvas, y, "vanishing", false, "no lever left at %s%s", angle, "");
    }
    if (isfinite(fig->gm_m)) {
        g_autofree char *gm = show(canvas, fig->gm_m, Q_LENGTH);
        g_autofree char *list = side_angle(canvas, fig->list_rad);
        say(canvas, y, "tangent", false, "slope at rest: GM %s; list %s", gm, list);
    }
}

static void
key_areas(Canvas *canvas, double *y, const RightingLeverPicture *fig)
{
    if (!fig->areas)
        return;
    double first = area_end(fig, 30.0), second = area_end(fig, 40.0);
    g_autofree char *to_30 = number_show(fabs(first), 2.0 * DEG, Q_ANGLE, canvas->how->units);
    g_autofree char *to_40 = show(canvas, fabs(second), Q_ANGLE);
    if (isfinite(fig->area_30)) {
        g_autofree char *area = show(canvas, fig->area_30, Q_LEVER_AREA);
        say(canvas, y, "shade-30", true, "area to %s: %s", to_30, area);
    }
    if (isfinite(fig->area_30_40) && fabs(second) > fabs(first) + 1e-9) {
        g_autofree char *area = show(canvas, fig->area_30_40, Q_LEVER_AREA);
        say(canvas, y, "shade-40", true, "area from there to %s: %s", to_40, area);
    }
}

static void
key_wind(Canvas *canvas, double *y, const RightingLeverPicture *fig)
{
    if (isfinite(fig->wind_steady_m)) {
        g_autofree char *steady = show(canvas, fig->wind_steady_m, Q_LENGTH);
        say(canvas, y, "wind-steady", false, "steady wind: %s%s", steady, "");
    }
    if (isfinite(fig->wind_gust_m)) {
        g_autofree char *gust = show(canvas, fig->wind_gust_m, Q_LENGTH);
        say(canvas, y, "wind-gust", false, "gust: %s%s", gust, "");
    }
    if (isfinite(fig->roll_back_rad)) {
        g_autofree char *roll = side_angle(canvas, fig->roll_back_rad);
        say(canvas, y, "roll-back", false, "rolls back to %s%s", roll, "");
    }
}

static void
draw_key(Canvas *canvas, const Frame *frame, const RightingLeverPicture *fig)
{
    double y = frame->bottom + 40.0;
    if (isfinite(fig->max_m)) {
        g_autofree char *max = show(canvas, fabs(fig->max_m), Q_LENGTH);
        g_autofree char *angle = side_angle(canvas, fig->max_rad);
        say(canvas, &y, "lever", false, "lever GZ; greatest %s at %s", max, angle);
    } else
        key_line(canvas, "lever", &y, "lever GZ");
    if (fig->gz_spread_m != NULL)
        key_box(canvas, "band", &y, "within this 95 times in 100");
    key_angles(canvas, &y, fig);
    key_areas(canvas, &y, fig);
    key_wind(canvas, &y, fig);
    if (fig->caption != NULL) {
        y += 4.0;
        draw_paragraph(canvas, "caption", CANVAS_MARGIN, &y, fig->caption);
    }
}

void
draw_righting_lever(const RightingLeverPicture *whole, const DrawHow *how, Markup *svg)
{
    const RightingLeverPicture part = cropped(whole), *fig = &part;
    Canvas canvas;
    Frame frame = lever_frame(fig);
    canvas_begin(&canvas, svg, how, "img", "Righting lever", fig->caption);
    canvas_readout(&canvas, &frame, Q_ANGLE, Q_LENGTH);
    axis_x(&canvas, &frame, Q_ANGLE, "heel");
    axis_y(&canvas, &frame, Q_LENGTH, "righting lever GZ");
    draw_areas(&canvas, &frame, fig);
    draw_band(&canvas, &frame, fig);
    rule_y(&canvas, &frame, "axis", 0.0);
    draw_tangent(&canvas, &frame, fig);
    draw_wind(&canvas, &frame, fig);
    rule_x(&canvas, &frame, "deck-edge-angle", fig->deck_edge_rad);
    rule_x(&canvas, &frame, "flooding", fig->flooding_rad);
    rule_x(&canvas, &frame, "vanishing", fig->vanishing_rad);
    draw_curve(&canvas, &frame, "lever", NULL, fig->n, fig->heel_rad, fig->gz_m);
    draw_words(&canvas, &frame, fig);
    draw_key(&canvas, &frame, fig);
    canvas_end(&canvas);
}
