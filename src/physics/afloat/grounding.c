/* Keel on a block, upright. Invariant: the keel's point of contact lies at the depth that was asked
 * for, and what the water does not carry the block does. */
#include "physics/afloat/grounding.h"

#include <math.h>

#include "physics/afloat/poise.h"
#include "physics/bracket.h"
#include "physics/domain.h"

#define SHEET "docs/methods/float.md 10.1"
const Method keel_reaction_method = {
    "What the block bears", "R = m - rho * V", {SHEET, STANDING_DERIVED}};
const Method keel_trim_method = {
    "Balance in trim on the block", "(m - R) * X_B + R * X_P = m * X_G", {SHEET, STANDING_DERIVED}};
const Method keel_gm_a_method = {"Stability left on the block, for the whole displacement",
                                 "GM_a = (1 - R / m) * KM - KG - FS",
                                 {SHEET, STANDING_DERIVED}};
const Method keel_gm_b_method = {"Stability left on the block, for the mass still afloat",
                                 "GM_b = GM_a * m / (m - R)",
                                 {SHEET, STANDING_DERIVED}};

static const double most_trim = 1.3;
static const double close_enough = 1e-12; /* m; a root is met when its guesses stay that near */

typedef struct {
    Floater floater;
    KeelBlock block;
    double touch_m; /* depth of the block's point when she first touches */
    double afloat;  /* trim then */
    bool has_bed;
} Ground;

/* Position with the block's point at this depth and this trim. */
static void
lay(const Ground *g, double depth, double trim, Attitude *at, Poise *poise)
{
    const KeelBlock *b = &g->block;
    *at = (Attitude){depth - b->x_m * sin(trim) + b->z_m * cos(trim), 0.0, trim};
    poise_at(&g->floater, at, poise);
}

/* Trimming moment about the block over rho, and its slope with trim while the block stays where it
 * is. */
static double
about_block(const Ground *g, const Attitude *at, const Poise *p, double *slope)
{
    const KeelBlock *b = &g->block;
    double st = sin(at->trim_rad), ct = cos(at->trim_rad);
    double X = b->x_m * ct + b->z_m * st, up = b->z_m * ct - b->x_m * st;
    *slope = p->j[1][1] - X * p->j[0][1] - X * (p->j[1][0] - X * p->j[0][0]) - up * p->r[0];
    return p->r[1] - X * p->r[0];
}

/* The moment grows with trim where she lies stable. */
static bool
find_trim(const Ground *g, double depth, double start, Attitude *at, Poise *poise)
{
    double trim = start, slope;
    for (int i = 0; i < 60; i++) {
        lay(g, depth, trim, at, poise);
        double moment = about_block(g, at, poise, &slope);
        double step = -moment / slope;
        if (!(slope > 0.0))
            return false;
        if (fabs(step) < 1e-13)
            return true;
        trim += fmax(-0.03, fmin(0.03, step));
        if (fabs(step) < 1e-7) { /* what is left is its square */
            lay(g, depth, trim, at, poise);
            return true;
        }
        if (!(fabs(trim) < most_trim))
            return false;
    }
    return false;
}

static void
none(KeelStep *step)
{
    if (step != NULL)
        *step = (KeelStep){NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, false};
}

static void
describe(const Ground *g, double depth, const Attitude *at, const Poise *p, bool all_along,
         KeelStep *step)
{
    const KeelBlock *b = &g->block;
    const Immersed *u = &p->under;
    double st = sin(at->trim_rad), ct = cos(at->trim_rad), v0 = g->floater.v0, v = u->volume_m3;
    double x = b->x_m;
    if (all_along)
        x = (p->r[1] / p->r[0] - b->z_m * st) / ct;
    double contact = b->z_m * ct - x * st;
    double b_up = u->z_m4 * ct - u->x_m4 * st - v * contact;
    double inertia =
        u->plane_m2 > 0.0 ? u->plane_YY_m4 - u->plane_Y_m3 * u->plane_Y_m3 / u->plane_m2 : 0.0;
    double kg = (p->g[2] * ct - p->g[0] * st) / v0 - contact;
    *step = (KeelStep){.fall_m = g->touch_m - depth,
                       .depth_m = depth,
                       .reaction_kg = -p->r[0] * g->floater.density,
                       .reaction_x_m = x,
                       .trim_rad = at->trim_rad,
                       .origin_depth_m = at->origin_depth_m,
                       .km_m = v > 0.0 ? (b_up + inertia) / v : NAN,
                       .vcg_m = kg,
                       .gm_a_m = (b_up + inertia) / v0 - kg - p->free_yy / v0,
                       .all_along = all_along};
    step->gm_b_m = v > 0.0 ? step->gm_a_m * v0 / v : NAN;
}

/* Whether at this depth the whole keel bears: left to herself about the block she would turn past the bed. */
static bool
has_landed(const Ground *g, double depth, Attitude *at, Poise *poise)
{
    double slope, bed = g->block.bed_trim_rad, way = bed - g->afloat;
    if (!g->has_bed || !(depth < g->touch_m))
        return false;
    lay(g, depth, bed, at, poise);
    return way == 0.0 || about_block(g, at, poise, &slope) * way <= 0.0;
}

/* At this depth of the block's point; start: a trim near by. */
static bool
solve(const Ground *g, double depth, double start, KeelStep *step)
{
    Attitude at;
    Poise poise;
    bool along = has_landed(g, depth, &at, &poise);
    bool found = along || find_trim(g, depth, start, &at, &poise);
    if (!found && g->has_bed && depth < g->touch_m) {
        lay(g, depth, g->block.bed_trim_rad, &at, &poise);
        along = true;
    }
    if (along)
        found = poise.r[0] < 0.0;
    if (found)
        describe(g, depth, &at, &poise, along, step);
    return found;
}

static bool
make(const Body *body, const Load *load, double density, const KeelBlock *block, Ground *g,
     KeelStep *afloat)
{
    *g = (Ground){.block = *block, .has_bed = !isnan(block->bed_trim_rad)};
    if (!is_within(block->x_m, -1e4, 1e4) || !is_within(block->z_m, -1e4, 1e4) ||
        (g->has_bed && !(fabs(block->bed_trim_rad) < most_trim)) ||
        floater_make(body, load, density, &g->floater) != REST_FOUND)
        return false;
    Attitude at = {.origin_depth_m = INFINITY};
    Poise poise;
    if (!settle_depth(&g->floater, &at, 1e-3) || !settle(&g->floater, true, &at, &poise))
        return false;
    poise_at(&g->floater, &at, &poise);
    g->afloat = at.trim_rad;
    g->touch_m = -attitude_height_m(&at, block->x_m, 0.0, block->z_m);
    if (fabs(g->afloat - block->bed_trim_rad) < 1e-12)
        g->afloat = block->bed_trim_rad;
    double X = block->x_m * cos(at.trim_rad) + block->z_m * sin(at.trim_rad);
    double lift = poise.under.plane_X_m3 / poise.under.plane_m2 - X; /* > 0: the bow goes down */
    if (g->has_bed && lift * (block->bed_trim_rad - g->afloat) < 0.0)
        return false;
    describe(g, g->touch_m, &at, &poise, false, afloat);
    afloat->reaction_kg = 0.0;
    return true;
}

Validity
keel_on_block(const Body *body, const Load *load, double density_kg_per_m3, const KeelBlock *block,
              double fall_m, KeelStep *afloat, KeelStep *step)
{
    Ground g;
    KeelStep first;
    none(afloat);
    none(step);
    if (!is_within(fall_m, 0.0, 1e4) || !make(body, load, density_kg_per_m3, block, &g, &first))
        return REFUSED;
    KeelStep found = first;
    if (fall_m > 0.0 && !solve(&g, g.touch_m - fall_m, g.afloat, &found))
        return REFUSED;
    if (afloat != NULL)
        *afloat = first;
    *step = found;
    step->fall_m = fall_m;
    return VALID;
}

Validity
keel_steps(const Body *body, const Load *load, double density_kg_per_m3, const KeelBlock *block,
           double fall_m, size_t n, KeelStep step[])
{
    Ground g;
    KeelStep first;
    for (size_t i = 0; i < n; i++)
        none(&step[i]);
    if (n < 2 || !is_within(fall_m, 0.0, 1e4) ||
        !make(body, load, density_kg_per_m3, block, &g, &first))
        return REFUSED;
    step[0] = first;
    bool good = true;
    for (size_t i = 1; i < n && good; i++) {
        double fall = fall_m * (double) i / (double) (n - 1);
        good = fall > 0.0 ? solve(&g, g.touch_m - fall, step[i - 1].trim_rad, &step[i]) : true;
        if (fall == 0.0)
            step[i] = first;
        step[i].fall_m = fall;
    }
    for (size_t i = 0; i < n && !good; i++)
        none(&step[i]);
    return good ? VALID : REFUSED;
}

Validity
keel_landing(const Body *body, const Load *load, double density_kg_per_m3, const KeelBlock *block,
             KeelStep *step)
{
    Ground g;
    KeelStep first;
    none(step);
    if (isnan(block->bed_trim_rad) || !make(body, load, density_kg_per_m3, block, &g, &first))
        return REFUSED;
    if (g.afloat == block->bed_trim_rad) {
        *step = first;
        step->all_along = true;
        return VALID;
    }
    /* At the bed's trim the moment about the block has the sign of touching while deep, the other
     * when she has landed. */
    double slope, way = block->bed_trim_rad - g.afloat, low = g.touch_m;
    Attitude at;
    Poise poise;
    lay(&g, low, block->bed_trim_rad, &at, &poise);
    Bracket moment = {.a = low, .f_a = about_block(&g, &at, &poise, &slope) * way};
    for (int i = 0; i < 200 && moment.f_a > 0.0; i++) {
        moment.b = low;
        moment.f_b = moment.f_a;
        low -= 0.01 * g.floater.size;
        lay(&g, low, block->bed_trim_rad, &at, &poise);
        if (!(poise.under.volume_m3 > 0.0))
            return REFUSED;
        moment.a = low;
        moment.f_a = about_block(&g, &at, &poise, &slope) * way;
    }
    if (moment.f_a > 0.0)
        return REFUSED;
    double last = NAN;
    for (int i = 0; i < 100 && moment.f_b > 0.0 && !(fabs(low - last) <= close_enough); i++) {
        last = low;
        low = bracket_next(&moment);
        lay(&g, low, block->bed_trim_rad, &at, &poise);
        bracket_narrow(&moment, low, about_block(&g, &at, &poise, &slope) * way);
    }
    lay(&g, low, block->bed_trim_rad, &at, &poise);
    describe(&g, low, &at, &poise, false, step);
    step->all_along = true;
    return VALID;
}

Validity
keel_stop(const Body *body, const Load *load, double density_kg_per_m3, const KeelBlock *block,
          double gm_least_m, KeelStep *step)
{
    Ground g;
    KeelStep above, below;
    none(step);
    if (!is_number(gm_least_m) || !make(body, load, density_kg_per_m3, block, &g, &above) ||
        !(above.gm_a_m > gm_least_m))
        return REFUSED;
    /* In steps, so that the first crossing is met and not a later one. */
    double stride = 0.01 * g.touch_m, turn[2] = {0.0, 0.0};
    if (!(stride > 0.0))
        return REFUSED;
    for (int i = 0;; i++) {
        double start = above.trim_rad + turn[1] + (i > 1 ? turn[1] - turn[0] : 0.0);
        if (i >= 400 || !solve(&g, above.depth_m - stride, start, &below))
            return REFUSED;
        if (below.gm_a_m <= gm_least_m)
            break;
        if (below.reaction_kg >= load->mass_kg * (1.0 - 1e-9))
            return REFUSED;
        turn[0] = turn[1];
        turn[1] = below.trim_rad - above.trim_rad;
        above = below;
    }
    Bracket gm = {below.depth_m, above.depth_m, below.gm_a_m - gm_least_m,
                  above.gm_a_m - gm_least_m, 0};
    double slope = (above.trim_rad - below.trim_rad) / (above.depth_m - below.depth_m);
    double last = NAN;
    bool good = true;
    *step = below;
    for (int i = 0; i < 100 && good && !(fabs(step->depth_m - last) <= close_enough); i++) {
        last = step->depth_m;
        double depth = bracket_next(&gm);
        good = solve(&g, depth, below.trim_rad + slope * (depth - below.depth_m), step);
        bracket_narrow(&gm, depth, step->gm_a_m - gm_least_m);
    }
    /* Lost with the last of the water, it was never come down to. */
    if (!good || step->reaction_kg >= load->mass_kg * (1.0 - 1e-9)) {
        none(step);
        return REFUSED;
    }
    return VALID;
}
