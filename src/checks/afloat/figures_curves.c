/* Pictures that are curves: righting levers, hydrostatics, sectional areas, cross curves.
 * Invariant: every point is solved, none is drawn between. */
#include <math.h>

#include "checks/afloat/figures.h"
#include "checks/afloat/wind.h"
#include "result/picture/cross_curves.h"
#include "result/picture/hydrostatic_curves.h"
#include "result/picture/righting_lever.h"
#include "result/picture/sectional_areas.h"

#define DEGREE (G_PI / 180.0)

static void
both_sides(FigureStore *store, RightingLeverPicture *fig)
{
    const LeverCurve *port = &store->afloat->port, *starboard = &store->afloat->starboard;
    size_t n = port->n + starboard->n - 1;
    double *heel = figure_block(store, n * sizeof *heel), *gz = figure_block(store, n * sizeof *gz);
    double *spread = figure_block(store, n * sizeof *spread);
    size_t k = 0;
    for (size_t i = port->n; i-- > 1; k++) {
        heel[k] = port->heel_rad[i];
        gz[k] = port->gz_m[i];
    }
    for (size_t i = 0; i < starboard->n; i++, k++) {
        heel[k] = starboard->heel_rad[i];
        gz[k] = starboard->gz_m[i];
    }
    /* The part of a change of displacement that alters the form is followed every ten degrees and taken straight between. */
    double slope[2] = {0.0, 0.0}, from = -181.0 * DEGREE;
    for (size_t i = 0; i < n; i++) {
        if (heel[i] - from >= 10.0 * DEGREE) {
            from = heel[i];
            slope[0] = lever_per_kg(store->afloat, heel[i]);
            slope[1] = i + 1 < n ? lever_per_kg(store->afloat, fmin(heel[i] + 10.0 * DEGREE, G_PI))
                                 : slope[0];
        }
        double share = (heel[i] - from) / (10.0 * DEGREE);
        Linear a = linear_lever(store->afloat, store->afloat->governing, heel[i],
                                slope[0] + share * (slope[1] - slope[0]));
        spread[i] = spread_of(store->afloat, store->afloat->governing, &a, NULL).spread;
    }
    fig->n = n;
    fig->heel_rad = heel;
    fig->gz_m = gz;
    fig->gz_spread_m = spread;
}

void *
figure_righting_lever(FigureStore *store)
{
    const Afloat *afloat = store->afloat;
    const Case *c = afloat->governing;
    if (c == NULL)
        return NULL;
    RightingLeverPicture *fig = figure_block(store, sizeof *fig);
    const LeverFacts *facts = &afloat->facts;
    fig->caption = figure_caption(store, c);
    fig->situation = figure_case_words(store, c);
    both_sides(store, fig);
    fig->list_rad = c->rest.at.heel_rad;
    fig->gm_m = c->rest.gm_m;
    fig->max_m = facts->max_m;
    fig->max_rad = afloat->facts_side * facts->max_rad;
    fig->vanishing_rad = afloat->facts_side * facts->vanishing_rad;
    fig->flooding_rad = (afloat->flooding_side < 0 ? -1.0 : 1.0) * afloat->flooding_rad;
    if (afloat->flooding_inlet != NULL) {
        fig->flooding_path = afloat->flooding_inlet->path;
        fig->flooding_name = afloat->flooding_inlet->name;
    }
    fig->deck_edge_rad = afloat->facts_side * c->side.deck_edge_rad;
    fig->areas = isfinite(facts->area_30);
    fig->area_30 = facts->area_30;
    fig->area_30_40 = facts->area_30_40;
    Wind wind;
    bool blows = wind_of_weather(afloat, &wind);
    fig->wind_steady_m = blows ? wind.steady_m : NAN;
    fig->wind_gust_m = blows ? wind.gust_m : NAN;
    fig->roll_back_rad = blows ? afloat->facts_side * wind.roll_back_rad : NAN;
    return fig;
}

void *
figure_hydrostatic_curves(FigureStore *store)
{
    enum { N = 40 };
    const Afloat *afloat = store->afloat;
    const Case *c = figure_case(afloat);
    if (c == NULL)
        return NULL;
    const Loft *hull = afloat->hull;
    double low = INFINITY, high = INFINITY;
    for (size_t i = 0; i < hull->stations * hull->points; i++)
        low = fmin(low, hull->z_m[i]);
    for (size_t s = 0; s < hull->stations; s++)
        high = fmin(high, hull->z_m[(s + 1) * hull->points - 1]);
    double *column[8];
    for (size_t k = 0; k < G_N_ELEMENTS(column); k++)
        column[k] = figure_block(store, N * sizeof(double));
    double *draught = figure_block(store, N * sizeof *draught);
    for (size_t i = 0; i < N; i++) {
        Immersed u;
        draught[i] = low + (high - low) * (double) (i + 1) / N;
        Attitude at = {draught[i], 0.0, 0.0};
        body_immersed(&afloat->body, &at, &u);
        double v = u.volume_m3, a = u.plane_m2, rho = afloat->density_kg_per_m3;
        double il = u.plane_XX_m4 - u.plane_X_m3 * u.plane_X_m3 / a,
               it = u.plane_YY_m4 - u.plane_Y_m3 * u.plane_Y_m3 / a;
        column[0][i] = rho * v;
        column[1][i] = u.x_m4 / v;
        column[2][i] = u.plane_X_m3 / a;
        column[3][i] = u.z_m4 / v;
        column[4][i] = u.z_m4 / v + it / v;
        column[5][i] = rho * a;
        column[6][i] = rho * il / afloat->length_m;
        column[7][i] = a;
    }
    HydrostaticCurvesPicture *fig = figure_block(store, sizeof *fig);
    *fig = (HydrostaticCurvesPicture){.caption = figure_caption(store, c),
                                      .n = N,
                                      .draught_m = draught,
                                      .displacement_kg = column[0],
                                      .lcb_m = column[1],
                                      .lcf_m = column[2],
                                      .kb_m = column[3],
                                      .km_m = column[4],
                                      .sinkage_kg_per_m = column[5],
                                      .trim_kgm_per_m = column[6],
                                      .plane_m2 = column[7],
                                      .present_draught_m =
                                          attitude_draught_m(&c->rest.at, c->rest.lcf_m),
                                      .present_kg = c->sum.mass_kg};
    return fig;
}

typedef struct {
    double y, z, above;
} Corner;

/* The whole section at x as a closed polygon, port from the bottom up and starboard back down. */
static size_t
whole_section(const Afloat *afloat, const Case *c, double x_m, Corner *corner)
{
    size_t n = afloat->hull->points;
    g_autofree double *half = g_new(double, 2 * n);
    if (!loft_points(afloat->hull, x_m, half, half + n))
        return 0;
    for (size_t j = 0; j < n; j++) {
        corner[j] = (Corner){half[j], half[n + j],
                             attitude_height_m(&c->rest.at, x_m, half[j], half[n + j])};
        corner[2 * n - 1 - j] = (Corner){
            -half[j], half[n + j], attitude_height_m(&c->rest.at, x_m, -half[j], half[n + j])};
    }
    return 2 * n;
}

/* Cuts the polygon at the water, keeping what is below. */
static size_t
below_water(size_t n, const Corner *corner, Corner *wet)
{
    size_t out = 0;
    for (size_t i = 0; i < n; i++) {
        const Corner *a = &corner[i], *b = &corner[(i + 1) % n];
        if (a->above <= 0.0)
            wet[out++] = *a;
        if ((a->above <= 0.0) != (b->above <= 0.0)) {
            double t = a->above / (a->above - b->above);
            wet[out++] = (Corner){a->y + t * (b->y - a->y), a->z + t * (b->z - a->z), 0.0};
        }
    }
    return out;
}

/* Area of the cut at x below the water she lies at, both halves, heel and trim counted. */
static double
wet_section_m2(const Afloat *afloat, const Case *c, double x_m)
{
    size_t room = 2 * afloat->hull->points;
    g_autofree Corner *corner = g_new(Corner, room), *wet = g_new(Corner, 2 * room);
    size_t n = below_water(whole_section(afloat, c, x_m, corner), corner, wet);
    double twice = 0.0;
    for (size_t i = 0; i < n; i++)
        twice += wet[i].y * wet[(i + 1) % n].z - wet[(i + 1) % n].y * wet[i].z;
    return fabs(twice) / 2.0;
}

void *
figure_sectional_areas(FigureStore *store)
{
    enum { N = 101 };
    const Afloat *afloat = store->afloat;
    const Case *c = figure_case(afloat);
    if (c == NULL)
        return NULL;
    double *x = figure_block(store, N * sizeof *x), *area = figure_block(store, N * sizeof *area),
           aft = afloat->hull->x_m[0];
    for (size_t i = 0; i < N; i++) {
        x[i] = aft + afloat->length_m * (double) i / (N - 1);
        area[i] = wet_section_m2(afloat, c, x[i]);
    }
    SectionalAreasPicture *fig = figure_block(store, sizeof *fig);
    *fig = (SectionalAreasPicture){.caption = figure_caption(store, c),
                                   .situation = figure_case_words(store, c),
                                   .n = N,
                                   .x_m = x,
                                   .area_m2 = area,
                                   .lcb_m = c->rest.lcb_m,
                                   .lcg_m = c->sum.lcg_m,
                                   .waterline_aft_m = c->side.waterline_aft_m,
                                   .waterline_fwd_m = c->side.waterline_fwd_m,
                                   .volume_m3 = c->rest.volume_m3};
    return fig;
}

void *
figure_cross_curves(FigureStore *store)
{
    enum { HEELS = 8, MASSES = 15 };
    static const double degrees[HEELS] = {10, 20, 30, 40, 50, 60, 75, 90};
    const Afloat *afloat = store->afloat;
    const Case *c = afloat->governing;
    if (c == NULL)
        return NULL;
    double *heel = figure_block(store, HEELS * sizeof *heel),
           *mass = figure_block(store, MASSES * sizeof *mass);
    double *kn = figure_block(store, (size_t) HEELS * MASSES * sizeof *kn);
    double whole = afloat->density_kg_per_m3 * body_volume_m3(&afloat->body);
    double low = 0.6 * c->sum.mass_kg, high = fmin(1.6 * c->sum.mass_kg, 0.95 * whole);
    for (size_t m = 0; m < MASSES; m++)
        mass[m] = low + (high - low) * (double) m / (MASSES - 1);
    for (size_t h = 0; h < HEELS; h++) {
        heel[h] = degrees[h] * DEGREE;
        for (size_t m = 0; m < MASSES; m++) {
            Load load = {mass[m], c->sum.lcg_m, 0.0, c->sum.vcg_m, 0, NULL};
            Attitude at = c->rest.at;
            double gz;
            Validity validity = rest_at_heel(&afloat->body, &load, afloat->density_kg_per_m3,
                                             heel[h], true, &at, &gz);
            kn[h * MASSES + m] = validity == REFUSED ? NAN : gz + c->sum.vcg_m * sin(heel[h]);
        }
    }
    CrossCurvesPicture *fig = figure_block(store, sizeof *fig);
    *fig = (CrossCurvesPicture){.caption = figure_caption(store, c),
                                .heels = HEELS,
                                .masses = MASSES,
                                .heel_rad = heel,
                                .mass_kg = mass,
                                .kn_m = kn,
                                .present_mass_kg = c->sum.mass_kg,
                                .present_kg_m = c->sum.vcg_m};
    return fig;
}
