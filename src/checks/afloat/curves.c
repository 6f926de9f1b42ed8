/* The governing case (least GM), its righting levers to both sides, where water comes in, and how much weight on the stern
 * brings the first inlet under.
 * Invariant: port is the curve of the mirrored boat turned back, so both sides come from one routine. */
#include <math.h>

#include "checks/afloat/afloat.h"

#define DEG (G_PI / 180.0)
#define STERN_PLACE_M 0.5
#define STERN_HIGH_M 0.76

typedef struct {
    Body body;
    Load load;
    Loft *lofts;
    Ball *balls;
    Tank *tanks;
} Mirrored;

static void
mirror(const Body *body, const Load *load, Mirrored *out)
{
    out->lofts = g_memdup2(body->loft, body->lofts * sizeof *body->loft);
    out->balls = g_memdup2(body->ball, body->balls * sizeof *body->ball);
    out->tanks = g_memdup2(load->tank, load->tanks * sizeof *load->tank);
    for (size_t i = 0; i < body->lofts; i++)
        out->lofts[i].y_mid_m = -out->lofts[i].y_mid_m;
    for (size_t i = 0; i < body->balls; i++)
        out->balls[i].y_m = -out->balls[i].y_m;
    for (size_t i = 0; i < load->tanks; i++) {
        out->tanks[i].y_stbd_m = -load->tank[i].y_port_m;
        out->tanks[i].y_port_m = -load->tank[i].y_stbd_m;
    }
    out->body = (Body){body->lofts, body->balls, out->lofts, out->balls, body->whole_m3};
    out->load = *load;
    out->load.tcg_m = -load->tcg_m;
    out->load.tank = out->tanks;
}

static void
mirror_clear(Mirrored *m)
{
    g_free(m->lofts);
    g_free(m->balls);
    g_free(m->tanks);
}

/* By 1 degree for pictures, papers and workings; else by 5 degrees as far as the rules look, and wider behind. */
static void
curve_heels(LeverCurve *curve, bool fine)
{
    enum { BY_5 = 13, BY_15 = 8 }; /* 0 to 60, 75 to 180 */
    curve->n = fine ? 181 : BY_5 + BY_15;
    curve->heel_rad = g_new(double, curve->n);
    curve->gz_m = g_new(double, curve->n);
    curve->trim_rad = g_new(double, curve->n);
    curve->depth_m = g_new(double, curve->n);
    for (size_t i = 0; i < curve->n; i++) {
        double deg = fine       ? (double) i
                     : i < BY_5 ? 5.0 * (double) i
                                : 60.0 + 15.0 * (double) (i - BY_5 + 1);
        curve->heel_rad[i] = deg * DEG;
    }
}

static void
turn_back(LeverCurve *curve)
{
    for (size_t i = 0; i < curve->n; i++) {
        curve->heel_rad[i] = -curve->heel_rad[i];
        curve->gz_m[i] = -curve->gz_m[i];
    }
}

static void
first_flooding_of(Afloat *afloat, const Inlet *inlet, double x_m, double y_m, double z_m)
{
    const Case *c = afloat->governing;
    int side = 0;
    double limit = isfinite(afloat->flooding_rad) ? afloat->flooding_rad
                                                  : G_PI / 2.0; /* later ones do not matter */
    double heel = point_floods_rad(&afloat->body, &c->load, afloat->density_kg_per_m3,
                                   &afloat->starboard, &afloat->port, x_m, y_m, z_m, limit, &side);
    if (isfinite(heel) && !(heel >= afloat->flooding_rad)) {
        afloat->flooding_rad = heel;
        afloat->flooding_inlet = inlet;
        afloat->flooding_side = side;
    }
}

static void
find_flooding(Afloat *afloat)
{
    const Loft *hull = afloat->hull;
    size_t stride = 1 + hull->stations / 40; /* the edge runs smoothly between so many */
    for (guint i = 0; i < afloat->inlets->len; i++) {
        const Inlet *inlet = &g_array_index(afloat->inlets, Inlet, i);
        if (!inlet_floods(inlet))
            continue;
        if (!inlet->edge) {
            first_flooding_of(afloat, inlet, inlet->x_m, inlet->y_m, inlet->z_m);
            continue;
        }
        for (size_t s = 0; s < hull->stations; s += stride) {
            size_t edge = (s + 1) * hull->points - 1;
            first_flooding_of(afloat, inlet, hull->x_m[s], hull->y_m[edge], hull->z_m[edge]);
            first_flooding_of(afloat, inlet, hull->x_m[s], -hull->y_m[edge], hull->z_m[edge]);
        }
    }
}

/* Area up to 40 degrees by trapezia, only to tell the weaker side. */
static double
rough_area(const LeverCurve *curve)
{
    double area = 0.0;
    for (size_t i = 0; i + 1 < curve->n && fabs(curve->heel_rad[i + 1]) < 41.0 * DEG; i++)
        area += (curve->gz_m[i] + curve->gz_m[i + 1]) / 2.0 *
                (curve->heel_rad[i + 1] - curve->heel_rad[i]);
    return area;
}

static void
draw_curves(Afloat *afloat)
{
    const Case *c = afloat->governing;
    double density = afloat->density_kg_per_m3;
    Mirrored other;
    mirror(&afloat->body, &c->load, &other);
    curve_heels(&afloat->starboard, afloat->fine);
    curve_heels(&afloat->port, afloat->fine);
    lever_curve(&afloat->body, &c->load, density, true, 0.0, &afloat->starboard);
    lever_curve(&other.body, &other.load, density, true, 0.0, &afloat->port);
    turn_back(&afloat->port);
    find_flooding(afloat);

    double flooding = isfinite(afloat->flooding_rad) ? afloat->flooding_rad : INFINITY;
    afloat->facts_side = rough_area(&afloat->port) < rough_area(&afloat->starboard) ? -1 : 1;
    if (afloat->facts_side > 0) {
        lever_facts(&afloat->body, &c->load, density, true, &afloat->starboard, flooding,
                    afloat->fine, &afloat->facts);
    } else {
        turn_back(&afloat->port);
        lever_facts(&other.body, &other.load, density, true, &afloat->port, flooding, afloat->fine,
                    &afloat->facts);
        turn_back(&afloat->port);
    }
    mirror_clear(&other);
}

static double
lowest_inlet_m(const Afloat *afloat, const Case *c, const Inlet **which)
{
    double lowest = INFINITY;
    for (guint i = 0; i < afloat->inlets->len; i++) {
        const Inlet *inlet = &g_array_index(afloat->inlets, Inlet, i);
        double height = inlet_height_m(inlet, c);
        if (inlet_floods(inlet) && height < lowest) {
            lowest = height;
            *which = inlet;
        }
    }
    return lowest;
}

/* Height of the lowest inlet with extra mass on the stern; -INFINITY when she then finds no rest. */
static double
lowest_with_load_m(const Afloat *afloat, const Case *from, double extra_kg, const Inlet **which,
                   Case *loaded)
{
    double x = fmax(0.0, afloat->hull->x_m[0]) + STERN_PLACE_M;
    double z = loft_deck_m(afloat->hull, x) + STERN_HIGH_M;
    double mass = from->load.mass_kg + extra_kg;
    *loaded = *from;
    loaded->load.mass_kg = mass;
    loaded->load.lcg_m = (from->load.mass_kg * from->load.lcg_m + extra_kg * x) / mass;
    loaded->load.tcg_m = from->load.mass_kg * from->load.tcg_m / mass;
    loaded->load.vcg_m = (from->load.mass_kg * from->load.vcg_m + extra_kg * z) / mass;
    if (rest_find_from(&afloat->upright, &afloat->body, &loaded->load, afloat->density_kg_per_m3,
                       &loaded->rest) == REFUSED)
        return -INFINITY;
    side_lines(afloat->hull, &loaded->rest.at, &loaded->side);
    return lowest_inlet_m(afloat, loaded, which);
}

/* The uncrowded case in which the lowest inlet stands lowest: where the owner would add weight without thinking of it. */
static const Case *
stern_case(const Afloat *afloat)
{
    const Case *worst = NULL;
    double worst_m = INFINITY;
    for (guint i = 0; i < afloat->cases->len; i++) {
        const Case *c = g_ptr_array_index(afloat->cases, i);
        const Inlet *which = NULL;
        if (!case_floats(c) || c->crowded)
            continue;
        double height = lowest_inlet_m(afloat, c, &which);
        if (height < worst_m) {
            worst_m = height;
            worst = c;
        }
    }
    return worst;
}

static void
find_stern_load(Afloat *afloat)
{
    const Case *c = stern_case(afloat);
    afloat->stern_load_kg = NAN;
    afloat->stern_case = c;
    if (c == NULL)
        return;
    Case loaded;
    const Inlet *which = NULL;
    double low = 0.0, high = 50.0, most = c->load.mass_kg;
    if (lowest_inlet_m(afloat, c, &which) <= 0.0) {
        afloat->stern_load_kg = 0.0;
        afloat->stern_inlet = which;
        afloat->stern_rest = c->rest;
        afloat->stern_side = c->side;
        return;
    }
    while (high < most && lowest_with_load_m(afloat, c, high, &which, &loaded) > 0.0) {
        low = high;
        high *= 2.0;
    }
    if (high >= most)
        return;
    /* Illinois: regula falsi that halves the weight of an end kept twice. */
    double at_low = lowest_with_load_m(afloat, c, low, &which, &loaded);
    double at_high = lowest_with_load_m(afloat, c, high, &which, &loaded);
    double load = low;
    for (int i = 0, kept = 0; i < 60 && high - low > 1e-3; i++) {
        load = isfinite(at_high) ? low + (high - low) * at_low / (at_low - at_high)
                                 : (low + high) / 2.0;
        double height = lowest_with_load_m(afloat, c, load, &which, &loaded);
        if (fabs(height) < 1e-7)
            break;
        if (height > 0.0) {
            low = load;
            at_low = height;
            at_high = kept > 0 ? at_high / 2.0 : at_high;
            kept = 1;
        } else {
            high = load;
            at_high = height;
            at_low = kept < 0 ? at_low / 2.0 : at_low;
            kept = -1;
        }
    }
    lowest_with_load_m(afloat, c, load, &which, &loaded);
    afloat->stern_load_kg = load;
    afloat->stern_inlet = which;
    afloat->stern_rest = loaded.rest;
    afloat->stern_side = loaded.side;
}

void
afloat_curves(Afloat *afloat)
{
    afloat->stern_load_kg = NAN;
    for (guint i = 0; i < afloat->cases->len; i++) {
        const Case *c = g_ptr_array_index(afloat->cases, i);
        if (case_floats(c) &&
            (afloat->governing == NULL || c->rest.gm_m < afloat->governing->rest.gm_m))
            afloat->governing = c;
    }
    if (afloat->governing == NULL)
        return;
    draw_curves(afloat);
    find_stern_load(afloat);
}
