/* Limits and cautions: figures as the method sheets on floating and on the trade have them. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <math.h>
#include <string.h>

#include <cmocka.h>

#include "catalog/catalog.h"

#define DEG (3.14159265358979323846 / 180.0)

static void
figures_of_the_sheets(void **state)
{
    static const struct {
        const char *id;
        double value;
        QuantityKind kind;
        Standing standing;
    } sheet[] = {
        /* docs/methods/float.md 5.1 */
        {"stiffness", 0.35, Q_LENGTH, STANDING_READ},
        /* 5.6 */
        {"safety-clearance", 0.300, Q_SMALL_LENGTH, STANDING_READ},
        {"safety-clearance-open", 0.500, Q_SMALL_LENGTH, STANDING_READ},
        {"inland-freeboard", 0.150, Q_SMALL_LENGTH, STANDING_READ},
        {"wind-heel", 12 * DEG, Q_ANGLE, STANDING_MEMORY},
        {"wind-heel-pressure", 250, Q_PRESSURE, STANDING_MEMORY},
        /* docs/methods/trade.md 2.7 */
        {"openings", 0.250, Q_SMALL_LENGTH, STANDING_SECONDARY},
        {"list", 1.5 * DEG, Q_ANGLE, STANDING_PRACTICE},
    };
    for (size_t i = 0; i < sizeof sheet / sizeof *sheet; i++) {
        const Limit *limit = catalog_limit(*state, sheet[i].id);
        if (limit == NULL)
            fail_msg("no limit %s", sheet[i].id);
        if (!(fabs(limit->value - sheet[i].value) < 1e-12))
            fail_msg("%s is %.9g, the sheet has %.9g", limit->id, limit->value, sheet[i].value);
        assert_int_equal(limit->kind, sheet[i].kind);
        assert_int_equal(limit->source.standing, sheet[i].standing);
    }
}

static void
every_limit(void **state)
{
    const Limit *limits;
    size_t n = catalog_limits(*state, &limits);
    assert_true(n >= 10);
    for (size_t i = 0; i < n; i++) {
        assert_true(limits[i].id[0] >= 'a' && limits[i].id[0] <= 'z');
        assert_int_equal(strspn(limits[i].id, "abcdefghijklmnopqrstuvwxyz0123456789-"),
                         strlen(limits[i].id));
        assert_true(strlen(limits[i].what) > 10 && strlen(limits[i].source.text) > 10);
        assert_true(isfinite(limits[i].value) && limits[i].value > 0);
        assert_ptr_equal(catalog_limit(*state, limits[i].id), &limits[i]);
        /* what its source calls recalled must not stand as read, and the other way round */
        bool recalled = strstr(limits[i].source.text, "recalled") != NULL;
        assert_int_equal(recalled, limits[i].source.standing == STANDING_MEMORY);
    }
}

static void
unknown_limits(void **state)
{
    assert_null(catalog_limit(*state, ""));
    assert_null(catalog_limit(*state, "no-such-limit"));
    assert_null(catalog_caution(*state, ""));
    assert_null(catalog_caution(*state, "AF0"));
}

static void
cautions_are_whole(void **state)
{
    static const char *const ids[] = {"AF1", "AF2", "AF3", "AF4", "AF5", "AF6", "AF7", "UW2",
                                      "HA1", "WI1", "WI2", "WI3", "WI4", "WI5", "PO1", "PO2",
                                      "ST1", "ST2", "ST4", "ST6", "ST7", "ST8", "SA1", "SA2",
                                      "SA3", "WM3", "WM4", "WO1", "WO2", "WO3"};
    for (size_t i = 0; i < sizeof ids / sizeof *ids; i++) {
        const Caution *caution = catalog_caution(*state, ids[i]);
        assert_non_null(caution);
        assert_string_equal(caution->id, ids[i]);
        assert_true(strlen(caution->text) > 40 && caution->text[strlen(caution->text) - 1] == '.');
        assert_true(strlen(caution->ask) > 5 && strlen(caution->trigger) > 5);
        assert_non_null(caution->source.text);
    }
    const Caution *all;
    assert_int_equal(catalog_cautions(*state, &all), sizeof ids / sizeof *ids);
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
        cmocka_unit_test(figures_of_the_sheets),
        cmocka_unit_test(every_limit),
        cmocka_unit_test(unknown_limits),
        cmocka_unit_test(cautions_are_whole),
    };
    return cmocka_run_group_tests(tests, load, unload);
}
