/* Volts lost on the way, as a stair: each piece of the way begins where the one before it ended, out above, back below, with the
 * limit as an upright line. */
#include "base/number.h"
#include "draw/axes.h"
#include "draw/wiring/symbols.h"

#include <math.h>

#define ROW 40.0
#define BAR 13.0
#define PLOT_TOP 92.0
#define PLOT_LEFT 22.0

typedef struct {
    Canvas canvas;
    const VoltagePathPicture *fig;
    Frame frame;
} Path;

static double
lost_in_all(const VoltagePathPicture *fig)
{
    double lost = 0.0;
    for (size_t i = 0; i < fig->steps; i++)
        lost += isfinite(fig->step[i].lost_V) ? fig->step[i].lost_V : 0.0;
    return lost;
}

/* From the start of the stair to past its end and past the limits, unless these are far away. */
static Frame
frame_of(const VoltagePathPicture *fig)
{
    double most = 0.0, low = 0.0, at = 0.0, to_least = fig->source_V - fig->least_V;
    for (size_t i = 0; i < fig->steps; i++) {
        at += isfinite(fig->step[i].lost_V) ? fig->step[i].lost_V : 0.0;
        most = fmax(most, at);
        low = fmin(low, at);
    }
    if (fig->allowed_V < 8.0 * most)
        most = fmax(most, fig->allowed_V);
    if (to_least < 2.0 * most)
        most = fmax(most, to_least);
    double height = (double) (fig->steps + 1) * ROW + 6.0;
    return frame_fit(low, 1.06 * most, 0.0, 1.0, PLOT_LEFT, PLOT_TOP,
                     CANVAS_WIDTH - CANVAS_MARGIN - PLOT_LEFT, height);
}

static char *
volts(const Path *p, double value)
{
    return number_show(value, fmax(0.01 * fabs(value), 0.005), Q_VOLTAGE, p->canvas.how->units);
}

static char *
step_words(const Path *p, const VoltageStep *step)
{
    g_autofree char *lost = volts(p, step->lost_V), *name = name_plain(step->name);
    static const char *const what[] = {[LOST_IN_METAL] = "wire",
                                       [LOST_IN_JOINTS] = "joints",
                                       [LOST_IN_BOTH] = "wire and joints, as measured",
                                       [LOST_IN_BOLTS] = "bolts",
                                       [LOST_OUT_AND_BACK] = "out and back"};
    return g_strdup_printf("%s  %s: %s", isfinite(step->lost_V) ? lost : "?", name,
                           step->guarded ? "joints, fuse" : what[step->in]);
}

static void
draw_step(Path *p, size_t i, double y, double *at)
{
    const VoltageStep *step = &p->fig->step[i];
    double from = frame_x(&p->frame, *at);
    *at += isfinite(step->lost_V) ? step->lost_V : 0.0;
    double to = frame_x(&p->frame, *at);
    g_autofree char *words = step_words(p, step);
    double room = CANVAS_WIDTH - CANVAS_MARGIN - PLOT_LEFT;
    g_autofree char *fitted = text_fitted(words, room);
    part_open(&p->canvas, "part", step->path, step->field, words);
    draw_text_kept(&p->canvas, "step-name", PLOT_LEFT + 4.0, y + 15.0, ANCHOR_START, fitted);
    draw_box(&p->canvas,
             step->in == LOST_IN_METAL || step->in == LOST_OUT_AND_BACK ? "loss-wire"
                                                                        : "loss-joint",
             fmin(from, to), y + 20.0, fabs(to - from), BAR);
    if (i + 1 < p->fig->steps)
        draw_line(&p->canvas, "stair", to, y + 20.0, to, y + ROW + 20.0);
    part_close(&p->canvas);
}

/* The device between the way out and the way back. */
static double
draw_device(Path *p, double y)
{
    const VoltagePathPicture *fig = p->fig;
    g_autofree char *arrive = volts(p, fig->device_V), *name = name_plain(fig->device);
    g_autofree char *words = g_strdup_printf("%s at %s", arrive, name);
    g_autofree char *fitted = text_fitted(words, CANVAS_WIDTH - CANVAS_MARGIN - PLOT_LEFT - 30.0);
    part_open(&p->canvas, "part", fig->device_path, NULL, words);
    draw_symbol(&p->canvas, NODE_OTHER_LOAD, PLOT_LEFT + 15.0, y + 22.0);
    draw_text_kept(&p->canvas, "board", PLOT_LEFT + 34.0, y + 27.0, ANCHOR_START, fitted);
    part_close(&p->canvas);
    return y + ROW;
}

static void
draw_stair(Path *p)
{
    double y = p->frame.top, at = 0.0;
    bool met = false;
    draw_line(&p->canvas, "stair", frame_x(&p->frame, 0.0), y, frame_x(&p->frame, 0.0), y + 20.0);
    for (size_t i = 0; i < p->fig->steps; i++) {
        if (p->fig->step[i].back && !met) {
            met = true;
            y = draw_device(p, y);
            double x = frame_x(&p->frame, at);
            draw_line(&p->canvas, "stair", x, y, x, y + 20.0);
        }
        draw_step(p, i, y, &at);
        y += ROW;
    }
    if (!met)
        draw_device(p, y);
}

/* Two lines above the plot: from where, and what it comes to. */
static void
draw_top(Path *p)
{
    const VoltagePathPicture *fig = p->fig;
    g_autofree char *source = name_plain(fig->source), *leave = volts(p, fig->source_V);
    g_autofree char *lost = volts(p, lost_in_all(fig));
    g_autofree char *allowed = isfinite(fig->allowed_V) ? volts(p, fig->allowed_V) : NULL;
    g_autofree char *name = name_plain(fig->device);
    double room = CANVAS_WIDTH - 2.0 * CANVAS_MARGIN;
    g_autofree char *head = text_fitted(name, room);
    g_autofree char *from = g_strdup_printf("%s at the terminals of %s", leave, source);
    g_autofree char *from_fitted = text_fitted(from, room);
    g_autofree char *sum =
        g_strdup_printf("%s lost, out and back%s%s", lost, allowed != NULL ? "; allowed: " : "",
                        allowed != NULL ? allowed : "");
    draw_text_kept(&p->canvas, "view-name", CANVAS_MARGIN, 20.0, ANCHOR_START, head);
    draw_text_kept(&p->canvas, "key", CANVAS_MARGIN, 40.0, ANCHOR_START, sum);
    draw_text_kept(&p->canvas, "key", CANVAS_MARGIN, 60.0, ANCHOR_START, from_fitted);
}

static void
draw_limits(Path *p)
{
    const VoltagePathPicture *fig = p->fig;
    rule_x(&p->canvas, &p->frame, "loss-limit", fig->allowed_V);
    rule_x(&p->canvas, &p->frame, "least-volts", fig->source_V - fig->least_V);
}

static bool
in_frame(const Path *p, double lost_V)
{
    return lost_V >= p->frame.x_low && lost_V <= p->frame.x_high;
}

static void
draw_key(Path *p)
{
    const VoltagePathPicture *fig = p->fig;
    double y = p->frame.bottom + 46.0;
    g_autofree char *least = volts(p, fig->least_V), *allowed = volts(p, fig->allowed_V);
    g_autofree char *limit = g_strdup_printf("so much may be lost: %s", allowed);
    g_autofree char *needs = g_strdup_printf("it needs %s: there it stops or suffers", least);
    key_box(&p->canvas, "loss-wire", &y, "lost in the wire");
    key_box(&p->canvas, "loss-joint", &y, "lost in joints, switch and fuse");
    if (in_frame(p, fig->allowed_V))
        key_line(&p->canvas, "loss-limit", &y, limit);
    else if (isfinite(fig->allowed_V))
        key_line(&p->canvas, "none", &y, limit);
    if (in_frame(p, fig->source_V - fig->least_V))
        key_line(&p->canvas, "least-volts", &y, needs);
    else if (isfinite(fig->least_V))
        key_line(&p->canvas, "none", &y, needs);
    y += 6.0;
    if (fig->caption != NULL)
        draw_paragraph(&p->canvas, "caption", CANVAS_MARGIN, &y, fig->caption);
}

void
draw_voltage_path(const VoltagePathPicture *fig, const DrawHow *how, Markup *svg)
{
    Path p = {.fig = fig, .frame = frame_of(fig)};
    canvas_begin(&p.canvas, svg, how, "group", "Voltage on the way", fig->caption);
    draw_top(&p);
    axis_x(&p.canvas, &p.frame, Q_VOLTAGE, "lost so far");
    draw_limits(&p);
    draw_stair(&p);
    draw_key(&p);
    canvas_end(&p.canvas);
}
