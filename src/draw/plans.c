/* Plans side by side: a small profile each, all to one scale, with how she lies written beside it.
 * Invariant: water lines are where the plan really floats; a plan that does not float shows none and says so. */
#include "draw/axes.h"
#include "draw/profile.h"

#include <math.h>

#define PROFILE_WIDTH 250.0
#define TEXT_LEFT (CANVAS_MARGIN + PROFILE_WIDTH + 14.0)
#define OVER_EACH 26.0 /* room for its name */
#define BETWEEN 16.0

typedef struct {
    Canvas canvas;
    double scale, x_low, x_high;
} View;

static void
take_plan(Extent *extent, const PlanView *plan)
{
    profile_take(extent, &plan->hull, &plan->lie);
    for (size_t i = 0; i < plan->houses; i++)
        extent_take_block(extent, &plan->house[i]);
}

/* Over her own length and a little beyond: the text stands beside it. */
static void
water_line(View *v, const Frame *frame, const PlanView *plan)
{
    if (!isfinite(plan->lie.origin_depth_m))
        return;
    double over = 0.03 * (v->x_high - v->x_low);
    double x0 = v->x_low - over, x1 = v->x_high + over;
    draw_line(&v->canvas, "water", frame_x(frame, x0), frame_y(frame, water_z(&plan->lie, x0, 0.0)),
              frame_x(frame, x1), frame_y(frame, water_z(&plan->lie, x1, 0.0)));
}

static void
angle_line(View *v, const char *what, double angle, double spread, const char *positive,
           const char *negative, double *y)
{
    g_autofree char *size = show_spread(&v->canvas, fabs(angle), spread, Q_ANGLE);
    g_autofree char *text = g_strdup_printf("%s %s", what, size);
    draw_text_kept(&v->canvas, "label", TEXT_LEFT, *y, ANCHOR_START, text);
    *y += LINE_HEIGHT;
    draw_text_kept(&v->canvas, "label", TEXT_LEFT + 14.0, *y, ANCHOR_START,
                   angle > 0.0 ? positive : negative);
    *y += LINE_HEIGHT;
}

static double
write_beside(View *v, const PlanView *plan, double y)
{
    if (!isfinite(plan->lie.origin_depth_m)) {
        draw_text_kept(&v->canvas, "label", TEXT_LEFT, y, ANCHOR_START, "does not float");
        return y;
    }
    angle_line(v, "trim", plan->trim_rad, plan->trim_spread_rad, "by the bow", "by the stern", &y);
    angle_line(v, "list", plan->list_rad, plan->list_spread_rad, "to starboard", "to port", &y);
    g_autofree char *freeboard =
        show_spread(&v->canvas, plan->freeboard_m, plan->freeboard_spread_m, Q_LENGTH);
    draw_text_kept(&v->canvas, "label", TEXT_LEFT, y, ANCHOR_START, "least freeboard");
    y += LINE_HEIGHT;
    draw_text_kept(&v->canvas, "label", TEXT_LEFT + 14.0, y, ANCHOR_START, freeboard);
    return y;
}

static double
draw_plan(View *v, const PlanView *plan, double top)
{
    g_autofree char *name = name_plain(plan->name);
    g_autofree char *fitted = text_fitted(name, CANVAS_WIDTH - 2.0 * CANVAS_MARGIN);
    part_open(&v->canvas, "part", NULL, NULL, name);
    draw_text_kept(&v->canvas, "view-name", CANVAS_MARGIN, top + 14.0, ANCHOR_START, fitted);
    double y = top + 14.0;
    if (plan->fault != NULL) {
        draw_paragraph(&v->canvas, "caption", CANVAS_MARGIN, &y, plan->fault);
        part_close(&v->canvas);
        return y;
    }
    Extent extent = extent_new();
    take_plan(&extent, plan);
    Frame frame = frame_scaled(v->scale, v->x_low, v->x_high, extent.z_low, extent.z_high,
                               CANVAS_MARGIN + 8.0, top + OVER_EACH);
    for (size_t i = 0; i < plan->houses; i++)
        profile_house(&v->canvas, &frame, &plan->house[i]);
    profile_hull(&v->canvas, &frame, &plan->hull);
    water_line(v, &frame, plan);
    double beside = write_beside(v, plan, top + OVER_EACH + 12.0);
    part_close(&v->canvas);
    return fmax(frame.bottom, beside);
}

void
draw_plans(const PlansPicture *fig, const DrawHow *how, Markup *svg)
{
    View v = {0};
    Extent all = extent_new();
    for (size_t i = 0; i < fig->plans; i++)
        take_plan(&all, &fig->plan[i]);
    v.x_low = all.x_low;
    v.x_high = all.x_high;
    v.scale = (PROFILE_WIDTH - 16.0) / range_span(all.x_low, all.x_high);
    v.scale = fmin(v.scale, 0.6 * PROFILE_WIDTH / range_span(all.z_low, all.z_high));
    canvas_begin(&v.canvas, svg, how, "group", "Plans side by side", fig->caption);
    draw_text_kept(&v.canvas, "view-name", CANVAS_MARGIN, 18.0, ANCHOR_START,
                   "From starboard, bow to the right, all to one scale");
    double y = 28.0;
    for (size_t i = 0; i < fig->plans; i++)
        y = draw_plan(&v, &fig->plan[i], y) + BETWEEN;
    scale_bar(&v.canvas, v.scale, CANVAS_MARGIN, y + 8.0, 110.0);
    y += 14.0;
    v.canvas.height = y;
    key_line(&v.canvas, "water", &y, "water line as that plan floats");
    if (fig->caption != NULL)
        draw_paragraph(&v.canvas, "caption", CANVAS_MARGIN, &y, fig->caption);
    canvas_end(&v.canvas);
}
