/* What a box-shaped space takes from a loft, stretch by stretch: by the hull's own integrals where
 * the box holds the whole section, else by clipped sections. Invariant: both ways give the same
 * where both apply. */
#include "physics/afloat/compartment.h"

#include <math.h>
#include <stdlib.h>

#include "physics/afloat/section_cut.h"

const Method compartment_lost_method = {"Volume lost to a space open to the sea",
                                        "V_lost = mu * V_space",
                                        {"docs/methods/float.md 10.2", STANDING_DERIVED}};

const char *
compartment_fault(const Compartment *c)
{
    const double bound[] = {c->x_aft_m,  c->x_fwd_m,    c->y_stbd_m,
                            c->y_port_m, c->z_bottom_m, c->z_top_m};
    for (size_t i = 0; i < 6; i++)
        if (!(fabs(bound[i]) <= 1e4))
            return "a side of a compartment is not at a length below 10 km";
    if (!(c->x_aft_m < c->x_fwd_m))
        return "a compartment's aft end must lie aft of its forward end";
    if (!(c->y_stbd_m < c->y_port_m))
        return "a compartment's starboard side must lie to starboard of its port side";
    if (!(c->z_bottom_m < c->z_top_m))
        return "a compartment's bottom must lie below its top";
    if (!(c->permeability_frac > 0.0 && c->permeability_frac <= 1.0))
        return "a permeability lies above 0 and up to 100 %";
    return NULL;
}

bool
compartments_overlap(const Compartment *a, const Compartment *b)
{
    /* Bulkheads read from two drawings may differ by a hair. */
    const double hair = 1e-9;
    return a->x_aft_m < b->x_fwd_m - hair && b->x_aft_m < a->x_fwd_m - hair &&
           a->y_stbd_m < b->y_port_m - hair && b->y_stbd_m < a->y_port_m - hair &&
           a->z_bottom_m < b->z_top_m - hair && b->z_bottom_m < a->z_top_m - hair;
}

static void
clear(Cutter *c)
{
    free(c->polygon[0]);
    free(c->polygon[1]);
    free(c->aft);
    free(c->fwd);
    free(c->event);
}

static bool
make(Cutter *c, const Loft *loft, const Compartment *box, const Attitude *at)
{
    size_t ring = 2 * loft->points, room = 6 * ring + 16;
    *c = (Cutter){.loft = loft, .turn = turn_of(at), .ring = ring};
    const Turn *t = &c->turn;
    c->bound[STARBOARD] = (Bound){-1.0, 0.0, -box->y_stbd_m, 0.0};
    c->bound[PORT] = (Bound){1.0, 0.0, box->y_port_m, 0.0};
    c->bound[BOTTOM] = (Bound){0.0, -1.0, -box->z_bottom_m, 0.0};
    c->bound[TOP] = (Bound){0.0, 1.0, box->z_top_m, 0.0};
    c->bound[WATER] =
        (Bound){t->sin_heel, t->cos_heel, t->depth / t->cos_trim, t->sin_trim / t->cos_trim};
    /* Each edge against its own bounds, each edge against eight corners of bounds twice, the box's
     * corners against the water, and the two ends. */
    c->most_events = ring * (BOUNDS + 16) + 16;
    c->polygon[0] = malloc(room * sizeof(Spot));
    c->polygon[1] = malloc(room * sizeof(Spot));
    c->aft = malloc(ring * sizeof(Spot));
    c->fwd = malloc(ring * sizeof(Spot));
    c->event = malloc(c->most_events * sizeof(double));
    if (c->polygon[0] && c->polygon[1] && c->aft && c->fwd && c->event)
        return true;
    clear(c);
    return false;
}

/* Whole section at x, starboard deck edge first. */
static void
take_section(const Loft *loft, size_t aft, double x, Spot out[])
{
    size_t n = loft->points;
    double share = (x - loft->x_m[aft]) / (loft->x_m[aft + 1] - loft->x_m[aft]);
    for (size_t j = 0; j < n; j++) {
        size_t a = aft * n + j, b = a + n;
        double y = loft->y_m[a] + share * (loft->y_m[b] - loft->y_m[a]);
        double z = loft->z_m[a] + share * (loft->z_m[b] - loft->z_m[a]);
        out[n - 1 - j] = (Spot){loft->y_mid_m - y, z};
        out[n + j] = (Spot){loft->y_mid_m + y, z};
    }
}

typedef struct {
    double low_y, high_y, low_z, high_z;
} Reach;

static Reach
reach_of(const Cutter *c)
{
    Reach r = {INFINITY, -INFINITY, INFINITY, -INFINITY};
    for (size_t j = 0; j < 2 * c->ring; j++) {
        Spot p = j < c->ring ? c->aft[j] : c->fwd[j - c->ring];
        r.low_y = fmin(r.low_y, p.y);
        r.high_y = fmax(r.high_y, p.y);
        r.low_z = fmin(r.low_z, p.z);
        r.high_z = fmax(r.high_z, p.z);
    }
    return r;
}

static void
set_scale(Cutter *c, const Reach *r)
{
    double b = r->high_y - r->low_y, h = r->high_z - r->low_z;
    double y = fmax(fabs(r->low_y), fabs(r->high_y)), z = fmax(fabs(r->low_z), fabs(r->high_z));
    double across = y + z, x = fabs(c->from) + c->length, area = (b + h) * (b + h);
    double v = area * c->length, a = (b + h) * c->length;
    const double scale[SUMS] = {v,     v * x,     v * across, v * across,     a,
                                a * x, a * x * x, a * across, a * x * across, a * across * across};
    for (size_t i = 0; i < SUMS; i++)
        c->scale[i] = scale[i];
}

static void
add_sums(const Turn *t, const double s[SUMS], double share, Immersed *out)
{
    double q = s[S_VW] + (t->depth * s[S_V] + t->sin_trim * s[S_VX]) / t->cos_trim;
    double plane = share / t->cos_trim;
    out->volume_m3 += share * s[S_V];
    out->x_m4 += share * s[S_VX];
    out->y_m4 += share * (s[S_VU] * t->cos_heel + q * t->sin_heel);
    out->z_m4 += share * (q * t->cos_heel - s[S_VU] * t->sin_heel);
    out->plane_m2 += plane * s[S_A];
    out->plane_X_m3 += plane * s[S_AX];
    out->plane_Y_m3 += plane * s[S_AY];
    out->plane_XX_m4 += plane * s[S_AXX];
    out->plane_YY_m4 += plane * s[S_AYY];
    out->plane_XY_m4 += plane * s[S_AXY];
}

/* The box holds the whole stretch of hull: the hull's own integrals, which are exact and quick. */
static void
add_whole(const Cutter *c, const Compartment *box, const Attitude *at, Immersed *out)
{
    const Loft *loft = c->loft;
    size_t n = loft->points;
    const double x[2] = {c->from, c->from + c->length};
    double *y = (double *) c->polygon[0], *z = (double *) c->polygon[1];
    for (size_t j = 0; j < n; j++) {
        y[j] = c->aft[n + j].y - loft->y_mid_m;
        z[j] = c->aft[n + j].z;
        y[n + j] = c->fwd[n + j].y - loft->y_mid_m;
        z[n + j] = c->fwd[n + j].z;
    }
    const Loft part = {2, n, x, y, z, loft->y_mid_m};
    const Body body = {.lofts = 1, .loft = &part};
    Immersed in;
    body_immersed(&body, at, &in);
    double *to = (double *) out;
    const double *from = (const double *) &in;
    for (size_t i = 0; i < sizeof in / sizeof(double); i++)
        to[i] += box->permeability_frac * from[i];
}

/* The hull there, or the box there, lies above the water. */
static bool
is_dry(const Cutter *c, const Compartment *box)
{
    const Turn *t = &c->turn;
    double hull = INFINITY, space = INFINITY;
    for (size_t i = 0; i < 2; i++) {
        double level = turn_level(t, c->from + (double) i * c->length);
        const Spot *p = i == 0 ? c->aft : c->fwd;
        for (size_t j = 0; j < c->ring; j++)
            hull = fmin(hull, p[j].y * t->sin_heel + p[j].z * t->cos_heel - level);
        for (size_t j = 0; j < 4; j++)
            space = fmin(space, (j & 1 ? box->y_stbd_m : box->y_port_m) * t->sin_heel +
                                    (j & 2 ? box->z_bottom_m : box->z_top_m) * t->cos_heel - level);
    }
    return hull >= 0.0 || space >= 0.0;
}

static void
add_stretch(Cutter *c, const Compartment *box, const Attitude *at, Immersed *out)
{
    Reach r = reach_of(c);
    if (r.low_y >= box->y_port_m || r.high_y <= box->y_stbd_m || r.low_z >= box->z_top_m ||
        r.high_z <= box->z_bottom_m)
        return;
    if (r.low_y >= box->y_stbd_m && r.high_y <= box->y_port_m && r.low_z >= box->z_bottom_m &&
        r.high_z <= box->z_top_m) {
        add_whole(c, box, at, out);
        return;
    }
    if (is_dry(c, box))
        return;
    set_scale(c, &r);
    double sum[SUMS] = {0};
    section_cut_integrate(c, sum);
    add_sums(&c->turn, sum, box->permeability_frac, out);
}

bool
compartment_lost(const Loft *loft, const Compartment *box, const Attitude *at, Immersed *lost)
{
    Cutter c;
    if (!make(&c, loft, box, at))
        return false;
    for (size_t k = 0; k + 1 < loft->stations; k++) {
        double from = fmax(loft->x_m[k], box->x_aft_m), to = fmin(loft->x_m[k + 1], box->x_fwd_m);
        if (!(from < to))
            continue;
        c.from = from;
        c.length = to - from;
        take_section(loft, k, from, c.aft);
        take_section(loft, k, to, c.fwd);
        add_stretch(&c, box, at, lost);
    }
    clear(&c);
    return true;
}

double
compartment_volume_m3(const Loft *loft, const Compartment *box)
{
    /* Water just above all there is. */
    double high = -INFINITY;
    for (size_t i = 0; i < loft->stations * loft->points; i++)
        high = fmax(high, loft->z_m[i]);
    const Attitude drowned = {.origin_depth_m = high + 1.0};
    Immersed all = {0};
    return compartment_lost(loft, box, &drowned, &all) ? all.volume_m3 : NAN;
}
