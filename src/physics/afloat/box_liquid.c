/* Closed forms of liquid in a leaning box.
 * Invariant: what is sliced holds at most half the box and lies in its lowest corner, from which lengths run; when there
 * is more liquid than air, that is the air, upside down. */
#include "physics/afloat/box_liquid.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#include "physics/gauss.h"

/* The surface z = d + gx x + gy y over the whole bottom, centred; d the mean depth. */
static bool
prism(const double size[static 3], const double up[static 3], double volume, BoxLiquid *out)
{
    double a = size[0], b = size[1], d = volume / (a * b);
    if (!(up[2] > 1e-6))
        return false;
    double gx = -up[0] / up[2], gy = -up[1] / up[2];
    double rise = (fabs(gx) * a + fabs(gy) * b) / 2.0;
    if (d - rise < 0.0 || d + rise > size[2])
        return false;
    double xx = a * a / 12.0, yy = b * b / 12.0;
    out->centroid_m[0] = gx * xx / d;
    out->centroid_m[1] = gy * yy / d;
    out->centroid_m[2] = d / 2.0 + (gx * gx * xx + gy * gy * yy) / (2.0 * d) - size[2] / 2.0;
    out->surface_m2 = a * b / up[2];
    const double second[6] = {xx, yy, gx * gx * xx + gy * gy * yy, 0.0, gx * xx, gy * yy};
    for (size_t i = 0; i < 6; i++)
        out->second_m4[i] = out->surface_m2 * second[i];
    return true;
}

/* The box with its axes in the order of how far its edges rise: slices follow each other along axis 0. */
typedef struct {
    size_t axis[3];
    double size[3], rise[3];
} Lean;

static Lean
lean_of(const double size[static 3], const double up[static 3])
{
    Lean lean = {.axis = {0, 1, 2}};
    for (size_t i = 1; i < 3; i++)
        for (size_t k = i; k > 0; k--) {
            size_t p = lean.axis[k - 1], q = lean.axis[k];
            if (fabs(up[q]) * size[q] < fabs(up[p]) * size[p]) {
                lean.axis[k - 1] = q;
                lean.axis[k] = p;
            }
        }
    for (size_t i = 3; i-- > 0;) {
        lean.size[i] = size[lean.axis[i]];
        lean.rise[i] = fabs(up[lean.axis[i]]) * lean.size[i];
        if (lean.rise[i] < 1e-30 * lean.rise[2]) /* level, before products run out of range */
            lean.rise[i] = 0.0;
    }
    return lean;
}

/* Where along axis 0, as a share of it, the surface stands at most `height` above the lowest corner of the slice. */
static double
share_until(const Lean *lean, double level, double height)
{
    double over = level - height;
    return over <= 0.0 ? 0.0 : over >= lean->rise[0] ? 1.0 : over / lean->rise[0];
}

/* Share of the box below a level, and how it grows with it: means of slices whose shares are s^2 / (2 m1 m2),
 * (s - m1 / 2) / m2 and 1 - t^2 / (2 m1 m2) with t = m1 + m2 - s. */
static double
share_below(const Lean *lean, double level, double *growth)
{
    const double m0 = lean->rise[0], m1 = lean->rise[1], m2 = lean->rise[2];
    double full = share_until(lean, level, m2), tall = share_until(lean, level, m1),
           wet = share_until(lean, level, 0.0);
    double share = 0.0;
    *growth = 0.0;
    if (wet > tall) {
        double a = (level - m0 * tall) / m1, b = (level - m0 * wet) / m1;
        share += (wet - tall) * (a * a + a * b + b * b) * m1 / (6.0 * m2);
        *growth += (wet - tall) * (a + b) / (2.0 * m2);
    }
    if (tall > full) {
        share += (tall - full) * (level - m0 * (full + tall) / 2.0 - m1 / 2.0) / m2;
        *growth += (tall - full) / m2;
    }
    if (full > 0.0) {
        double a = (m1 + m2 - level) / m1, b = a + m0 * full / m1;
        share += full * (1.0 - (a * a + a * b + b * b) * m1 / (6.0 * m2));
        *growth += full * (a + b) / (2.0 * m2);
    }
    return share;
}

/* Level of the surface above the lowest corner. Up to half the box the share grows ever faster, and with all slices alike
 * too much is below: from there Newton comes down without overshooting. */
static double
level_for(const Lean *lean, double share)
{
    const double m0 = lean->rise[0], m1 = lean->rise[1], m2 = lean->rise[2];
    if (6.0 * share * m1 * m2 <= m0 * m0)
        return cbrt(6.0 * share * m0 * m1 * m2); /* a tetrahedron in the corner */
    double level =
        m0 / 2.0 + (2.0 * share * m2 <= m1 ? sqrt(2.0 * share * m1 * m2) : share * m2 + m1 / 2.0);
    for (int i = 0; i < 40; i++) {
        double growth, step = (share_below(lean, level, &growth) - share) / growth;
        if (!isfinite(step))
            break;
        level -= step;
        if (step <= 1e-8 * level) /* what remains is its square */
            break;
    }
    return level;
}

/* First moments of volume and surface, second moments of the surface, all from the lowest corner, axes as in Lean. */
typedef struct {
    double volume_1[3], area, area_1[3], area_2[6];
} Moments;

/* One slice: area and its first moments, and the two ends of the surface in it. */
typedef struct {
    double area, y, z, from[2], to[2];
} Slice;

static Slice
triangle(double y, double z)
{
    double area = y * z / 2.0;
    return (Slice){area, area * y / 3.0, area * z / 3.0, {0.0, z}, {y, 0.0}};
}

static Slice
slice_at(const Lean *lean, double s)
{
    const double b = lean->size[1], c = lean->size[2], m1 = lean->rise[1], m2 = lean->rise[2];
    if (s < m1)
        return triangle(b * (s / m1), c * (s / m2));
    if (s <= m2) {
        double z0 = c * (s / m2), z1 = c * ((s - m1) / m2);
        return (Slice){b * (z0 + z1) / 2.0,
                       b * b * (z0 + 2.0 * z1) / 6.0,
                       b * (z0 * z0 + z0 * z1 + z1 * z1) / 6.0,
                       {0.0, z0},
                       {b, z1}};
    }
    double y = b * ((m1 + m2 - s) / m1), z = c * ((m1 + m2 - s) / m2);
    Slice dry = triangle(y, z);
    return (Slice){b * c - dry.area,
                   b * b * c / 2.0 - dry.area * b + dry.y,
                   b * c * c / 2.0 - dry.area * c + dry.z,
                   {b - y, c},
                   {b, c - z}};
}

static void
add_slice(Moments *sum, const Slice *slice, double x, double dx, double n2)
{
    const double p[2] = {slice->from[0], slice->from[1]}, q[2] = {slice->to[0], slice->to[1]};
    double area = dx * (q[0] - p[0]) / n2;
    double y = (p[0] + q[0]) / 2.0, z = (p[1] + q[1]) / 2.0;
    double hy = (q[0] - p[0]) / 2.0, hz = (q[1] - p[1]) / 2.0;
    sum->volume_1[0] += dx * x * slice->area;
    sum->volume_1[1] += dx * slice->y;
    sum->volume_1[2] += dx * slice->z;
    sum->area += area;
    sum->area_1[0] += area * x;
    sum->area_1[1] += area * y;
    sum->area_1[2] += area * z;
    const double second[6] = {x * x, y * y + hy * hy / 3.0, z * z + hz * hz / 3.0, x * y,
                              x * z, y * z + hy * hz / 3.0};
    for (size_t i = 0; i < 6; i++)
        sum->area_2[i] += area * second[i];
}

static Moments
moments_below(const Lean *lean, const double up[static 3], double level)
{
    const double end[4] = {0.0, share_until(lean, level, lean->rise[2]),
                           share_until(lean, level, lean->rise[1]), share_until(lean, level, 0.0)};
    Moments sum = {.area = 0.0};
    for (size_t k = 0; k < 3; k++)
        for (size_t i = 0; i < 2 && end[k + 1] > end[k]; i++) {
            double length = end[k + 1] - end[k], at = end[k] + length * gauss_2.at[i];
            Slice slice = slice_at(lean, level - lean->rise[0] * at);
            add_slice(&sum, &slice, at * lean->size[0], length * gauss_2.weight[i] * lean->size[0],
                      fabs(up[lean->axis[2]]));
        }
    return sum;
}

static void
slices(const double size[static 3], const double up[static 3], double volume, BoxLiquid *out)
{
    static const size_t pair[6][2] = {{0, 0}, {1, 1}, {2, 2}, {0, 1}, {0, 2}, {1, 2}};
    /* Where the second moment of two axes stands: xx yy zz xy xz yz. */
    static const size_t place[3][3] = {{0, 3, 4}, {3, 1, 5}, {4, 5, 2}};
    const double whole = size[0] * size[1] * size[2];
    bool air = volume > whole / 2.0;
    double part = air ? whole - volume : volume;
    Lean lean = lean_of(size, up);
    Moments sum = moments_below(&lean, up, level_for(&lean, part / whole));
    for (size_t k = 0; k < 3; k++) {
        size_t i = lean.axis[k];
        double from_middle = /* of air, that of the liquid turned about: the same sign */
            (sum.volume_1[k] - part * size[i] / 2.0) / volume;
        out->centroid_m[i] = up[i] < 0.0 ? -from_middle : from_middle;
    }
    out->surface_m2 = sum.area;
    for (size_t p = 0; p < 6; p++) {
        size_t i = pair[p][0], j = pair[p][1], to_i = lean.axis[i], to_j = lean.axis[j];
        double own =
            sum.area > 0.0 ? sum.area_2[p] - sum.area_1[i] * (sum.area_1[j] / sum.area) : 0.0;
        out->second_m4[place[to_i][to_j]] = (up[to_i] < 0.0) != (up[to_j] < 0.0) ? -own : own;
    }
}

void
box_liquid(const double size_m[static 3], const double up[static 3], double volume_m3,
           BoxLiquid *out)
{
    if (!prism(size_m, up, volume_m3, out))
        slices(size_m, up, volume_m3, out);
}
