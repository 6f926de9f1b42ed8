/* Readings of the water along the length. Invariant: hull and plane are to one scale; only the bars, measured less fitted,
 * are enlarged, by a round factor that is said. */
#include "draw/axes.h"
#include "draw/profile.h"

#include <math.h>

#include "base/number.h"

enum { LISTED = 24 };
#define BAR 44.0      /* of the largest that counts */
#define BAR_MOST 66.0 /* longer ones are cut */

typedef struct {
    Canvas canvas;
    const ReadingsPicture *fig;
    Frame frame;
    double factor; /* how many times larger the bars are than the boat */
    double lowest; /* end of any bar, on the sheet */
} View;

static double
round_down(double value)
{
    double ten = pow(10.0, floor(log10(value) + 1e-9));
    return value / ten >= 5.0 ? 5.0 * ten : value / ten >= 2.0 ? 2.0 * ten : ten;
}

static double
factor_of(const ReadingsPicture *fig, double scale)
{
    double most = isfinite(fig->spread_m) ? fig->spread_m : 1e-3;
    for (size_t i = 0; i < fig->readings; i++)
        if (!fig->reading[i].left_out && isfinite(fig->reading[i].misfit_m))
            most = fmax(most, fabs(fig->reading[i].misfit_m));
    return fmax(1.0, round_down(BAR / (scale * most)));
}

static const char *
side_word(double y_m)
{
    return y_m > 0.0 ? "port" : y_m < 0.0 ? "starboard" : "centreline";
}

/* Signed, in millimetres or the reader's small unit. */
static char *
misfit_text(const View *v, double misfit_m)
{
    g_autofree char *size =
        number_show(fabs(misfit_m), 0.001, Q_SMALL_LENGTH, v->canvas.how->units);
    return g_strdup_printf("%s%s", misfit_m < 0.0 ? "\u2212" : "+", size);
}

static double
bar_x(const View *v, const ReadingMark *r)
{
    double aside = r->at.y_m > 0.0 ? -4.0 : r->at.y_m < 0.0 ? 4.0 : 0.0;
    return frame_x(&v->frame, r->at.x_m) + aside;
}

static bool
cut(const View *v, const ReadingMark *r)
{
    return fabs(v->factor * r->misfit_m * v->frame.xk) > BAR_MOST;
}

static double
bar_length(const View *v, const ReadingMark *r)
{
    double length = v->factor * r->misfit_m * v->frame.xk;
    return fmin(fmax(length, -BAR_MOST), BAR_MOST);
}

static char *
reading_text(const View *v, size_t i)
{
    const ReadingMark *r = &v->fig->reading[i];
    g_autofree char *at = show(&v->canvas, r->at.x_m, Q_LENGTH);
    g_autofree char *measured = number_show(r->measured_m, 0.01, Q_LENGTH, v->canvas.how->units);
    g_autofree char *misfit = misfit_text(v, r->misfit_m);
    return g_strdup_printf("%s at %s: %s, %s%s%s", side_word(r->at.y_m), at, measured, misfit,
                           r->left_out ? ", left out" : "", cut(v, r) ? "; its bar is cut" : "");
}

static void
draw_reading(View *v, size_t i)
{
    const ReadingMark *r = &v->fig->reading[i];
    double x = bar_x(v, r), foot = frame_y(&v->frame, water_z(&v->fig->lie, r->at.x_m, 0.0));
    double end = foot - bar_length(v, r), from = frame_y(&v->frame, r->at.z_m);
    if (!isfinite(x) || !isfinite(end) || !isfinite(from))
        return;
    g_autofree char *label = reading_text(v, i);
    part_open(&v->canvas, "part", v->fig->path, "readings", label);
    draw_line(&v->canvas, "dimension", x, from, x, foot);
    draw_circle(&v->canvas, "point", x, from, 2.5);
    draw_line(&v->canvas, r->left_out ? "residual left-out" : "residual", x, foot, x, end);
    part_close(&v->canvas);
    v->lowest = fmax(v->lowest, end);
    keep_free(&v->canvas, x - 3.0, fmin(foot, end), x + 3.0, fmax(foot, end));
    keep_free(&v->canvas, x - 2.5, from - 2.5, x + 2.5, from + 2.5);
}

/* What each reading stays within, to the scale of the bars. */
static void
draw_band(View *v)
{
    double away = v->factor * v->fig->spread_m * v->frame.xk;
    if (!isfinite(away) || away > BAR_MOST)
        return;
    for (int side = -1; side <= 1; side += 2) {
        Lie lie = v->fig->lie;
        lie.origin_depth_m += side * away / v->frame.xk;
        profile_water(&v->canvas, &v->frame, "band", &lie);
    }
}

static void
tag_readings(View *v)
{
    Box bounds = profile_bounds(&v->frame, 40.0, 0.0);
    bounds.y1 = fmax(v->frame.bottom, v->lowest) + 20.0;
    for (int left_out = 1; left_out >= 0; left_out--)
        for (size_t i = 0; i < v->fig->readings && (left_out || i < LISTED); i++) {
            const ReadingMark *r = &v->fig->reading[i];
            char tag[8];
            g_snprintf(tag, sizeof tag, "%zu", i + 1);
            if (r->left_out != (left_out == 1))
                continue;
            double end =
                frame_y(&v->frame, water_z(&v->fig->lie, r->at.x_m, 0.0)) - bar_length(v, r);
            draw_tag(&v->canvas, left_out ? "tag opening-tag" : "tag", bar_x(v, r), end, tag,
                     &bounds);
        }
}

static void
list_readings(View *v, double *y)
{
    const ReadingsPicture *fig = v->fig;
    size_t hidden = 0;
    key_head(&v->canvas, y,
             fig->draughts ? "Draughts, and what is left of them"
                           : "Freeboards, and how far off the plane");
    for (size_t i = 0; i < fig->readings; i++) {
        if (i >= LISTED && !fig->reading[i].left_out) {
            hidden++;
            continue;
        }
        char tag[8];
        g_snprintf(tag, sizeof tag, "%zu", i + 1);
        g_autofree char *text = reading_text(v, i);
        key_tag(&v->canvas, fig->reading[i].left_out ? "tag opening-tag" : "tag", tag, y, text);
    }
    if (hidden > 0) {
        g_autofree char *text = g_strdup_printf("and %zu more", hidden);
        key_line(&v->canvas, "none", y, text);
    }
}

static void
lists(View *v)
{
    const ReadingsPicture *fig = v->fig;
    double y = fmax(v->frame.bottom, v->lowest) + 32.0;
    scale_bar(&v->canvas, v->frame.xk, CANVAS_MARGIN, y, 110.0);
    if (isfinite(fig->lie.origin_depth_m)) {
        g_autofree char *heel = show(&v->canvas, fabs(fig->lie.heel_rad), Q_ANGLE);
        g_autofree char *trim = show(&v->canvas, fabs(fig->lie.trim_rad), Q_ANGLE);
        g_autofree char *text =
            g_strdup_printf("the plane that fits: heel %s to %s, trim %s by the %s", heel,
                            fig->lie.heel_rad < 0.0 ? "port" : "starboard", trim,
                            fig->lie.trim_rad < 0.0 ? "stern" : "bow");
        key_line(&v->canvas, "water", &y, text);
    }
    if (fig->readings > 0) {
        g_autofree char *text = g_strdup_printf(
            "measured less fitted, %.0f times larger than the boat; up: more freeboard", v->factor);
        key_line(&v->canvas, "residual", &y, text);
    }
    if (isfinite(fig->spread_m)) {
        g_autofree char *within =
            number_show(fig->spread_m, 0.002, Q_SMALL_LENGTH, v->canvas.how->units);
        g_autofree char *text = g_strdup_printf("each was read within %s, as large", within);
        key_line(&v->canvas, "band", &y, text);
    }
    if (fig->readings > 0)
        list_readings(v, &y);
    y += 4.0;
    if (fig->caption != NULL)
        draw_paragraph(&v->canvas, "caption", CANVAS_MARGIN, &y, fig->caption);
    if (isfinite(fig->rms_m)) {
        g_autofree char *rms = number_show(fig->rms_m, 0.001, Q_SMALL_LENGTH, v->canvas.how->units);
        g_autofree char *text = g_strdup_printf("Root mean square of those that count: %s.", rms);
        draw_paragraph(&v->canvas, "caption", CANVAS_MARGIN, &y, text);
    }
}

void
draw_readings(const ReadingsPicture *fig, const DrawHow *how, Markup *svg)
{
    View v = {.fig = fig};
    Extent extent = extent_new();
    profile_take(&extent, &fig->hull, &fig->lie);
    for (size_t i = 0; i < fig->readings; i++)
        extent_take(&extent, fig->reading[i].at.x_m, NAN, fig->reading[i].at.z_m);
    canvas_begin(&v.canvas, svg, how, "group", "Readings of the water", fig->caption);
    v.frame = profile_frame(&extent, 66.0);
    v.factor = factor_of(fig, v.frame.xk);
    g_autofree char *name = fig->name != NULL ? name_plain(fig->name) : g_strdup("");
    g_autofree char *fitted = text_fitted(name, CANVAS_WIDTH - 2.0 * CANVAS_MARGIN - 20.0);
    draw_text_kept(&v.canvas, "view-name", CANVAS_MARGIN, 18.0, ANCHOR_START, fitted);
    profile_hull(&v.canvas, &v.frame, &fig->hull);
    draw_band(&v);
    profile_water(&v.canvas, &v.frame, "water", &fig->lie);
    for (size_t i = 0; i < fig->readings; i++)
        draw_reading(&v, i);
    tag_readings(&v);
    lists(&v);
    canvas_end(&v.canvas);
}
