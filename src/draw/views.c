/* Extents, the water plane and the marks that several drawings of the boat share. */
#include "draw/views.h"

#include <math.h>
#include <string.h>

Extent
extent_new(void)
{
    return (Extent){INFINITY, -INFINITY, INFINITY, -INFINITY, INFINITY, -INFINITY};
}

static void
take(double *low, double *high, double value)
{
    if (!isfinite(value))
        return;
    *low = fmin(*low, value);
    *high = fmax(*high, value);
}

void
extent_take(Extent *extent, double x, double y, double z)
{
    take(&extent->x_low, &extent->x_high, x);
    take(&extent->y_low, &extent->y_high, y);
    take(&extent->z_low, &extent->z_high, z);
}

void
extent_take_block(Extent *extent, const Block *block)
{
    extent_take(extent, block->x_aft_m, block->y_stbd_m, block->z_low_m);
    extent_take(extent, block->x_fwd_m, block->y_port_m, block->z_high_m);
}

double
water_z(const Lie *lie, double x, double y)
{
    return (lie->origin_depth_m + x * sin(lie->trim_rad) -
            y * sin(lie->heel_rad) * cos(lie->trim_rad)) /
           (cos(lie->heel_rad) * cos(lie->trim_rad));
}

double
above_water(const Lie *lie, Spot at)
{
    return -at.x_m * sin(lie->trim_rad) +
           (at.y_m * sin(lie->heel_rad) + at.z_m * cos(lie->heel_rad)) * cos(lie->trim_rad) -
           lie->origin_depth_m;
}

void
draw_centre(Canvas *canvas, const char *letter, double x, double y, const Box *bounds)
{
    if (!isfinite(x) || !isfinite(y))
        return;
    const double r = 5.0;
    keep_free(canvas, x - r, y - r, x + r, y + r);
    draw_circle(canvas, "centre", x, y, r);
    if (*letter == 'G') {
        double qx[] = {x, x, x - r, x + r, x, x}, qy[] = {y, y - r, y, y, y + r, y};
        draw_path(canvas, "centre-fill", 6, qx, qy, true);
    } else if (*letter == 'M') {
        draw_line(canvas, "centre", x - r, y, x + r, y);
        draw_line(canvas, "centre", x, y - r, x, y + r);
    } else
        draw_circle(canvas, "centre-fill", x, y, 1.5);
    draw_label(canvas, "centre-name", x, y, letter, bounds);
}

void
draw_opening(Canvas *canvas, const char *classes, double x, double y)
{
    if (!isfinite(x) || !isfinite(y))
        return;
    const double r = 4.5;
    double px[] = {x - r, x + r, x}, py[] = {y - r, y - r, y + r};
    draw_path(canvas, classes, 3, px, py, true);
    keep_free(canvas, x - r, y - r, x + r, y + r);
}

char *
mass_text(const Canvas *canvas, const MassMark *item)
{
    g_autofree char *mass = show_spread(canvas, item->mass_kg, item->spread_kg, Q_MASS);
    const char *change = item->change == CHANGE_FITTED    ? ", to fit"
                         : item->change == CHANGE_REMOVED ? ", to remove"
                                                          : "";
    g_autofree char *name = name_plain(item->name);
    return g_strdup_printf("%s: %s, %s%s", mass, name, basis_word(item->basis), change);
}

const char *
change_class(ItemChange change)
{
    return change == CHANGE_FITTED    ? "item fitted"
           : change == CHANGE_REMOVED ? "item removed"
                                      : "item";
}

typedef struct {
    double weight;
    size_t i;
} Ranked;

static int
heavier(const void *a, const void *b)
{
    const Ranked *p = a, *q = b;
    if (p->weight != q->weight)
        return p->weight > q->weight ? -1 : 1;
    return p->i < q->i ? -1 : p->i > q->i;
}

size_t *
heaviest_first(size_t n, const double weight[])
{
    g_autofree Ranked *ranked = g_new(Ranked, n);
    for (size_t i = 0; i < n; i++)
        ranked[i] = (Ranked){isfinite(weight[i]) ? weight[i] : -1.0, i};
    if (n > 0)
        qsort(ranked, n, sizeof *ranked, heavier);
    size_t *order = g_new(size_t, n);
    for (size_t i = 0; i < n; i++)
        order[i] = ranked[i].i;
    return order;
}
