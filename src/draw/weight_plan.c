/* Bubbles by moment: the area of a disc is what the item does to the trim, mass times distance from
 * G along the length; in plan what it does to the list, mass times distance from G across. */
#include "draw/axes.h"
#include "draw/views.h"

#include <math.h>

#define WIDEST 26.0 /* radius of the greatest bubble */
#define TALLEST 170.0
enum { NAMED = 8 };

typedef struct {
    Canvas canvas;
    const WeightPlanPicture *fig;
    Frame side, plan;
    double side_per_kgm, plan_per_kgm; /* disc area by moment */
    size_t *order;
} Plan;

static Extent
extent_of(const WeightPlanPicture *fig)
{
    Extent e = extent_new();
    for (size_t i = 0; i < fig->deck_points; i++) {
        extent_take(&e, fig->deck_x_m[i], fig->deck_y_m[i], fig->deck_z_m[i]);
        extent_take(&e, NAN, -fig->deck_y_m[i], fig->bottom_z_m[i]);
    }
    for (size_t i = 0; i < fig->items; i++)
        extent_take(&e, fig->item[i].at.x_m, fig->item[i].at.y_m, fig->item[i].at.z_m);
    return e;
}

static double
moment(double mass, double at, double g)
{
    double value = fabs(mass * (at - g));
    return isfinite(value) ? value : 0.0;
}

static double
along_moment(const WeightPlanPicture *fig, size_t i)
{
    return moment(fig->item[i].mass_kg, fig->item[i].at.x_m, fig->g.x_m);
}

static double
across_moment(const WeightPlanPicture *fig, size_t i)
{
    return moment(fig->item[i].mass_kg, fig->item[i].at.y_m, fig->g.y_m);
}

/* Both views share the frame's scale, not the bubbles' one: a list moment is small beside a trim
 * moment. */
static void
lay_out(Plan *p)
{
    const WeightPlanPicture *fig = p->fig;
    Extent e = extent_of(fig);
    double long_m = range_span(e.x_low, e.x_high), high = range_span(e.z_low, e.z_high);
    double wide = range_span(e.y_low, e.y_high);
    double room = CANVAS_WIDTH - 2 * CANVAS_MARGIN - WIDEST;
    double scale = fmin(room / long_m, fmin(TALLEST / high, TALLEST / wide));
    double left = (CANVAS_WIDTH - scale * long_m) / 2;
    p->side = frame_scaled(scale, e.x_low, e.x_high, e.z_low, e.z_high, left, 56.0);
    p->plan =
        frame_scaled(scale, e.x_low, e.x_high, e.y_low, e.y_high, left, p->side.bottom + 68.0);
    double most_along = 0.0, most_across = 0.0;
    for (size_t i = 0; i < fig->items; i++) {
        most_along = fmax(most_along, along_moment(fig, i));
        most_across = fmax(most_across, across_moment(fig, i));
    }
    p->side_per_kgm = most_along > 0.0 ? WIDEST * WIDEST / most_along : 0.0;
    p->plan_per_kgm = most_across > 0.0 ? WIDEST * WIDEST / most_across : 0.0;
    g_autofree double *weight = g_new(double, fig->items);
    for (size_t i = 0; i < fig->items; i++)
        weight[i] = along_moment(fig, i);
    p->order = heaviest_first(fig->items, weight);
}

static void
outline(Plan *p)
{
    const WeightPlanPicture *fig = p->fig;
    size_t n = fig->deck_points;
    g_autofree double *x = g_new(double, 2 * n), *side = g_new(double, 2 * n);
    g_autofree double *plan = g_new(double, 2 * n);
    for (size_t i = 0; i < n; i++) {
        size_t back = 2 * n - 1 - i;
        x[i] = x[back] = frame_x(&p->side, fig->deck_x_m[i]);
        side[i] = frame_y(&p->side, fig->deck_z_m[i]);
        side[back] = frame_y(&p->side, fig->bottom_z_m[i]);
        plan[i] = frame_y(&p->plan, fig->deck_y_m[i]);
        plan[back] = frame_y(&p->plan, -fig->deck_y_m[i]);
    }
    draw_path(&p->canvas, "deck-edge", 2 * n, x, side, true);
    draw_path(&p->canvas, "deck-edge", 2 * n, x, plan, true);
}

static const char *
sure_class(Basis basis)
{
    switch (basis) {
    case BASIS_MEASURED:
    case BASIS_PLATE:
    case BASIS_MAKER:
        return "bubble sure";
    case BASIS_STATED:
    case BASIS_SELLER:
        return "bubble told";
    default:
        return "bubble guessed";
    }
}

static void
bubbles(Plan *p)
{
    for (size_t k = 0; k < p->fig->items; k++) {
        size_t i = p->order[k];
        const MassMark *item = &p->fig->item[i];
        g_autofree char *label = mass_text(&p->canvas, item);
        part_open(&p->canvas, "part", item->path, "mass", label);
        double along = sqrt(along_moment(p->fig, i) * p->side_per_kgm);
        double across = sqrt(across_moment(p->fig, i) * p->plan_per_kgm);
        double x = frame_x(&p->side, item->at.x_m);
        draw_circle(&p->canvas, sure_class(item->basis), x, frame_y(&p->side, item->at.z_m),
                    fmax(along, 2.5));
        draw_circle(&p->canvas, sure_class(item->basis), x, frame_y(&p->plan, item->at.y_m),
                    fmax(across, 2.5));
        part_close(&p->canvas);
    }
}

static void
spread_bar(Plan *p, const Frame *frame, double y)
{
    const Spot *g = &p->fig->g, *s = &p->fig->g_spread;
    if (isfinite(s->x_m) && s->x_m > 0.0) {
        double a = frame_x(frame, g->x_m - s->x_m), b = frame_x(frame, g->x_m + s->x_m);
        draw_line(&p->canvas, "spread", a, y, b, y);
        draw_line(&p->canvas, "spread", a, y - 4, a, y + 4);
        draw_line(&p->canvas, "spread", b, y - 4, b, y + 4);
    }
}

static void
centres(Plan *p)
{
    const WeightPlanPicture *fig = p->fig;
    Box side = {2, p->side.top - 24, CANVAS_WIDTH - 2, p->side.bottom + 24};
    Box plan = {2, p->plan.top - 24, CANVAS_WIDTH - 2, p->plan.bottom + 24};
    double g_side = frame_y(&p->side, fig->g.z_m), g_plan = frame_y(&p->plan, fig->g.y_m);
    spread_bar(p, &p->side, g_side);
    spread_bar(p, &p->plan, g_plan);
    draw_centre(&p->canvas, "G", frame_x(&p->side, fig->g.x_m), g_side, &side);
    draw_centre(&p->canvas, "G", frame_x(&p->plan, fig->g.x_m), g_plan, &plan);
    double x = frame_x(&p->side, fig->lcb_m), y = p->side.bottom;
    if (isfinite(x)) {
        double px[] = {x, x - 6, x + 6}, py[] = {y + 1, y + 11, y + 11};
        draw_path(&p->canvas, "support", 3, px, py, true);
        keep_free(&p->canvas, x - 6, y + 1, x + 6, y + 11);
        draw_label(&p->canvas, "centre-name", x, y + 7, "B", &side);
    }
}

static void
tags(Plan *p)
{
    Box side = {2, p->side.top - 24, CANVAS_WIDTH - 2, p->side.bottom + 24};
    Box plan = {2, p->plan.top - 24, CANVAS_WIDTH - 2, p->plan.bottom + 24};
    for (size_t k = 0; k < p->fig->items && k < NAMED; k++) {
        const MassMark *item = &p->fig->item[p->order[k]];
        char tag[8];
        g_snprintf(tag, sizeof tag, "%zu", k + 1);
        double x = frame_x(&p->side, item->at.x_m);
        draw_tag(&p->canvas, "tag", x, frame_y(&p->side, item->at.z_m), tag, &side);
        draw_tag(&p->canvas, "tag", x, frame_y(&p->plan, item->at.y_m), tag, &plan);
    }
}

static char *
arm_text(Plan *p, const MassMark *item)
{
    double arm = item->at.x_m - p->fig->g.x_m;
    if (!isfinite(arm))
        return g_strdup("");
    g_autofree char *shown = show(&p->canvas, fabs(arm), Q_LENGTH);
    return g_strdup_printf(", %s %s of G", shown, arm < 0.0 ? "aft" : "forward");
}

static void
list(Plan *p)
{
    double y = p->plan.bottom + 20.0;
    key_head(&p->canvas, &y, "What moves the trim most");
    for (size_t k = 0; k < p->fig->items && k < NAMED; k++) {
        const MassMark *item = &p->fig->item[p->order[k]];
        char tag[8];
        g_snprintf(tag, sizeof tag, "%zu", k + 1);
        g_autofree char *mass = show_spread(&p->canvas, item->mass_kg, item->spread_kg, Q_MASS);
        g_autofree char *arm = arm_text(p, item);
        g_autofree char *name = name_plain(item->name);
        g_autofree char *text = g_strdup_printf("%s: %s%s", mass, name, arm);
        key_tag(&p->canvas, "tag", tag, &y, text);
    }
    g_autofree char *total =
        show_spread(&p->canvas, p->fig->total_kg, p->fig->total_spread_kg, Q_MASS);
    g_autofree char *all = g_strdup_printf("all %zu together: %s", p->fig->items, total);
    key_line(&p->canvas, "none", &y, all);
    key_head(&p->canvas, &y, "How sure the weight is");
    key_box(&p->canvas, "bubble sure", &y, "weighed, or from plate or maker");
    key_box(&p->canvas, "bubble told", &y, "stated, or from the seller");
    key_box(&p->canvas, "bubble guessed", &y, "by eye, or a default nobody stated");
    if (p->fig->caption != NULL) {
        y += 4.0;
        draw_paragraph(&p->canvas, "caption", CANVAS_MARGIN, &y, p->fig->caption);
    }
}

void
draw_weight_plan(const WeightPlanPicture *fig, const DrawHow *how, Markup *svg)
{
    Plan p = {.fig = fig};
    canvas_begin(&p.canvas, svg, how, "group", "Weight plan", fig->caption);
    lay_out(&p);
    draw_text_kept(&p.canvas, "view-name", CANVAS_MARGIN, 18.0, ANCHOR_START,
                   "From starboard: disc area is moment along");
    draw_text_kept(&p.canvas, "view-name", CANVAS_MARGIN, p.plan.top - 34.0, ANCHOR_START,
                   "From above: disc area is moment across");
    outline(&p);
    bubbles(&p);
    centres(&p);
    tags(&p);
    list(&p);
    canvas_end(&p.canvas);
    g_free(p.order);
}
