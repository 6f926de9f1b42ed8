/* Weight on the davit. Invariant: both ways put the same mass at the same point. */
#include "physics/afloat/davit.h"

#include "physics/domain.h"

#define SHEET "docs/methods/float.md 1, 2.5, 6"
const Method davit_gm_method = {"Metacentric height with the weight on the hook",
                                "GM = KM - (m * KG + w * z) / (m + w) - FSM / (m + w)",
                                {SHEET, STANDING_DERIVED}};
const Method davit_heel_method = {"Heel from the weight on the hook",
                                  "heel = atan(M / ((m + w) * GM))",
                                  {SHEET, STANDING_DERIVED}};

static bool
usable(double mass, const HungWeight *h)
{
    const double place[] = {h->x_m, h->y_m, h->z_m};
    const double deck[] = {h->deck_x_m, h->deck_y_m, h->deck_z_m};
    for (int i = 0; i < 3; i++)
        if (!is_within(place[i], -1e4, 1e4) || (h->from_deck && !is_within(deck[i], -1e4, 1e4)))
            return false;
    return is_positive(mass) && is_positive(h->w_kg) && (!h->from_deck || h->w_kg < mass);
}

/* Mass and centre with the weight at the head. */
static void
hang(const HungWeight *h, double *mass, double *x, double *y, double *z)
{
    double whole = h->from_deck ? *mass : *mass + h->w_kg, share = h->w_kg / whole;
    double rest = *mass / whole;
    *x = *x * rest + share * (h->x_m - (h->from_deck ? h->deck_x_m : 0.0));
    *y = *y * rest + share * (h->y_m - (h->from_deck ? h->deck_y_m : 0.0));
    *z = *z * rest + share * (h->z_m - (h->from_deck ? h->deck_z_m : 0.0));
    *mass = whole;
}

Validity
davit_heel(double mass_kg, double tcg_m, double vcg_m, double km_m, double free_surface_kgm,
           const HungWeight *hung, DavitHeel *out)
{
    *out = (DavitHeel){NAN, NAN, NAN, NAN};
    if (!usable(mass_kg, hung) || !is_number(tcg_m) || !is_number(vcg_m) || !is_number(km_m) ||
        !is_not_negative(free_surface_kgm))
        return REFUSED;
    double mass = mass_kg, x = 0.0, y = tcg_m, z = vcg_m;
    hang(hung, &mass, &x, &y, &z);
    out->moment_kgm = -hung->w_kg * hung->y_m;
    out->vcg_m = z;
    out->gm_m = km_m - z - free_surface_kgm / mass;
    if (out->gm_m > 0.0)
        out->heel_rad = atan(-y / out->gm_m);
    return VALID;
}

Validity
davit_rest(const Body *body, const Load *load, double density_kg_per_m3, const HungWeight *hung,
           Rest *rest)
{
    Load lifted = *load;
    if (usable(load->mass_kg, hung))
        hang(hung, &lifted.mass_kg, &lifted.lcg_m, &lifted.tcg_m, &lifted.vcg_m);
    else
        lifted.mass_kg = NAN; /* refused as what it is: no load */
    return rest_find(body, &lifted, density_kg_per_m3, rest);
}
