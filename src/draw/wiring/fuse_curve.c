/* Time over current, both by decades: the band of the device, what the wire bears, and the currents that matter. Where the wire's
 * line runs below the upper edge of the band, the device comes too late. */
#include "base/number.h"
#include "draw/axes.h"
#include "draw/wiring/symbols.h"

#include <math.h>

#define PLOT_TOP 66.0
#define PLOT_LEFT 60.0
#define PLOT_HEIGHT 330.0
#define LEAST_S 0.01
#define MOST_S 20000.0

typedef struct {
    Canvas canvas;
    const FuseCurvePicture *fig;
    Frame frame;
} Plot;

static Frame
frame_of(const FuseCurvePicture *fig)
{
    double low = fig->n > 0 ? fig->current_A[0] : NAN, high = NAN;
    if (fig->n > 0)
        high = fig->current_A[fig->n - 1];
    if (fig->load_A > 0.2 * low)
        low = fmin(low, 0.8 * fig->load_A);
    return frame_fit(log10(low), log10(high), log10(LEAST_S), log10(MOST_S), PLOT_LEFT, PLOT_TOP,
                     CANVAS_WIDTH - CANVAS_MARGIN - PLOT_LEFT, PLOT_HEIGHT);
}

/* Cut off at the edges of the plot; NAN stays NAN. */
static double
time_y(const Plot *p, double time_s)
{
    return isnan(time_s) ? NAN : frame_y(&p->frame, log10(fmin(fmax(time_s, LEAST_S), MOST_S)));
}

static double
current_x(const Plot *p, double current_A)
{
    return frame_x(&p->frame, log10(current_A));
}

static void
draw_times(Plot *p, const char *classes, const double time_s[])
{
    size_t n = p->fig->n;
    g_autofree double *x = g_new(double, n + 1), *y = g_new(double, n + 1);
    for (size_t i = 0; i < n; i++) {
        bool inside = time_s[i] >= LEAST_S && time_s[i] <= MOST_S;
        x[i] = current_x(p, p->fig->current_A[i]);
        y[i] = inside ? time_y(p, time_s[i]) : NAN;
    }
    draw_path(&p->canvas, classes, n, x, y, false);
}

/* Between the quickest and the slowest time; upwards without end where the device need never open. */
static void
draw_band(Plot *p)
{
    const FuseCurvePicture *fig = p->fig;
    size_t n = fig->n, points = 0;
    g_autofree double *x = g_new(double, 2 * n + 1), *y = g_new(double, 2 * n + 1);
    for (size_t i = 0; i < n; i++) {
        if (isnan(fig->quickest_s[i]))
            continue;
        x[points] = current_x(p, fig->current_A[i]);
        y[points++] = time_y(p, fig->quickest_s[i]);
    }
    for (size_t i = n; i-- > 0;) {
        if (isnan(fig->quickest_s[i]))
            continue;
        x[points] = current_x(p, fig->current_A[i]);
        y[points++] = time_y(p, isnan(fig->slowest_s[i]) ? MOST_S : fig->slowest_s[i]);
    }
    draw_path(&p->canvas, "shade-40", points, x, y, true);
    draw_times(p, "guard-edge", fig->quickest_s);
    draw_times(p, "guard-edge", fig->slowest_s);
}

static bool
in_plot(const Plot *p, double current_A)
{
    return current_A > 0.0 && log10(current_A) >= p->frame.x_low &&
           log10(current_A) <= p->frame.x_high;
}

static void
draw_upright(Plot *p, const char *classes, double current_A)
{
    if (in_plot(p, current_A))
        rule_x(&p->canvas, &p->frame, classes, log10(current_A));
}

static void
draw_late(Plot *p)
{
    for (size_t i = 0; i < p->fig->lates; i++) {
        const LateRange *late = &p->fig->late[i];
        if (!in_plot(p, late->low_A) || !in_plot(p, late->high_A))
            continue;
        double x0 = current_x(p, late->low_A), x1 = current_x(p, late->high_A);
        draw_box(&p->canvas, late->spoils ? "too-late" : "too-warm", x0, p->frame.top,
                 fmax(x1 - x0, 2.0), PLOT_HEIGHT);
    }
}

/* ---- words ---- */

static char *
amperes(const Plot *p, double value)
{
    return number_show(value, 0.02 * fabs(value), Q_CURRENT, p->canvas.how->units);
}

static void
key_current(Plot *p, double *y, const char *classes, double value, const char *words)
{
    if (!isfinite(value))
        return;
    g_autofree char *shown = amperes(p, value), *text = g_strdup_printf("%s: %s", words, shown);
    key_line(&p->canvas, in_plot(p, value) ? classes : "none", y, text);
}

static void
draw_head(Plot *p)
{
    const FuseCurvePicture *fig = p->fig;
    double room = CANVAS_WIDTH - 2.0 * CANVAS_MARGIN;
    g_autofree char *name = name_plain(fig->circuit), *fitted = text_fitted(name, room);
    g_autofree char *rating = guard_text(&fig->guard), *device = name_plain(fig->guard_name);
    g_autofree char *guard = g_strdup_printf("%s, %s", device, rating);
    g_autofree char *guard_fitted = text_fitted(guard, room);
    part_open(&p->canvas, "part", fig->path, "protect", name);
    draw_text_kept(&p->canvas, "view-name", CANVAS_MARGIN, 18.0, ANCHOR_START, fitted);
    draw_text_kept(&p->canvas, "key", CANVAS_MARGIN, 37.0, ANCHOR_START, guard_fitted);
    part_close(&p->canvas);
}

static void
draw_verdict(Plot *p, double *y)
{
    const FuseCurvePicture *fig = p->fig;
    for (size_t i = 0; i < fig->lates; i++) {
        g_autofree char *low = amperes(p, fig->late[i].low_A),
                        *high = amperes(p, fig->late[i].high_A);
        bool spoils = fig->late[i].spoils;
        g_autofree char *text =
            g_strdup_printf(spoils ? "%s to %s: the wire may be spoilt before it opens"
                                   : "%s to %s: the wire may get too warm before it opens",
                            low, high);
        key_box(&p->canvas, spoils ? "too-late" : "too-warm", y, text);
    }
    if (fig->no_band != NULL)
        key_head(&p->canvas, y, "When it opens is not known");
    else if (fig->lates == 0)
        key_head(&p->canvas, y, "At every current drawn it opens in time");
}

static void
draw_notes(Plot *p, double *y)
{
    const FuseCurvePicture *fig = p->fig;
    static const char *const always = "Times of fuses and breakers are those of their standards as "
                                      "recalled: the maker's sheet goes before them.";
    *y += 6.0;
    if (fig->no_band != NULL)
        draw_paragraph(&p->canvas, "caption", CANVAS_MARGIN, y, fig->no_band);
    if (fig->caption != NULL)
        draw_paragraph(&p->canvas, "caption", CANVAS_MARGIN, y, fig->caption);
    draw_paragraph(&p->canvas, "caption", CANVAS_MARGIN, y, always);
    if (fig->lates > 0 && !fig->late[0].spoils && fig->guard.rating_A <= fig->allowed_A)
        draw_paragraph(&p->canvas, "caption", CANVAS_MARGIN, y,
                       "Rules accept this where the device is no larger than the wire bears for "
                       "long: what it lets pass a while must not last (IEC 60364-4-43).");
    if (fig->lates > 0 && fig->late[fig->lates - 1].spoils && fig->guard.kind == GUARD_BREAKER)
        draw_paragraph(
            &p->canvas, "caption", CANVAS_MARGIN, y,
            "In a dead short a breaker is far quicker than the 0.1 s its standard allows: "
            "the maker says how much it lets through (I2t).");
}

static void
draw_key(Plot *p)
{
    const FuseCurvePicture *fig = p->fig;
    double y = p->frame.bottom + 42.0;
    draw_verdict(p, &y);
    if (fig->no_band == NULL)
        key_box(&p->canvas, "shade-40", &y, "here the device opens: quickest to slowest");
    key_line(&p->canvas, "wire-warm", &y,
             "the wire, cold at first, gets as hot as it may be for long");
    key_line(&p->canvas, "wire-spoilt", &y, "a short circuit spoils its insulation");
    key_head(&p->canvas, &y, "Currents");
    key_current(p, &y, "load-current", fig->load_A, "flows in it at most");
    key_current(p, &y, "start-current", fig->start_A, "at the start of its load");
    key_current(p, &y, "allowed-current", fig->allowed_A, "the wire bears for long");
    key_current(p, &y, "far-fault", fig->far_fault_A, "dead short at its far end");
    key_current(p, &y, "near-fault", fig->fault_A, "dead short where it is fed");
    key_current(p, &y, "breaking", fig->breaking_A, "so much the device can break");
    draw_notes(p, &y);
}

void
draw_fuse_curve(const FuseCurvePicture *fig, const DrawHow *how, Markup *svg)
{
    Plot p = {.fig = fig, .frame = frame_of(fig)};
    canvas_begin(&p.canvas, svg, how, "group", "Fuse against wire", fig->caption);
    draw_head(&p);
    log_axis_x(&p.canvas, &p.frame, "current, A");
    log_axis_y(&p.canvas, &p.frame, "time, s");
    draw_late(&p);
    if (fig->no_band == NULL)
        draw_band(&p);
    draw_times(&p, "wire-warm", fig->warm_s);
    draw_times(&p, "wire-spoilt", fig->spoilt_s);
    draw_upright(&p, "load-current", fig->load_A);
    draw_upright(&p, "start-current", fig->start_A);
    draw_upright(&p, "allowed-current", fig->allowed_A);
    draw_upright(&p, "far-fault", fig->far_fault_A);
    draw_upright(&p, "near-fault", fig->fault_A);
    draw_upright(&p, "breaking", fig->breaking_A);
    draw_key(&p);
    canvas_end(&p.canvas);
}
