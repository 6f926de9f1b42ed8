/* Anodes of a hull. Invariant: as many as the worst of mass, first and last day ask for. */
#include "physics/wiring/hull_anodes.h"

#include "physics/domain.h"

#define DNV                                                                                        \
    {                                                                                              \
        "DNV-RP-B401:2010 as reproduced; docs/methods/wires.md 7.2", STANDING_SECONDARY            \
    }
const Method hull_anodes_current_method = {"Current a hull asks for", "I = (A * f + A_bare) * i",
                                           DNV};
const Method hull_anodes_coating_method = {"Share of the coating that has failed",
                                           "f = min(1, a + b * t)", DNV};
const Method hull_anodes_mass_method = {"Mass of anodes", "M = I_m * t / (u * q)", DNV};
const Method hull_anodes_count_method = {"Number of anodes",
                                         "n = max(M / m_a, I_i / I_ai, I_f / I_af)", DNV};

enum { INITIAL, MEAN, FINAL };
static const double year_s = 8760.0 * 3600.0;

/* wires-dnv-b401.csv, depth 0 to 30 m. */
static const double density_A_per_m2[][3] = {[CLIMATE_TROPICAL] = {0.15, 0.07, 0.10},
                                             [CLIMATE_SUBTROPICAL] = {0.17, 0.08, 0.11},
                                             [CLIMATE_TEMPERATE] = {0.20, 0.10, 0.13},
                                             [CLIMATE_ARCTIC] = {0.25, 0.12, 0.17}};
static const struct {
    double a, b_per_year;
} breakdown[] = {[COATING_NONE] = {1.0, 0.0},
                 [COATING_CATEGORY_1] = {0.10, 0.10},
                 [COATING_CATEGORY_2] = {0.05, 0.025},
                 [COATING_CATEGORY_3] = {0.02, 0.012}};

double
anode_metal_capacity_C_per_kg(AnodeMetal metal)
{
    static const double Ah_per_kg[] = {
        [ANODE_OF_ZINC] = 780.0, [ANODE_OF_ALUMINIUM] = 2000.0, [ANODE_OF_MAGNESIUM] = 1200.0};
    return Ah_per_kg[metal] * 3600.0;
}

double
anode_metal_driving_V(AnodeMetal metal)
{
    static const double volt[] = {
        [ANODE_OF_ZINC] = 0.20, [ANODE_OF_ALUMINIUM] = 0.25, [ANODE_OF_MAGNESIUM] = 0.70};
    return volt[metal];
}

static bool
usable(const AnodedHull *h)
{
    return is_not_negative(h->area_m2) && is_not_negative(h->bare_m2) &&
           h->area_m2 + h->bare_m2 > 0.0 && is_positive(h->life_s) && is_not_negative(h->age_s) &&
           is_positive(h->width_m) && h->length_m >= h->width_m && is_number(h->length_m) &&
           is_positive(h->thickness_m) && is_positive(h->mass_kg) && is_share(h->utilisation) &&
           is_positive(h->capacity_C_per_kg) && is_positive(h->driving_V) &&
           is_positive(h->resistivity_ohm_m);
}

double
hull_anodes_failed_frac(Coating coating, double age_s)
{
    return fmin(1.0, breakdown[coating].a + breakdown[coating].b_per_year * age_s / year_s);
}

double
hull_anodes_mean_A_per_m2(Climate climate)
{
    return density_A_per_m2[climate][MEAN];
}

double
hull_anodes_final_A_per_m2(Climate climate)
{
    return density_A_per_m2[climate][FINAL];
}

static void
demand(const AnodedHull *h, HullAnodes *out)
{
    const double *i = density_A_per_m2[h->climate];
    double first = hull_anodes_failed_frac(h->coating, h->age_s);
    out->coating_mean = hull_anodes_failed_frac(h->coating, h->age_s + 0.5 * h->life_s);
    out->coating_final = hull_anodes_failed_frac(h->coating, h->age_s + h->life_s);
    out->initial_A = i[INITIAL] * (h->area_m2 * first + h->bare_m2);
    out->mean_A = i[MEAN] * (h->area_m2 * out->coating_mean + h->bare_m2);
    out->final_A = i[FINAL] * (h->area_m2 * out->coating_final + h->bare_m2);
}

static Validity
of_one(const AnodedHull *h, HullAnodes *out)
{
    double face = h->length_m * h->width_m;
    const AnodeSize first = {.exposed_m2 =
                                 face + 2.0 * h->thickness_m * (h->length_m + h->width_m)};
    const AnodeSize last = {.exposed_m2 = face};
    Validity validity = validity_worse(
        anode_resistance(ANODE_SHORT_FLUSH, h->resistivity_ohm_m, &first, &out->initial_ohm),
        anode_resistance(ANODE_SHORT_FLUSH, h->resistivity_ohm_m, &last, &out->final_ohm));
    out->anode_initial_A = h->driving_V / out->initial_ohm;
    out->anode_final_A = h->driving_V / out->final_ohm;
    return validity;
}

Validity
hull_anodes(const AnodedHull *hull, HullAnodes *out)
{
    const AnodedHull *h = hull;
    const HullAnodes none = {NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    *out = none;
    if (!usable(h))
        return REFUSED;
    demand(h, out);
    if (of_one(h, out) == REFUSED || anode_mass(out->mean_A, h->life_s, h->capacity_C_per_kg,
                                                h->utilisation, &out->mass_kg) == REFUSED) {
        *out = none;
        return REFUSED;
    }
    out->count_mass = out->mass_kg / h->mass_kg;
    out->count_initial = out->initial_A / out->anode_initial_A;
    out->count_final = out->final_A / out->anode_final_A;
    out->anodes = ceil(fmax(out->count_mass, fmax(out->count_initial, out->count_final)) - 1e-9);
    bool fits = h->length_m < 4.0 * h->width_m && is_within(h->resistivity_ohm_m, 0.15, 0.50);
    return fits ? VALID : EXTRAPOLATED;
}
