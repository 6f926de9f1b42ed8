/* Points at one thing in profile and plan: a ring with arrows around a place, a frame around a block, arrows at a station. What
 * it is stands beside it in profile, and in the list.
 * Invariant: the shape says it, not the colour. */
#include "draw/arrangement.h"

#include <math.h>
#include <string.h>

#define RING 10.0
#define NAME_WIDTH 190.0

typedef struct {
    const char *name;
    const Block *block; /* or */
    Spot at;            /* y and z NAN: all of the breadth and the height */
} Target;

/* The path itself, or a field below it. */
static bool
names(const char *mark, const char *path)
{
    size_t n = path != NULL ? strlen(path) : 0;
    return n > 0 && strncmp(mark, path, n) == 0 && (mark[n] == '\0' || mark[n] == '.');
}

static bool
find_block(const ArrangementPicture *fig, const char *mark, Target *target)
{
    const Block *found = NULL;
    for (size_t i = 0; i < fig->tanks; i++)
        if (names(mark, fig->tank[i].block.path))
            found = &fig->tank[i].block;
    for (size_t i = 0; i < fig->spaces; i++)
        if (names(mark, fig->space[i].path))
            found = &fig->space[i];
    for (size_t i = 0; i < fig->houses; i++)
        if (names(mark, fig->house[i].path))
            found = &fig->house[i];
    if (found != NULL)
        *target = (Target){found->name, found, {NAN, NAN, NAN}};
    return found != NULL;
}

static bool
find_mass(size_t n, const MassMark all[], const char *mark, Target *target)
{
    for (size_t i = 0; i < n; i++)
        if (names(mark, all[i].path)) {
            *target = (Target){all[i].name, NULL, all[i].at};
            return true;
        }
    return false;
}

static bool
find_place(const ArrangementPicture *fig, const char *mark, Target *target)
{
    if (find_mass(fig->items, fig->item, mark, target) ||
        find_mass(fig->balls, fig->ball, mark, target))
        return true;
    for (size_t i = 0; i < fig->openings; i++)
        if (names(mark, fig->opening[i].path)) {
            *target = (Target){fig->opening[i].name, NULL, fig->opening[i].at};
            return true;
        }
    for (size_t i = 0; i < fig->stations; i++)
        if (names(mark, fig->station[i].path)) {
            *target = (Target){fig->station[i].name, NULL, {fig->station[i].x_m, NAN, NAN}};
            return true;
        }
    return false;
}

static bool
find(const ArrangementPicture *fig, const char *mark, Target *target)
{
    return mark != NULL && (find_block(fig, mark, target) ||
                            (find_place(fig, mark, target) && isfinite(target->at.x_m)));
}

bool
arrangement_has(const ArrangementPicture *fig, const char *path)
{
    Target target;
    return find(fig, path, &target);
}

/* An arrow head whose tip is at x, y and which flies along dx, dy. */
static void
arrow(Canvas *c, double x, double y, double dx, double dy)
{
    const double length = 9.0, half = 4.0;
    double px[] = {x, x - length * dx - half * dy, x - length * dx + half * dy};
    double py[] = {y, y - length * dy + half * dx, y - length * dy - half * dx};
    draw_path(c, "mark-arrow", 3, px, py, true);
}

static void
ring(Canvas *c, double x, double y)
{
    draw_circle(c, "mark-halo", x, y, RING);
    draw_circle(c, "mark", x, y, RING);
    for (int k = 0; k < 4; k++) {
        double turn = G_PI / 4.0 + k * G_PI / 2.0, dx = cos(turn), dy = sin(turn);
        arrow(c, x + (RING + 1.0) * dx, y + (RING + 1.0) * dy, -dx, -dy);
    }
    keep_free(c, x - RING - 7.0, y - RING - 7.0, x + RING + 7.0, y + RING + 7.0);
}

static void
box(Canvas *c, double x, double y, double width, double height)
{
    draw_box(c, "mark-halo", x, y, width, height);
    draw_box(c, "mark", x, y, width, height);
    arrow(c, x + width / 2, y - 1.0, 0.0, 1.0);
    arrow(c, x + width / 2, y + height + 1.0, 0.0, -1.0);
}

static void
line(Canvas *c, double x, double top, double bottom)
{
    draw_line(c, "mark-halo", x, top, x, bottom);
    draw_line(c, "mark", x, top, x, bottom);
    arrow(c, x, top - 1.0, 0.0, 1.0);
    arrow(c, x, bottom + 1.0, 0.0, -1.0);
    keep_free(c, x - 4.0, top - 10.0, x + 4.0, top);
    keep_free(c, x - 4.0, bottom, x + 4.0, bottom + 10.0);
}

static void
point_in(Arrangement *a, const Target *target, SeenFrom seen, const char *name)
{
    const Frame *f = seen == SEEN_FROM_SIDE ? &a->profile : &a->plan;
    Canvas *c = &a->canvas;
    double x = frame_x(f, target->at.x_m),
           up = seen == SEEN_FROM_SIDE ? target->at.z_m : target->at.y_m;
    double y = f->top + 4.0;
    if (target->block != NULL) {
        Walls w = arrangement_walls(a, target->block);
        double top = frame_y(f, seen == SEEN_FROM_SIDE ? w.z1 : w.y1);
        double bottom = frame_y(f, seen == SEEN_FROM_SIDE ? w.z0 : w.y0);
        double left = frame_x(f, w.x0), right = frame_x(f, w.x1);
        box(c, left, top, right - left, bottom - top);
        x = (left + right) / 2;
        y = top;
    } else if (isfinite(up)) {
        y = fmax(frame_y(f, up), f->top);
        ring(c, x, y);
    } else
        line(c, x, f->top, f->bottom);
    Box bounds = {2.0, f->top - 26.0, CANVAS_WIDTH - 2.0, f->bottom}; /* balloons stand below */
    if (name != NULL)
        draw_label(c, "mark-name", x, y, name, &bounds);
}

void
arrangement_point(Arrangement *a)
{
    Target target;
    if (!find(a->fig, a->canvas.how->mark, &target))
        return;
    g_autofree char *plain = name_plain(target.name);
    g_autofree char *name = text_fitted(plain, NAME_WIDTH);
    point_in(a, &target, SEEN_FROM_SIDE, name);
    point_in(a, &target, SEEN_FROM_ABOVE, NULL);
    const char *how = target.block != NULL      ? "In the frame"
                      : isfinite(target.at.z_m) ? "In the ring"
                                                : "At the arrows";
    g_autofree char *said = g_strdup_printf("%s: %s", how, plain);
    a->marked = text_fitted(said, CANVAS_WIDTH - 2 * CANVAS_MARGIN);
}
