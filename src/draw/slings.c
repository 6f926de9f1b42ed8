/* Slings, what they bear and where her weight lies between them; the first block and its load.
 * Invariant: what was placed for her, not stated, is said to be so. */
#include "draw/axes.h"
#include "draw/profile.h"

#include <math.h>

#define HOOK 46.0 /* how far the slings run above the view */

typedef struct {
    Canvas canvas;
    const SlingsPicture *fig;
    Frame frame;
} View;

static const char *const ends[] = {"aft", "fore"};

static void
draw_sling(View *v, int k)
{
    const SlingMark *s = &v->fig->sling[k];
    double bottom = profile_at(&v->fig->hull, v->fig->hull.bottom_m, s->x_m);
    double x = frame_x(&v->frame, s->x_m), top = v->frame.top - HOOK;
    double foot = isfinite(bottom) ? frame_y(&v->frame, bottom) : v->frame.bottom;
    if (!isfinite(x))
        return;
    x = fmin(fmax(x, 4.0), CANVAS_WIDTH - 4.0);
    part_open(&v->canvas, "part", "ashore", k == 0 ? "sling-aft" : "sling-fore",
              k == 0 ? "aft sling" : "fore sling");
    draw_line(&v->canvas, "sling", x, foot, x, top);
    double px[] = {x - 5, x + 5, x}, py[] = {top + 9, top + 9, top};
    draw_path(&v->canvas, "bar", 3, px, py, true);
    part_close(&v->canvas);
    keep_free(&v->canvas, x - 2.0, top, x + 2.0, foot);
}

static void
name_slings(View *v)
{
    Box bounds = profile_bounds(&v->frame, HOOK + 4.0, 0.0);
    for (int k = 0; k < 2; k++) {
        const SlingMark *s = &v->fig->sling[k];
        g_autofree char *load =
            isfinite(s->load_kg) ? show(&v->canvas, s->load_kg, Q_MASS) : g_strdup("");
        g_autofree char *text = g_strdup_printf("%s %s", ends[k], load);
        draw_label(&v->canvas, "label", frame_x(&v->frame, s->x_m) + 4.0, v->frame.top - HOOK + 8.0,
                   g_strchomp(text), &bounds);
    }
}

static void
draw_weight(View *v)
{
    const SlingsPicture *fig = v->fig;
    double x = frame_x(&v->frame, fig->g.x_m), y = frame_y(&v->frame, fig->g.z_m);
    double away = fig->lcg_spread_m * v->frame.xk;
    if (isfinite(x) && isfinite(y) && isfinite(away)) {
        draw_line(&v->canvas, "spread", x - away, y, x + away, y);
        draw_line(&v->canvas, "spread", x - away, y - 4, x - away, y + 4);
        draw_line(&v->canvas, "spread", x + away, y - 4, x + away, y + 4);
        keep_free(&v->canvas, x - away, y - 4, x + away, y + 4);
    }
    Box bounds = profile_bounds(&v->frame, 0.0, 20.0);
    draw_centre(&v->canvas, "G", x, y, &bounds);
}

static void
draw_block(View *v)
{
    const SlingsPicture *fig = v->fig;
    double x = frame_x(&v->frame, fig->block_x_m), y = frame_y(&v->frame, fig->block_z_m);
    if (!isfinite(x) || !isfinite(y))
        return;
    part_open(&v->canvas, "part", "ashore", "block", "first block");
    draw_box(&v->canvas, "bar", x - 6, y, 12, 12);
    part_close(&v->canvas);
    keep_free(&v->canvas, x - 6, y, x + 6, y + 12);
    g_autofree char *load = show(&v->canvas, fig->block_kg, Q_MASS);
    g_autofree char *text = g_strdup_printf("first block %s", load);
    Box bounds = profile_bounds(&v->frame, 0.0, 40.0);
    draw_label(&v->canvas, "label", x + 6.0, y + 10.0, text, &bounds);
}

static void
list_slings(View *v, double *y)
{
    const SlingsPicture *fig = v->fig;
    for (int k = 0; k < 2; k++) {
        const SlingMark *s = &fig->sling[k];
        if (!isfinite(s->x_m))
            continue;
        g_autofree char *at = show(&v->canvas, s->x_m, Q_LENGTH);
        g_autofree char *place = g_strdup_printf("%s sling, %s from the stern", ends[k], at);
        key_line(&v->canvas, "sling", y, place);
        if (!isfinite(s->load_kg))
            continue;
        double upper_kg = s->load_kg + (isfinite(s->spread_kg) ? s->spread_kg : 0.0);
        g_autofree char *load = show_spread(&v->canvas, s->load_kg, s->spread_kg, Q_MASS);
        g_autofree char *upper = show(&v->canvas, upper_kg, Q_MASS);
        g_autofree char *text = g_strdup_printf("%s; at most %s", load, upper);
        key_line(&v->canvas, "none", y, text);
    }
    static const char *const hold[] = {
        "", "her centre may lie outside the slings: one would go slack",
        "her centre lies outside the slings: she would tip out of them"};
    if (fig->hold != SLINGS_HOLD)
        key_line(&v->canvas, "none", y, hold[fig->hold]);
    if (fig->slings_assumed && isfinite(fig->sling[0].x_m))
        key_line(&v->canvas, "none", y, "no places were agreed: put to bear alike");
}

static void
list_weight(View *v, double *y)
{
    const SlingsPicture *fig = v->fig;
    if (isfinite(fig->mass_kg)) {
        g_autofree char *mass = show_spread(&v->canvas, fig->mass_kg, fig->mass_spread_kg, Q_MASS);
        g_autofree char *at = show_spread(&v->canvas, fig->g.x_m, fig->lcg_spread_m, Q_LENGTH);
        g_autofree char *text = g_strdup_printf("G: %s", mass);
        g_autofree char *place = g_strdup_printf("%s from the stern", at);
        key_line(&v->canvas, "spread", y, text);
        key_line(&v->canvas, "none", y, place);
    }
    if (isfinite(fig->crane_kg)) {
        g_autofree char *crane = show(&v->canvas, fig->crane_kg, Q_MASS);
        g_autofree char *text = g_strdup_printf("tell the crane %s, the upper figure", crane);
        key_line(&v->canvas, "none", y, text);
    }
}

static void
list_block(View *v, double *y)
{
    const SlingsPicture *fig = v->fig;
    if (!isfinite(fig->block_x_m) || !isfinite(fig->block_kg))
        return;
    g_autofree char *at = show(&v->canvas, fig->block_x_m, Q_LENGTH);
    g_autofree char *load = show_spread(&v->canvas, fig->block_kg, fig->block_spread_kg, Q_MASS);
    g_autofree char *place = g_strdup_printf("first block, %s from the stern", at);
    g_autofree char *text = g_strdup_printf("%s as the keel comes down", load);
    key_box(&v->canvas, "bar", y, place);
    if (fig->block_assumed)
        key_line(&v->canvas, "none", y, "nobody said which: where she touches first");
    key_line(&v->canvas, "none", y, text);
    if (isfinite(fig->left_m)) {
        g_autofree char *left = show(&v->canvas, fig->left_m, Q_LENGTH);
        g_autofree char *gm = g_strdup_printf("metacentric height left then: %s", left);
        key_line(&v->canvas, "none", y, gm);
    }
}

void
draw_slings(const SlingsPicture *fig, const DrawHow *how, Markup *svg)
{
    View v = {.fig = fig};
    Extent extent = extent_new();
    profile_take(&extent, &fig->hull, NULL);
    for (size_t i = 0; i < fig->houses; i++)
        extent_take_block(&extent, &fig->house[i]);
    extent_take(&extent, fig->g.x_m, NAN, fig->g.z_m);
    canvas_begin(&v.canvas, svg, how, "group", "Slings and first block", fig->caption);
    v.frame = profile_frame(&extent, 34.0 + HOOK);
    draw_text_kept(&v.canvas, "view-name", CANVAS_MARGIN, 18.0, ANCHOR_START,
                   "From starboard, bow to the right");
    for (size_t i = 0; i < fig->houses; i++)
        profile_house(&v.canvas, &v.frame, &fig->house[i]);
    profile_hull(&v.canvas, &v.frame, &fig->hull);
    for (int k = 0; k < 2; k++)
        draw_sling(&v, k);
    draw_weight(&v);
    name_slings(&v);
    draw_block(&v);
    double y = v.frame.bottom + 46.0;
    scale_bar(&v.canvas, v.frame.xk, CANVAS_MARGIN, y, 110.0);
    v.canvas.height = y;
    list_slings(&v, &y);
    list_weight(&v, &y);
    list_block(&v, &y);
    y += 4.0;
    if (fig->caption != NULL)
        draw_paragraph(&v.canvas, "caption", CANVAS_MARGIN, &y, fig->caption);
    canvas_end(&v.canvas);
}
