/* First-order spreads of what follows from the position of rest (docs/methods/float.md 1).
 * Invariant: no spread is negative or NAN; without a metacentric height it is infinite. */
#include "checks/afloat/sensitivity.h"

#include <math.h>
#include <string.h>

#include "checks/afloat/calibrate.h"

Linear
linear_mass(void)
{
    return (Linear){.mass = 1.0};
}

Linear
linear_centre(const Case *c, int axis)
{
    const double g[] = {c->sum.lcg_m, c->sum.tcg_m, c->sum.vcg_m}, per = 1.0 / c->sum.mass_kg;
    Linear a = {.mass = -g[axis] * per};
    *(axis == 0 ? &a.x : axis == 1 ? &a.y : &a.z) = per;
    return a;
}

/* Stations are read one by one, so their errors partly cancel; breadth enters BM with its cube. */
double
hull_km_spread(const Afloat *afloat, const Case *c)
{
    double half = c->side.beam_m / 2.0;
    double alone = afloat->from_form ? 1.0 : sqrt((double) afloat->hull->stations);
    return 3.0 * c->rest.bm_m * afloat->within_m / half / alone;
}

Linear
linear_gm(const Afloat *afloat, const Case *c)
{
    double mass = c->sum.mass_kg;
    return (Linear){.mass = c->km_slope_m_per_kg + (c->sum.vcg_m + c->rest.free_surface_m) / mass,
                    .z = -1.0 / mass,
                    .density = -c->km_slope_m_per_kg * mass / afloat->density_kg_per_m3,
                    .other = hull_km_spread(afloat, c)};
}

Linear
linear_trim(const Case *c)
{
    double stiff = c->sum.mass_kg * c->rest.gm_l_m;
    return (Linear){.mass = -c->rest.lcf_m / stiff, .x = 1.0 / stiff};
}

Linear
linear_list(const Afloat *afloat, const Case *c)
{
    /* tan(list) = -TCG / GM: more to port lessens a heel to starboard; a GM that is off changes the list in proportion. */
    double stiff = c->sum.mass_kg * c->rest.gm_m, lean = -c->rest.at.heel_rad / c->rest.gm_m;
    Linear gm = linear_gm(afloat, c);
    return (Linear){.mass = c->rest.tcf_m / stiff + lean * gm.mass,
                    .y = -1.0 / stiff,
                    .z = lean * gm.z,
                    .density = lean * gm.density,
                    .other = fabs(lean * gm.other)};
}

Linear
linear_height(const Afloat *afloat, const Case *c, double x_m, double y_m)
{
    const Rest *rest = &c->rest;
    double along = -(x_m - rest->lcf_m), across = y_m - rest->tcf_m;
    Linear trim = linear_trim(c), list = linear_list(afloat, c);
    double sink = 1.0 / (afloat->density_kg_per_m3 * rest->waterplane_m2);
    return (Linear){.mass = -sink + along * trim.mass + across * list.mass,
                    .x = along * trim.x,
                    .y = across * list.y,
                    .z = across * list.z,
                    .density = c->sum.mass_kg * sink / afloat->density_kg_per_m3,
                    .other =
                        hypot(hypot(c->draught_spread_m, afloat->within_m), across * list.other)};
}

Linear
linear_lever(const Afloat *afloat, const Case *c, double heel_rad, double gz_per_kg)
{
    /* GZ falls by sin(heel) for every metre G rises, and by cos(heel) for every metre G moves to the low side. */
    Linear z = linear_centre(c, 2), y = linear_centre(c, 1);
    double low_side = heel_rad >= 0.0 ? 1.0 : -1.0;
    double s = sin(fabs(heel_rad)), k = cos(heel_rad);
    return (Linear){.mass = gz_per_kg - s * z.mass + low_side * k * y.mass,
                    .y = low_side * k * y.y,
                    .z = -s * z.z,
                    .other = hull_km_spread(afloat, c) * s};
}

typedef struct {
    const Mass *mass;
    double variance;
    const char *key; /* which field of the item brings it */
} Part;

static void
keep_larger(Part *largest, const Mass *mass, double variance, const char *key)
{
    if (variance > largest->variance && (mass->item != NULL))
        *largest = (Part){mass, variance, key};
}

static void
advise(Result *result, const Linear *a, const Part *largest, double density_variance,
       double plate_variance, Spread *out)
{
    double hull = a->other * a->other, own = a->own * a->own;
    double most = fmax(fmax(largest->variance, density_variance), fmax(hull, own));
    most = fmax(most, plate_variance);
    if (!(most > 0.0) || result == NULL)
        return;
    if (most == own && a->own_record != NULL) {
        out->path = result_text(result, "%s.height", a->own_record->path);
        out->text = "measure its height above a mark, with tape and level";
    } else if (most == plate_variance) {
        out->path = "hull.plate";
        out->text = "gauge the plate of shell and deck";
    } else if (most == density_variance) {
        out->path = "boat.density";
        out->text = "measure the density of the water she lies in";
    } else if (most == hull || largest->mass == NULL) {
        out->path = "hull.within";
        out->text = "take the half-breadths and heights of the stations again, closer";
    } else {
        bool place = strcmp(largest->key, "mass") != 0;
        out->path = result_text(result, "%s.%s", largest->mass->item->path, largest->key);
        out->text = place ? result_text(result, "measure where it lies: %s", largest->mass->name)
                          : result_text(result, "weigh: %s", largest->mass->name);
    }
}

Spread
spread_of(const Afloat *afloat, const Case *c, const Linear *a, Result *result)
{
    double variance = 0.0, group[3] = {0.0, 0.0, 0.0}, plate = 0.0;
    Part largest = {NULL, 0.0, NULL};
    for (guint i = 0; i < c->masses->len; i++) {
        const Mass *mass = &g_array_index(c->masses, Mass, i);
        const LedgerItem *item = &mass->ledger;
        double per_kg = a->mass + a->x * item->x_m + a->y * item->y_m + a->z * item->z_m;
        double by_mass = per_kg * item->mass_spread_kg;
        plate += per_kg * mass->plate_spread_kg;
        double by_x = a->x * item->mass_kg * item->x_spread_m;
        double by_y = a->y * item->mass_kg * item->y_spread_m;
        double by_z = a->z * item->mass_kg * item->z_spread_m;
        if (item->group == GROUP_INDEPENDENT)
            variance += by_mass * by_mass;
        else
            group[item->group] +=
                copysign(1.0, item->mass_kg) * by_mass; /* what is taken off errs the other way */
        variance += by_x * by_x + by_y * by_y + by_z * by_z;
        keep_larger(&largest, mass, by_mass * by_mass, "mass");
        keep_larger(&largest, mass, by_x * by_x, "along");
        keep_larger(&largest, mass, by_y * by_y, "across");
        keep_larger(&largest, mass, by_z * by_z, "height");
    }
    for (size_t g = 1; g < G_N_ELEMENTS(group); g++)
        variance += group[g] * group[g];
    double density = pow(a->density * afloat->density_spread, 2);
    variance += plate * plate + density + a->other * a->other + a->own * a->own;
    Spread out = {.spread = isnan(variance) ? INFINITY : sqrt(variance)};
    advise(result, a, &largest, density, plate * plate, &out);
    return out;
}

/* ---- what brings it ---- */

typedef struct {
    GArray *list; /* SpreadShare, of variance */
    Result *result;
} Shares;

static void
add_share(Shares *shares, const char *path, const char *text, double variance)
{
    SpreadShare one = {path, text, variance};
    if (variance > 0.0 && isfinite(variance))
        g_array_append_val(shares->list, one);
}

static void
add_item(Shares *shares, const Mass *mass, const char *key, double variance)
{
    if (variance > 0.0)
        add_share(shares, result_text(shares->result, "%s.%s", mass->item->path, key),
                  result_text(shares->result, "%s of %s", key, mass->name), variance);
}

/* The height of the weighed boat is the list's: who brings how much of its spread. */
static void
add_weighed(Shares *shares, const Survey *survey, double by_height, double by_rest)
{
    double sum = 0.0;
    for (guint i = 0; i < survey->then->len; i++) {
        const LedgerItem *item = &g_array_index(survey->then, Mass, i).ledger;
        sum += pow(item->mass_kg * item->z_spread_m, 2) +
               pow((item->z_m - survey->list.vcg_m) * item->mass_spread_kg, 2);
    }
    for (guint i = 0; i < survey->then->len && sum > 0.0; i++) {
        const Mass *mass = &g_array_index(survey->then, Mass, i);
        const LedgerItem *item = &mass->ledger;
        if (mass->item == NULL || mass->liquid)
            continue;
        add_item(shares, mass, "height",
                 by_height * pow(item->mass_kg * item->z_spread_m, 2) / sum);
        add_item(shares, mass, "mass",
                 by_height * pow((item->z_m - survey->list.vcg_m) * item->mass_spread_kg, 2) / sum);
    }
    add_share(shares, result_text(shares->result, "%s.readings", survey->record->path),
              "the readings that weighed her", by_rest);
}

static void
add_mass_shares(Shares *shares, const Afloat *afloat, const Mass *mass, const Linear *a)
{
    const LedgerItem *item = &mass->ledger;
    double by_mass = pow((a->mass + a->x * item->x_m + a->y * item->y_m + a->z * item->z_m) *
                             item->mass_spread_kg,
                         2);
    double by_x = pow(a->x * item->mass_kg * item->x_spread_m, 2);
    double by_y = pow(a->y * item->mass_kg * item->y_spread_m, 2);
    double by_z = pow(a->z * item->mass_kg * item->z_spread_m, 2);
    if (mass->item != NULL) {
        add_item(shares, mass, "mass", by_mass);
        add_item(shares, mass, "along", by_x);
        add_item(shares, mass, "across", by_y);
        add_item(shares, mass, "height", by_z);
    } else if (!mass->person && afloat->survey != NULL && mass->basis == BASIS_MEASURED) {
        add_weighed(shares, afloat->survey, by_z, by_mass + by_x + by_y);
    }
}

static int
largest_share_first(gconstpointer a, gconstpointer b)
{
    const SpreadShare *left = a, *right = b;
    if (left->share != right->share)
        return left->share > right->share ? -1 : 1;
    return strcmp(left->path, right->path);
}

size_t
spread_shares(const Afloat *afloat, const Case *c, const Linear *a, Result *result, size_t room,
              SpreadShare share[])
{
    Shares shares = {g_array_new(FALSE, FALSE, sizeof(SpreadShare)), result};
    for (guint i = 0; i < c->masses->len; i++)
        add_mass_shares(&shares, afloat, &g_array_index(c->masses, Mass, i), a);
    add_share(&shares, "boat.density", "density of the water",
              pow(a->density * afloat->density_spread, 2));
    add_share(&shares, "hull.within", "half-breadths and heights of the hull", a->other * a->other);
    g_array_sort(shares.list, largest_share_first);
    double all = 0.0;
    for (guint i = 0; i < shares.list->len; i++)
        all += g_array_index(shares.list, SpreadShare, i).share;
    size_t n = MIN(room, shares.list->len);
    for (size_t i = 0; i < n; i++) {
        share[i] = g_array_index(shares.list, SpreadShare, i);
        share[i].share /= all;
    }
    g_array_unref(shares.list);
    return n;
}
