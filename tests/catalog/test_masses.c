/* Typical masses: spot values against the method sheet on the trade (docs/methods/trade.md 1),
 * densities and plate sums reckoned by hand, and what happens outside the rows. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <math.h>
#include <string.h>

#include <cmocka.h>

#include "catalog/catalog.h"

static const ItemSize nothing = {NAN, NAN, NAN, NAN, NAN};

static TypicalMass
weigh(void **state, const char *kind, ItemSize size)
{
    TypicalMass mass;
    assert_true(catalog_mass(*state, kind, &size, &mass));
    assert_string_equal(mass.kind, kind);
    return mass;
}

static void
assert_near(double value, double expected, double tolerance)
{
    if (!(fabs(value - expected) <= tolerance))
        fail_msg("%.9g is not %.9g within %g", value, expected, tolerance);
}

static ItemSize
powered(double power_W)
{
    ItemSize size = nothing;
    size.power_W = power_W;
    return size;
}

static ItemSize
plate(double area_m2, double thickness_m)
{
    ItemSize size = nothing;
    size.area_m2 = area_m2;
    size.thickness_m = thickness_m;
    return size;
}

static ItemSize
holding(double volume_m3)
{
    ItemSize size = nothing;
    size.volume_m3 = volume_m3;
    return size;
}

static void
kinds_of_one_size(void **state)
{
    static const struct {
        const char *kind;
        double low_kg, high_kg; /* as the sheet has it */
    } sheet[] = {
        {"windlass", 18, 30},
        {"lead-battery", 26, 32},
        {"lithium-battery-100", 11, 13},
        {"stove", 55, 75},
        {"lithium-battery-200", 21, 26},
        {"lithium-battery-300", 30, 38},
        {"cast-stove", 80, 110},
        {"flue", 10, 20},
        {"hearth", 30, 60},
        {"gas-cooker", 30, 45},
        {"gas-cylinder", 26, 30},
        {"toilet", 10, 20},
        {"electric-toilet", 15, 25},
        {"petrol-generator", 21, 25},
        {"gear-of-one", 150, 300},
        {"tools-and-stock", 200, 600},
        {"washing-machine", 35, 70},
        {"stern-gear", 70, 70},
        {"bilge-pump", 0.5, 2},
        {"pressure-pump", 2, 4},
    };
    for (size_t i = 0; i < sizeof sheet / sizeof *sheet; i++) {
        TypicalMass mass = weigh(state, sheet[i].kind, nothing);
        assert_null(mass.asks);
        assert_false(mass.outside);
        assert_in_range((uintmax_t) (mass.mass_kg * 1000), (uintmax_t) (sheet[i].low_kg * 1000),
                        (uintmax_t) (sheet[i].high_kg * 1000));
        /* the spread reaches both ends of the sheet's range */
        assert_true(mass.mass_kg - mass.spread_kg <= sheet[i].low_kg);
        assert_true(mass.mass_kg + mass.spread_kg >= sheet[i].high_kg);
    }
}

static void
sizes_between_rows(void **state)
{
    assert_near(weigh(state, "diesel-inboard", powered(35e3)).mass_kg, 250, 1e-9);
    /* half way from 60 to 90 kW: (1200 + 1700) / 2 */
    TypicalMass engine = weigh(state, "slow-diesel", powered(75e3));
    assert_near(engine.mass_kg, 1450, 1e-9);
    assert_string_equal(engine.asks, "power");
    assert_false(engine.outside);
    assert_int_equal(engine.source.standing, STANDING_MEMORY);
    /* half way from 40 to 55 L: (14 + 18) / 2 */
    assert_near(weigh(state, "calorifier", holding(0.0475)).mass_kg, 16, 1e-9);
    assert_near(weigh(state, "calorifier", holding(0.0475)).spread_kg, 4, 1e-9);
}

static void
sizes_outside_the_rows(void **state)
{
    /* the mass per size of the end row holds: 1700 / 90 kW and 750 / 30 kW */
    TypicalMass large = weigh(state, "slow-diesel", powered(180e3));
    assert_true(large.outside);
    assert_near(large.mass_kg, 3400, 1e-9);
    assert_near(large.spread_kg, 0.30 * 3400, 1e-9);
    TypicalMass small = weigh(state, "slow-diesel", powered(15e3));
    assert_true(small.outside);
    assert_near(small.mass_kg, 375, 1e-9);
    assert_false(weigh(state, "slow-diesel", powered(30e3)).outside);
    assert_false(weigh(state, "slow-diesel", powered(90e3)).outside);
}

static void
kinds_by_proportion(void **state)
{
    ItemSize run = nothing, floor = nothing;
    run.length_m = 60;
    floor.area_m2 = 12.5;
    assert_near(weigh(state, "chain-10-mm", run).mass_kg, 132, 1e-9);
    assert_near(weigh(state, "furniture", floor).mass_kg, 875, 1e-9);
    assert_near(weigh(state, "solar-panel", powered(400)).mass_kg, 23, 1e-9);
    assert_false(weigh(state, "solar-panel", powered(4000)).outside);
    /* overplating 30 m2 with 4 mm = 0.94 t (docs/methods/trade.md 2.7) */
    assert_near(weigh(state, "steel-plate", plate(30, 0.004)).mass_kg, 942, 0.5);
    assert_near(weigh(state, "steel-shell", plate(1, 0.005)).mass_kg, 7850 * 0.005 * 1.3, 1e-9);
    assert_near(weigh(state, "paving-ballast", plate(2, 0.05)).mass_kg, 230, 1e-9);
    assert_near(weigh(state, "glass", plate(1, 0.006)).mass_kg, 15, 1e-9);
    assert_near(weigh(state, "plywood", plate(1, 0.012)).mass_kg, 7.5, 0.1);
    assert_near(weigh(state, "spray-foam", plate(1, 0.05)).mass_kg, 2.0, 1e-9);
    /* one dense brick of 215 x 102.5 x 65 mm weighs 3.15 kg */
    assert_near(weigh(state, "brick-ballast", holding(0.215 * 0.1025 * 0.065)).mass_kg, 3.15, 0.01);
}

static void
tubes_and_shafts_by_geometry(void **state)
{
    static const struct {
        const char *kind;
        double inner_m, outer_m;
    } round[] = {
        {"tunnel-tube-125", 0.125, 0.135}, {"tunnel-tube-150", 0.150, 0.162},
        {"tunnel-tube-185", 0.185, 0.197}, {"tunnel-tube-200", 0.200, 0.212},
        {"tunnel-tube-250", 0.250, 0.264}, {"tunnel-tube-300", 0.300, 0.316},
        {"propeller-shaft", 0.0, 0.040},
    };
    ItemSize metre = nothing;
    metre.length_m = 1;
    for (size_t i = 0; i < sizeof round / sizeof *round; i++) {
        double area_m2 =
            acos(-1.0) / 4 *
            (round[i].outer_m * round[i].outer_m - round[i].inner_m * round[i].inner_m);
        assert_near(weigh(state, round[i].kind, metre).mass_kg, 7850 * area_m2, 0.1);
    }
}

static void
size_missing_gives_no_number(void **state)
{
    static const double odd[] = {NAN, 0.0, -1.0, INFINITY};
    for (size_t i = 0; i < sizeof odd / sizeof *odd; i++) {
        TypicalMass mass = weigh(state, "slow-diesel", powered(odd[i]));
        assert_true(isnan(mass.mass_kg) && isnan(mass.spread_kg));
        assert_string_equal(mass.asks, "power");
        assert_non_null(mass.source.text);
        assert_true(isnan(weigh(state, "steel-plate", plate(1, odd[i])).mass_kg));
        assert_true(isnan(weigh(state, "steel-plate", plate(odd[i], 0.005)).mass_kg));
    }
}

static void
unknown_kinds(void **state)
{
    static const char *const odd[] = {"", "zzz", "Stove", "a", "stove "};
    TypicalMass mass;
    for (size_t i = 0; i < sizeof odd / sizeof *odd; i++) {
        assert_false(catalog_mass(*state, odd[i], &nothing, &mass));
        assert_true(isnan(mass.mass_kg));
        assert_null(catalog_kind_meaning(*state, odd[i]));
    }
    assert_false(catalog_mass(*state, NULL, &nothing, &mass));
}

static void
every_kind(void **state)
{
    const char *const *kinds;
    size_t n = catalog_kinds(*state, &kinds);
    ItemSize some = {4e3, 0.08, 2.0, 3.0, 0.005};
    assert_true(n > 50);
    for (size_t i = 0; i < n; i++) {
        if (i > 0)
            assert_true(strcmp(kinds[i - 1], kinds[i]) < 0);
        assert_true(kinds[i][0] >= 'a' && kinds[i][0] <= 'z');
        assert_int_equal(strspn(kinds[i], "abcdefghijklmnopqrstuvwxyz0123456789-"),
                         strlen(kinds[i]));
        assert_true(strlen(catalog_kind_meaning(*state, kinds[i])) > 5);
        TypicalMass mass = weigh(state, kinds[i], some);
        assert_true(mass.mass_kg > 0 && isfinite(mass.mass_kg));
        assert_true(mass.spread_kg > 0 && mass.spread_kg < mass.mass_kg);
        assert_true(strlen(mass.source.text) > 5);
        assert_int_not_equal(mass.source.standing, STANDING_OWNER);
    }
}

static void
mass_grows_with_size(void **state)
{
    const char *const *kinds;
    size_t n = catalog_kinds(*state, &kinds);
    for (size_t i = 0; i < n; i++) {
        double last = 0.0;
        for (double share = 0.01; share < 200.0; share *= 1.07) {
            ItemSize size = {share * 1e3, share * 0.01, share, share, 0.005};
            TypicalMass mass = weigh(state, kinds[i], size);
            if (mass.asks == NULL)
                break;
            if (!(mass.mass_kg > last))
                fail_msg("%s: %g kg after %g kg", kinds[i], mass.mass_kg, last);
            last = mass.mass_kg;
        }
    }
}

static int
load(void **state)
{
    *state = catalog_load();
    return 0;
}

static int
unload(void **state)
{
    catalog_free(*state);
    return 0;
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(kinds_of_one_size),
        cmocka_unit_test(sizes_between_rows),
        cmocka_unit_test(sizes_outside_the_rows),
        cmocka_unit_test(kinds_by_proportion),
        cmocka_unit_test(tubes_and_shafts_by_geometry),
        cmocka_unit_test(size_missing_gives_no_number),
        cmocka_unit_test(unknown_kinds),
        cmocka_unit_test(every_kind),
        cmocka_unit_test(mass_grows_with_size),
    };
    return cmocka_run_group_tests(tests, load, unload);
}
