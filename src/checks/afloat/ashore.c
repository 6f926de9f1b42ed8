/* What slings and blocks bear of the lightest boat. Invariant: what was settled in the file is never moved, only what is
 * missing is placed. */
#include "checks/afloat/ashore.h"

#include <math.h>

#include "checks/afloat/sensitivity.h"

#define GRAVITY 9.80665

const Case *
ashore_case(const Afloat *afloat)
{
    const Case *light = NULL;
    for (guint i = 0; i < afloat->cases->len; i++) {
        const Case *c = g_ptr_array_index(afloat->cases, i);
        if (case_floats(c) && !c->crowded && (light == NULL || c->sum.mass_kg < light->sum.mass_kg))
            light = c;
    }
    return light;
}

static const Ashore *
typed_ashore(const Afloat *afloat)
{
    return boat_single(afloat->boat, &section_ashore)->data;
}

static void
place_slings(const Afloat *afloat, const Ashore *typed, double lcg_m, AshoreSlings *out)
{
    SlingPlaces places = slings_alike(lcg_m, 0.45 * afloat->length_m);
    double aft = typed->sling_aft_m, fore = typed->sling_fore_m;
    out->assumed = !isfinite(aft) || !isfinite(fore);
    if (isfinite(aft) && !isfinite(fore))
        places = slings_alike_with(lcg_m, aft);
    else if (isfinite(fore) && !isfinite(aft))
        places = slings_alike_with(lcg_m, fore);
    out->sling[0] = (Sling){isfinite(aft) ? aft : places.x_aft_m, 0.1, typed->sling_angle_rad};
    out->sling[1] = (Sling){isfinite(fore) ? fore : places.x_fwd_m, 0.1, typed->sling_angle_rad};
}

AshoreSlings
ashore_slings(const Afloat *afloat, const Case *c)
{
    AshoreSlings out = {.load_kg = {NAN, NAN}, .load_spread_kg = {NAN, NAN}};
    Linear mass = linear_mass(), along = linear_centre(c, 0);
    double mass_spread = spread_of(afloat, c, &mass, NULL).spread;
    out.boat = (SlungBoat){c->sum.mass_kg, mass_spread, c->sum.lcg_m,
                           spread_of(afloat, c, &along, NULL).spread, NAN};
    place_slings(afloat, typed_ashore(afloat), c->sum.lcg_m, &out);
    out.crane_kg = ceil((c->sum.mass_kg + mass_spread) / 100.0) * 100.0;
    out.validity = slings(&out.boat, out.sling, &out.found);
    for (int k = 0; out.validity != REFUSED && k < 2; k++) {
        const SlingLoad *load = &out.found.sling[k];
        out.load_kg[k] = load->force_N / GRAVITY;
        out.load_spread_kg[k] = (load->force_upper_N - load->force_N) / GRAVITY;
    }
    return out;
}

/* Where the keel touches first: stated, or the lowest point of the keel as she lies. */
static KeelBlock
first_block(const Afloat *afloat, const Case *c, const Ashore *typed, bool *assumed)
{
    const Loft *hull = afloat->hull;
    WaterPlane plane = attitude_plane(&c->rest.at);
    KeelBlock block = {NAN, NAN, 0.0};
    double best = INFINITY;
    *assumed = !isfinite(typed->block_along_m);
    for (size_t s = 0; s < hull->stations; s++) {
        double x = hull->x_m[s], z = hull->z_m[s * hull->points];
        double way = *assumed ? x * plane.x + z * plane.z : fabs(x - typed->block_along_m);
        if (way < best) {
            best = way;
            block.x_m = *assumed ? x : typed->block_along_m;
            block.z_m = z;
        }
    }
    return block;
}

static bool
flat_bottomed(const Afloat *afloat)
{
    int kind = afloat->vessel->kind;
    return kind == KIND_FLAT_BARGE || kind == KIND_PONTOON || kind == KIND_NARROWBOAT;
}

bool
ashore_block(const Afloat *afloat, const Case *c, AshoreBlock *out)
{
    *out = (AshoreBlock){.left_m = NAN, .reaction_spread_kg = NAN};
    out->block = first_block(afloat, c, typed_ashore(afloat), &out->assumed);
    if (flat_bottomed(afloat) || keel_landing(&afloat->body, &c->load, afloat->density_kg_per_m3,
                                              &out->block, &out->landing) == REFUSED)
        return false;
    const KeelStep *landing = &out->landing;
    out->left_m = (1.0 - landing->reaction_kg / c->sum.mass_kg) * landing->km_m - landing->vcg_m -
                  c->rest.free_surface_m;
    /* The block takes what the trim comes to: it is as sure as the trim, and as the weight. */
    Linear trim = linear_trim(c), mass = linear_mass();
    double share = hypot(spread_of(afloat, c, &trim, NULL).spread / c->rest.at.trim_rad,
                         spread_of(afloat, c, &mass, NULL).spread / c->sum.mass_kg);
    out->reaction_spread_kg = landing->reaction_kg * fabs(share);
    return true;
}
