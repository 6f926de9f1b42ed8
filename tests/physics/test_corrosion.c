/* Metals in seawater: tables against the sheet, Faraday by handbook equivalents, anodes between closed forms. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <string.h>

#include "hulls.h"

#include "base/csv.h"
#include "physics/wiring/anode.h"
#include "physics/wiring/faraday.h"
#include "physics/wiring/galvanic.h"
#include "physics/wiring/hull_anodes.h"
#include "physics/wiring/hull_potential.h"

static Csv *
sheet(const char *name)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = g_build_filename(METHODS, name, NULL);
    Csv *csv = csv_load(path, &error);
    assert_null(error);
    return csv;
}

static double
cell(const Csv *csv, size_t row, const char *column)
{
    return g_ascii_strtod(csv_cell(csv, row, (size_t) csv_column(csv, column)), NULL);
}

/* --- galvanic series -------------------------------------------------------------------------------------------------------- */

static const char *const metals[] = {
#define METAL(word, a, b) word,
#include "physics/wiring/galvanic.def"
#undef METAL
};
enum { METALS = sizeof metals / sizeof *metals };

static size_t
metal(const char *word)
{
    for (size_t i = 0; i < METALS; i++)
        if (strcmp(metals[i], word) == 0)
            return i;
    fail_msg("no metal %s", word);
    return 0;
}

/* docs/methods/wires-galvanic-series.csv names them at length; here in its order. */
static const char *const series_a[] = {"magnesium",
                                       "magnesium-2mn",
                                       "magnesium-9al",
                                       "galvanised-iron",
                                       "zinc-plating",
                                       "cadmium-zinc-solder",
                                       "zinc",
                                       "cadmium",
                                       "aluminium-marine",
                                       "mild-steel",
                                       "alloy-steel",
                                       "aluminium-forged",
                                       "stainless-active",
                                       "tin",
                                       "manganese-bronze",
                                       "naval-brass",
                                       "yellow-brass",
                                       "silicon-bronze",
                                       NULL};
static const char *const series_b[] = {"graphite",
                                       "platinum",
                                       "zirconium",
                                       "stainless-316-passive",
                                       "stainless-304-passive",
                                       "nickel-copper-400",
                                       "nickel-chromium-molybdenum-c",
                                       "titanium",
                                       "silver",
                                       "stainless-410-passive",
                                       "stainless-316-active",
                                       "nickel",
                                       "stainless-430-passive",
                                       "cupronickel-70-30",
                                       "cupronickel-90-10",
                                       "admiralty-brass",
                                       "g-bronze",
                                       "aluminium-brass",
                                       "copper",
                                       "naval-brass",
                                       "stainless-410-active",
                                       "stainless-304-active",
                                       "stainless-430-active",
                                       "carbon-steel",
                                       "cast-iron",
                                       "aluminium-3003",
                                       "zinc",
                                       NULL};

static void
series_are_those_of_the_sheet(void **state)
{
    (void) state;
    g_autoptr(Csv) csv = sheet("wires-galvanic-series.csv");
    size_t at[2] = {0, 0}, in_both = 0, known = 0;
    for (size_t i = 0; i < csv_rows(csv); i++) {
        const char *series = csv_cell(csv, i, (size_t) csv_column(csv, "series"));
        if (*series == 'C')
            continue;
        GalvanicSeries s = *series == 'A' ? SERIES_A : SERIES_B;
        const char *word = (s == SERIES_A ? series_a : series_b)[at[s]++];
        assert_non_null(word);
        assert_close(galvanic_potential_V(metal(word), s), cell(csv, i, "potential_V"), 1e-12);
    }
    assert_null(series_a[at[SERIES_A]]);
    assert_null(series_b[at[SERIES_B]]);
    for (size_t i = 0; i < METALS; i++) {
        int in =
            !isnan(galvanic_potential_V(i, SERIES_A)) + !isnan(galvanic_potential_V(i, SERIES_B));
        known += (size_t) in;
        in_both += in == 2;
    }
    assert_int_equal(known, at[SERIES_A] + at[SERIES_B]);
    assert_int_equal(in_both, 2); /* zinc, naval brass */
}

/* Whichever way round, the same metal is eaten, and in a chain of three the differences add. */
static void
couples_have_no_order(void **state)
{
    (void) state;
    for (size_t i = 0; i < METALS; i++)
        for (size_t k = 0; k < METALS; k++)
            for (int s = SERIES_A; s <= SERIES_B; s++) {
                GalvanicCouple one, other;
                Validity v = galvanic_couple(i, k, (GalvanicSeries) s, &one);
                assert_int_equal(galvanic_couple(k, i, (GalvanicSeries) s, &other), v);
                if (v == REFUSED) {
                    assert_true(isnan(one.difference_V) && one.corrodes == -1);
                    continue;
                }
                assert_close(one.difference_V, other.difference_V, 1e-15);
                assert_true(one.difference_V >= 0.0);
                if (one.corrodes < 0)
                    assert_true(other.corrodes < 0 && one.difference_V == 0.0);
                else
                    assert_int_equal(one.corrodes, 1 - other.corrodes);
            }
    GalvanicCouple c;
    assert_int_equal(galvanic_couple(metal("zinc"), metal("mild-steel"), SERIES_B, &c), REFUSED);
    assert_int_equal(galvanic_couple(METALS, 0, SERIES_A, &c), REFUSED);
    galvanic_couple(metal("zinc"), metal("carbon-steel"), SERIES_B, &c);
    assert_int_equal(c.corrodes, 0); /* why anodes are made of it */
}

/* --- readings ----------------------------------------------------------------------------------------------------------------- */

static void
readings_are_judged_alike_by_all_electrodes(void **state)
{
    (void) state;
    /* -0.80 V of silver chloride = -0.85 V of copper sulphate = +0.25 V of zinc (docs/methods/wires.md 7.1). */
    const double same[] = {-0.80, 0.25, -0.85};
    for (int e = ELECTRODE_SILVER_CHLORIDE; e <= ELECTRODE_COPPER_SULPHATE; e++)
        for (int m = HULL_STEEL; m <= HULL_COPPER_ALLOY; m++) {
            double potential, enough, much;
            HullProtection at, last = HULL_OVER_PROTECTED;
            assert_int_equal(hull_potential(same[e], (Electrode) e, (HullMetal) m, &potential, &at),
                             VALID);
            assert_close(potential, -0.80, 1e-12);
            if (m == HULL_STEEL || m == HULL_HIGH_STRENGTH_STEEL)
                assert_int_equal(at, HULL_PROTECTED);
            hull_potential_limits((HullMetal) m, &enough, &much);
            assert_true(much < enough);
            for (double shift = -0.8; shift < 1.0; shift += 0.01) {
                hull_potential(same[e] + shift, (Electrode) e, (HullMetal) m, &potential, &at);
                assert_true(at <= last); /* less negative is never more protected */
                last = at;
            }
            assert_int_equal(last, HULL_UNPROTECTED);
        }
    double potential;
    HullProtection at;
    assert_int_equal(hull_potential(NAN, ELECTRODE_ZINC, HULL_STEEL, &potential, &at), REFUSED);
    assert_int_equal(hull_potential(-820.0, ELECTRODE_ZINC, HULL_STEEL, &potential, &at), REFUSED);
    assert_true(isnan(potential));
}

/* --- Faraday ------------------------------------------------------------------------------------------------------------------ */

/* Electrochemical equivalents in g/A h as handbooks print them (as remembered). */
static void
equivalents_of_the_handbook(void **state)
{
    (void) state;
    static const double g_per_Ah[] = {1.0418, 1.2197, 0.3356, 0.4534};
    for (int m = DISSOLVES_IRON; m <= DISSOLVES_MAGNESIUM; m++) {
        double mass, depth, twice, deeper;
        assert_int_equal(faraday_loss((Dissolving) m, 1.0, 3600.0, 2.0, &mass, &depth), VALID);
        assert_close(1e3 * mass, g_per_Ah[m], 2e-4);
        assert_close(mass * faraday_capacity_C_per_kg((Dissolving) m), 3600.0, 1e-6);
        faraday_loss((Dissolving) m, 2.0, 3600.0, 2.0, &twice, &deeper);
        assert_close(twice, 2.0 * mass, 1e-15);
        assert_close(deeper, 2.0 * depth, 1e-15);
        assert_int_equal(faraday_loss((Dissolving) m, 1.0, 1.0, NAN, &mass, &depth), VALID);
        assert_true(isnan(depth));
        assert_int_equal(faraday_loss((Dissolving) m, -1.0, 1.0, NAN, &mass, &depth), REFUSED);
        assert_int_equal(faraday_loss((Dissolving) m, 1.0, 1.0, 0.0, &mass, &depth), REFUSED);
        assert_true(isnan(mass));
    }
}

/* --- anodes ------------------------------------------------------------------------------------------------------------------- */

/* A rod on end in a half space is half of one twice as long in the whole: it has less resistance than the spheroid inside it and
 * more than one around it (semi-axes sqrt(3/2) and sqrt(3) times its own), which have closed forms. */
static double
spheroid(double rho, double a, double b)
{
    double c = sqrt(a * a - b * b);
    return rho / (2.0 * M_PI * c) * log((a + c) / b);
}

static void
rods_lie_between_spheroids(void **state)
{
    (void) state;
    for (double slender = 4.0; slender < 500.0; slender *= 1.3) {
        const AnodeSize rod = {.length_m = 0.5, .radius_m = 0.5 / slender};
        double R, near, brief;
        assert_int_equal(anode_resistance(ANODE_LONG_STAND_OFF, 0.3, &rod, &R), VALID);
        assert_true(R < spheroid(0.3, rod.length_m, rod.radius_m));
        assert_true(R > spheroid(0.3, sqrt(1.5) * rod.length_m, sqrt(3.0) * rod.radius_m));
        assert_int_equal(anode_resistance(ANODE_NEAR_STAND_OFF, 0.3, &rod, &near), VALID);
        assert_close(near, 1.3 * R, 1e-12);
        /* The short form turns into the long one. */
        assert_int_equal(anode_resistance(ANODE_SHORT_STAND_OFF, 0.3, &rod, &brief), EXTRAPOLATED);
        assert_close(brief / R, 1.0, 0.6 / slender);
    }
}

/* A plate on the hull: more than a ball of its area in the whole sea, less than a disc of its area on a wall. */
static void
plates_lie_between_ball_and_disc(void **state)
{
    (void) state;
    for (double area = 0.005; area < 1.0; area *= 2.0) {
        const AnodeSize plate = {.exposed_m2 = area};
        double R, bracelet;
        assert_int_equal(anode_resistance(ANODE_SHORT_FLUSH, 0.3, &plate, &R), VALID);
        assert_true(R > 0.3 / sqrt(4.0 * M_PI * area));
        assert_true(R < 0.3 / (4.0 * sqrt(area / M_PI)));
        assert_int_equal(anode_resistance(ANODE_BRACELET, 0.3, &plate, &bracelet), VALID);
        assert_true(bracelet == R);
    }
}

static void
anodes_refuse(void **state)
{
    (void) state;
    const AnodeSize rod = {0.5, 0.05, NAN, NAN}, plate = {0.5, NAN, 0.1, NAN};
    double R, kg;
    assert_int_equal(anode_resistance(ANODE_LONG_FLUSH, 0.3, &rod, &R), REFUSED);
    assert_int_equal(anode_resistance(ANODE_LONG_STAND_OFF, 0.3, &plate, &R), REFUSED);
    assert_int_equal(anode_resistance(ANODE_SHORT_FLUSH, 0.3, &plate, &R), REFUSED);
    assert_int_equal(anode_resistance(ANODE_LONG_FLUSH, NAN, &plate, &R), REFUSED);
    assert_true(isnan(R));
    const AnodeSize stub = {0.1, 0.2, NAN,
                            NAN}; /* the long form has run out: no resistance below 0 */
    assert_int_equal(anode_resistance(ANODE_LONG_STAND_OFF, 0.3, &stub, &R), REFUSED);
    assert_int_equal(anode_resistance(ANODE_SHORT_STAND_OFF, 0.3, &stub, &R), VALID);
    assert_int_equal(anode_mass(1.0, 3600.0, 2.8e6, 0.0, &kg), REFUSED);
    assert_int_equal(anode_mass(-1.0, 3600.0, 2.8e6, 1.0, &kg), REFUSED);
    assert_int_equal(anode_mass(1.0, 3600.0, NAN, 1.0, &kg), REFUSED);
    assert_true(isnan(kg) && isnan(anode_hull_area_m2(WETTED_FULL, 12.0, 0.0, 1.0)));
}

static AnodedHull
any_hull(void)
{
    return (AnodedHull){.area_m2 = test_between(10.0, 150.0),
                        .bare_m2 = test_between(0.0, 3.0),
                        .life_s = test_between(0.5, 20.0) * 8760.0 * 3600.0,
                        .coating = (Coating) (4.0 * test_random()),
                        .climate = (Climate) (4.0 * test_random()),
                        .length_m = test_between(0.2, 0.39),
                        .width_m = test_between(0.1, 0.2),
                        .thickness_m = test_between(0.02, 0.05),
                        .mass_kg = test_between(1.0, 10.0),
                        .utilisation = test_between(0.5, 1.0),
                        .capacity_C_per_kg = anode_metal_capacity_C_per_kg(ANODE_OF_ZINC),
                        .driving_V = anode_metal_driving_V(ANODE_OF_ZINC),
                        .resistivity_ohm_m = test_between(0.2, 0.33)};
}

/* As many as it says suffice for charge, first and last day; one fewer does not. */
static void
anodes_suffice_and_are_not_wasted(void **state)
{
    (void) state;
    test_random_restart(341);
    for (int n = 0; n < 300; n++) {
        AnodedHull h = any_hull();
        HullAnodes a;
        assert_int_equal(hull_anodes(&h, &a), VALID);
        for (int fewer = 0; fewer < 2; fewer++) {
            double count = a.anodes - fewer;
            bool charge = count * h.mass_kg * h.utilisation * h.capacity_C_per_kg >=
                          a.mean_A * h.life_s * (1.0 - 1e-9);
            bool first = count * h.driving_V / a.initial_ohm >= a.initial_A * (1.0 - 1e-9);
            bool last = count * h.driving_V / a.final_ohm >= a.final_A * (1.0 - 1e-9);
            assert_true((charge && first && last) == (fewer == 0));
        }
        /* Longer is never less. */
        h.life_s *= 1.5;
        HullAnodes longer;
        hull_anodes(&h, &longer);
        assert_true(longer.mass_kg > a.mass_kg && longer.final_A >= a.final_A &&
                    longer.coating_final <= 1.0);
    }
}

/* The rows of docs/methods/wires-dnv-b401.csv for 0 to 30 m come back from hulls that are all bare, or all new. */
static void
densities_and_coatings_of_the_sheet(void **state)
{
    (void) state;
    g_autoptr(Csv) csv = sheet("wires-dnv-b401.csv");
    const char *const climates[] = {"tropical", "subtropical", "temperate", "arctic"};
    const char *const categories[] = {"-", "I", "II", "III"};
    size_t seen = 0;
    test_random_restart(342);
    for (size_t i = 0; i < csv_rows(csv); i++) {
        const char *table = csv_cell(csv, i, 0), *row = csv_cell(csv, i, 1);
        if (strcmp(csv_cell(csv, i, 2), "0-30") != 0)
            continue;
        double v1 = cell(csv, i, "v1_initial_or_a_or_capacity_or_u");
        double v2 = cell(csv, i, "v2_mean_or_b_or_potential");
        for (int k = 0; k < 4; k++) {
            AnodedHull h = any_hull();
            HullAnodes a;
            if (strstr(table, "density") != NULL && strcmp(row, climates[k]) == 0) {
                h.climate = (Climate) k;
                h.coating = COATING_NONE;
                h.bare_m2 = 0.0;
                assert_int_equal(hull_anodes(&h, &a), VALID);
                assert_close(a.initial_A / h.area_m2, v1, 1e-12);
                assert_close(a.mean_A / h.area_m2, v2, 1e-12);
                assert_close(a.final_A / h.area_m2, cell(csv, i, "v3_final"), 1e-12);
                seen++;
            } else if (strstr(table, "coating") != NULL && strcmp(row, categories[k]) == 0) {
                h.coating = (Coating) k;
                h.life_s = 2.0 * 8760.0 * 3600.0;
                assert_int_equal(hull_anodes(&h, &a), VALID);
                assert_close(a.coating_mean, v1 + v2, 1e-12);
                assert_close(a.coating_final, v1 + 2.0 * v2, 1e-12);
                seen++;
            }
        }
    }
    assert_int_equal(seen, 7);
}

static void
hulls_refuse(void **state)
{
    (void) state;
    test_random_restart(343);
    const AnodedHull good = any_hull();
    HullAnodes a;
    AnodedHull h = good;
    h.area_m2 = h.bare_m2 = 0.0;
    assert_int_equal(hull_anodes(&h, &a), REFUSED);
    h = good;
    h.life_s = NAN;
    assert_int_equal(hull_anodes(&h, &a), REFUSED);
    h = good;
    h.length_m = 0.5 * h.width_m;
    assert_int_equal(hull_anodes(&h, &a), REFUSED);
    h = good;
    h.utilisation = 1.2;
    assert_int_equal(hull_anodes(&h, &a), REFUSED);
    assert_true(isnan(a.mass_kg) && isnan(a.anodes) && isnan(a.initial_A));
    h = good;
    h.length_m = 5.0 * h.width_m;
    assert_int_equal(hull_anodes(&h, &a), EXTRAPOLATED);
    h = good;
    h.resistivity_ohm_m = 30.0; /* fresh water */
    assert_int_equal(hull_anodes(&h, &a), EXTRAPOLATED);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(series_are_those_of_the_sheet),
        cmocka_unit_test(couples_have_no_order),
        cmocka_unit_test(readings_are_judged_alike_by_all_electrodes),
        cmocka_unit_test(equivalents_of_the_handbook),
        cmocka_unit_test(rods_lie_between_spheroids),
        cmocka_unit_test(plates_lie_between_ball_and_disc),
        cmocka_unit_test(anodes_refuse),
        cmocka_unit_test(anodes_suffice_and_are_not_wasted),
        cmocka_unit_test(densities_and_coatings_of_the_sheet),
        cmocka_unit_test(hulls_refuse),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
