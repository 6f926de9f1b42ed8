/* The same quantity on another basis. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>
#include <glib.h>

#include "base/quantity.h"

static void
each_form_takes_another_basis(void **state)
{
    (void) state;
    static const struct {
        const char *typed;
        Basis basis;
        const char *expected;
    } cases[] = {
        {"about 95 kg", BASIS_MEASURED, "95 kg (measured)"},
        {"95 kg ± 5 kg (seller, told by phone)", BASIS_PLATE,
         "95 kg ± 5 kg (plate, told by phone)"},
        {"95 kg +/- 5 %", BASIS_MAKER, "95 kg +/- 5 % (maker)"},
        {"95 kg", BASIS_BY_EYE, "about 95 kg"},
        {"95 kg (measured)", BASIS_BY_EYE, "about 95 kg"},
        {"95 kg (measured, crane)", BASIS_BY_EYE, "about 95 kg (by-eye, crane)"},
        {"95 kg (by-eye)", BASIS_BY_EYE, "about 95 kg"},
        {"about 95 kg (maker)", BASIS_MAKER, "95 kg (maker)"},
        {"about 95 kg (by-eye, two men, one tired)", BASIS_STATED,
         "95 kg (stated, two men, one tired)"},
        {"95 kg (seller)", BASIS_STATED, "95 kg"},
        {"95 kg (seller, )", BASIS_STATED, "95 kg"},
        {"95 kg", BASIS_STATED, "95 kg"},
        {"95 kg", BASIS_ASSUMED, "95 kg (assumed)"},
        {"  about  4 x 27 kg ± 1 kg  (seller,told (twice)) ", BASIS_MEASURED,
         "4 x 27 kg ± 1 kg (measured, told (twice))"},
        {"5 ft 6 1/2 in", BASIS_MEASURED, "5 ft 6 1/2 in (measured)"},
        {"3/8 in (measured)", BASIS_SELLER, "3/8 in (seller)"},
        {"0.6 W/(m2 K) (maker)", BASIS_MEASURED, "0.6 W/(m2 K) (measured)"},
        {"-3 °C", BASIS_MEASURED, "-3 °C (measured)"},
        {"40 %", BASIS_MEASURED, "40 % (measured)"},
        {"4", BASIS_MEASURED, "4 (measured)"},
        {"310 per month (seller)", BASIS_STATED, "310 per month"},
        {"0.6 m aft of engine-bulkhead (measured)", BASIS_BY_EYE,
         "about 0.6 m aft of engine-bulkhead"},
        {"about 0.8 m starboard ± 0.1 m", BASIS_MEASURED, "0.8 m starboard ± 0.1 m (measured)"},
        {"6.0 m to 10.4 m ± 30 mm", BASIS_MEASURED, "6.0 m to 10.4 m ± 30 mm (measured)"},
        {"unknown", BASIS_MEASURED, NULL},
        {"", BASIS_MEASURED, NULL},
        {"about", BASIS_MEASURED, NULL},
        {"3 h / 5 h / 9 h", BASIS_MEASURED, NULL},
        {"yes (2027-04-12)", BASIS_MEASURED, NULL},
        {"fresh", BASIS_MEASURED, NULL},
        {"95 kg (meazured)", BASIS_PLATE, NULL},
        {"95 kg (seller", BASIS_PLATE, NULL},
        {"95 kg ± 5 kg ± 5 kg", BASIS_PLATE, NULL},
        {"95 kg\n", BASIS_PLATE, NULL},
        {"\xff", BASIS_PLATE, NULL},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *rebased = quantity_text_rebased(cases[i].typed, cases[i].basis);
        if (g_strcmp0(rebased, cases[i].expected) != 0)
            fail_msg("%s, %s: \"%s\", expected \"%s\"", cases[i].typed, basis_word(cases[i].basis),
                     rebased, cases[i].expected);
    }
}

/* A note too long to stand behind a longer word is refused, not cut. */
static void
too_long_is_refused(void **state)
{
    (void) state;
    g_autofree char *words = g_strnfill(1000 - strlen("1 kg (maker, )"), 'x');
    g_autofree char *typed = g_strdup_printf("1 kg (maker, %s)", words);
    g_autofree char *longer = quantity_text_rebased(typed, BASIS_MEASURED);
    g_autofree char *same = quantity_text_rebased(typed, BASIS_PLATE);
    assert_null(longer);
    assert_non_null(same);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_form_takes_another_basis),
        cmocka_unit_test(too_long_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
