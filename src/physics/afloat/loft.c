/* Attitude of a body, and what can be read from its loft without floating it.
 * Invariant: between two stations every point of a section lies on the straight line between its
 * two ends. */
#include "physics/afloat/body.h"

#include <math.h>

WaterPlane
attitude_plane(const Attitude *at)
{
    double across = cos(at->trim_rad);
    return (WaterPlane){-sin(at->trim_rad), sin(at->heel_rad) * across, cos(at->heel_rad) * across,
                        at->origin_depth_m};
}

double
attitude_height_m(const Attitude *at, double x_m, double y_m, double z_m)
{
    double q = y_m * sin(at->heel_rad) + z_m * cos(at->heel_rad);
    return q * cos(at->trim_rad) - x_m * sin(at->trim_rad) - at->origin_depth_m;
}

double
attitude_draught_m(const Attitude *at, double x_m)
{
    return (at->origin_depth_m + x_m * sin(at->trim_rad)) / (cos(at->heel_rad) * cos(at->trim_rad));
}

/* The bay that holds x, and how far along it x lies. */
static bool
find_bay(const Loft *loft, double x_m, size_t *aft, double *share)
{
    size_t n = loft->stations;
    if (n < 2 || !(x_m >= loft->x_m[0] && x_m <= loft->x_m[n - 1]))
        return false;
    size_t low = 0, high = n - 1;
    while (high - low > 1) {
        size_t mid = low + (high - low) / 2;
        if (loft->x_m[mid] <= x_m)
            low = mid;
        else
            high = mid;
    }
    *aft = low;
    *share = (x_m - loft->x_m[low]) / (loft->x_m[high] - loft->x_m[low]);
    return true;
}

static double
along(const Loft *loft, const double *value, size_t aft, double share, size_t point)
{
    double a = value[aft * loft->points + point], b = value[(aft + 1) * loft->points + point];
    return share < 0.5 ? a + share * (b - a) : b - (1.0 - share) * (b - a);
}

bool
loft_points(const Loft *loft, double x_m, double *y_m, double *z_m)
{
    size_t aft;
    double share;
    if (!find_bay(loft, x_m, &aft, &share))
        return false;
    for (size_t j = 0; j < loft->points; j++) {
        y_m[j] = along(loft, loft->y_m, aft, share, j);
        z_m[j] = along(loft, loft->z_m, aft, share, j);
    }
    return true;
}

double
loft_deck_m(const Loft *loft, double x_m)
{
    size_t aft;
    double share;
    if (!find_bay(loft, x_m, &aft, &share))
        return NAN;
    return along(loft, loft->z_m, aft, share, loft->points - 1);
}

typedef struct {
    double area, moment, widest;
} Strip;

/* Half section below z by its edges: what lies between the edge and the line at height z. */
static void
add_edge(Strip *strip, double z, double y1, double z1, double y2, double z2)
{
    double w1 = z1 - z, w2 = z2 - z;
    bool wet1 = w1 <= 0.0, wet2 = w2 <= 0.0;
    if (wet1 != wet2) {
        double y = y1 + (y2 - y1) * w1 / (w1 - w2);
        strip->widest = fmax(strip->widest, y);
        if (wet1) {
            y2 = y;
            w2 = 0.0;
        } else {
            y1 = y;
            w1 = 0.0;
        }
    } else if (!wet1) {
        return;
    }
    if (w1 == 0.0)
        strip->widest = fmax(strip->widest, y1);
    if (w2 == 0.0)
        strip->widest = fmax(strip->widest, y2);
    double dy = y2 - y1, area = -0.5 * (w1 + w2) * dy;
    strip->area += area;
    strip->moment += z * area - dy * (w1 * w1 + w1 * w2 + w2 * w2) / 6.0;
}

bool
loft_section(const Loft *loft, double x_m, double z_m, double *area_m2, double *moment_m3,
             double *half_breadth_m)
{
    *area_m2 = *moment_m3 = *half_breadth_m = NAN;
    size_t aft;
    double share;
    if (!find_bay(loft, x_m, &aft, &share))
        return false;
    Strip strip = {0.0, 0.0, -1.0};
    double y1 = 0.0, z1 = along(loft, loft->z_m, aft, share, 0);
    for (size_t j = 0; j < loft->points; j++) {
        double y2 = along(loft, loft->y_m, aft, share, j);
        double z2 = along(loft, loft->z_m, aft, share, j);
        add_edge(&strip, z_m, y1, z1, y2, z2);
        y1 = y2;
        z1 = z2;
    }
    add_edge(&strip, z_m, y1, z1, 0.0, z1);
    *area_m2 = 2.0 * strip.area;
    *moment_m3 = 2.0 * strip.moment;
    if (strip.widest >= 0.0)
        *half_breadth_m = strip.widest;
    return true;
}

const char *
loft_fault(const Loft *loft)
{
    const double farthest =
        1e4; /* ten kilometres is no boat; keeps every product far from overflow */
    if (loft->stations < 2)
        return "a hull needs at least two stations";
    if (loft->points < 2)
        return "a station needs at least two points";
    if (!(fabs(loft->y_mid_m) <= farthest))
        return "the middle line is not a length below 10 km";
    for (size_t i = 0; i < loft->stations; i++) {
        if (!(fabs(loft->x_m[i]) <= farthest))
            return "a station's place is not a length below 10 km";
        if (i > 0 && !(loft->x_m[i] > loft->x_m[i - 1]))
            return "stations must run forward: x has to increase from station to station";
    }
    for (size_t i = 0; i < loft->stations * loft->points; i++) {
        if (!(fabs(loft->y_m[i]) <= farthest && fabs(loft->z_m[i]) <= farthest))
            return "a point is not at a length below 10 km";
        if (loft->y_m[i] < 0.0)
            return "a half-breadth is negative";
    }
    return NULL;
}

/* Whole section, the two ends of a bay mixed. */
static double
section_whole(const Loft *loft, size_t aft, double share)
{
    double y1 = 0.0, z1 = along(loft, loft->z_m, aft, share, 0), area = 0.0;
    for (size_t j = 0; j < loft->points; j++) {
        double y2 = along(loft, loft->y_m, aft, share, j),
               z2 = along(loft, loft->z_m, aft, share, j);
        area += (y1 + y2) * (z2 - z1);
        y1 = y2;
        z1 = z2;
    }
    return area;
}

double
body_volume_m3(const Body *body)
{
    double volume = 0.0;
    if (body->whole_m3 > 0.0)
        return body->whole_m3;
    for (size_t i = 0; i < body->lofts; i++) {
        const Loft *loft = &body->loft[i];
        double before = section_whole(loft, 0, 0.0);
        for (size_t k = 0; k + 1 < loft->stations; k++) {
            /* Simpson is exact: the area of a ruled section is a square in x. */
            double after = section_whole(loft, k, 1.0);
            volume += (loft->x_m[k + 1] - loft->x_m[k]) / 6.0 *
                      (before + 4.0 * section_whole(loft, k, 0.5) + after);
            before = after;
        }
    }
    for (size_t i = 0; i < body->balls; i++)
        volume += fmax(0.0, body->ball[i].volume_m3);
    return volume;
}
