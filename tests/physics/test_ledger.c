/* The ledger against drawing every error by hand. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "hulls.h"

#include "physics/afloat/ledger.h"

enum { ITEMS = 8, DRAWS = 200000 };

static const LedgerItem items[ITEMS] = {
    {14200, 300, 5.10, 0.08, 0.00, 0.01, 1.02, 0.06, 0},
    {-780, 80, 6.20, 0.10, 0.00, 0.02, 0.85, 0.05, 2},
    {520, 60, 6.35, 0.05, 0.00, 0.02, 0.80, 0.05, 2},
    {310, 45, 4.20, 0.10, -0.45, 0.05, 0.55, 0.05, 2},
    {140, 20, 2.10, 0.20, 0.60, 0.10, 1.90, 0.10, 0},
    {600, 30, 8.80, 0.15, 0.00, 0.02, 0.40, 0.05, 1},
    {400, 60, 1.20, 0.15, 0.80, 0.02, 0.70, 0.05, 1},
    {250, 0, 3.00, 0.0, -1.0, 0.0, 1.5, 0.0, 1},
};

static void
spreads_are_those_of_many_draws(void **state)
{
    (void) state;
    LedgerSum sum;
    assert_int_equal(ledger_sum(ITEMS, items, &sum, NULL, NULL, NULL), VALID);
    test_random_restart(41);
    double s[4] = {0}, ss[4] = {0}, mx = 0.0;
    for (int d = 0; d < DRAWS; d++) {
        double group[3] = {0.0, test_normal(), test_normal()}, m = 0.0, g[3] = {0.0};
        for (int i = 0; i < ITEMS; i++) {
            const LedgerItem *it = &items[i];
            /* Of one group all masses are wrong by the same sense of their own size. */
            double e =
                it->group > 0 ? group[it->group] * (it->mass_kg < 0.0 ? -1.0 : 1.0) : test_normal();
            double w = it->mass_kg + e * it->mass_spread_kg;
            m += w;
            g[0] += w * (it->x_m + it->x_spread_m * test_normal());
            g[1] += w * (it->y_m + it->y_spread_m * test_normal());
            g[2] += w * (it->z_m + it->z_spread_m * test_normal());
        }
        double v[4] = {m - sum.mass_kg, g[0] / m - sum.lcg_m, g[1] / m - sum.tcg_m,
                       g[2] / m - sum.vcg_m};
        for (int k = 0; k < 4; k++) {
            s[k] += v[k];
            ss[k] += v[k] * v[k];
        }
        mx += v[0] * v[1];
    }
    const double found[4] = {sum.mass_spread_kg, sum.lcg_spread_m, sum.tcg_spread_m,
                             sum.vcg_spread_m};
    for (int k = 0; k < 4; k++) {
        double deviation = sqrt(ss[k] / DRAWS - s[k] * s[k] / DRAWS / DRAWS);
        assert_close(found[k] / deviation, 1.0,
                     0.012); /* 200 000 draws: 0.2 % of chance, 0.5 % of second order */
    }
    assert_close(mx / DRAWS / (found[0] * found[1]),
                 sum.mass_lcg_covariance / (found[0] * found[1]), 0.01);
}

static void
shares_add_up(void **state)
{
    (void) state;
    LedgerSum sum;
    double share[3][ITEMS];
    assert_int_equal(ledger_sum(ITEMS, items, &sum, share[0], share[1], share[2]), VALID);
    for (int k = 0; k < 3; k++) {
        double all = 0.0;
        for (int i = 0; i < ITEMS; i++) {
            assert_true(share[k][i] >= 0.0);
            all += share[k][i];
        }
        assert_close(all, 1.0, 1e-12);
    }
    assert_true(share[0][0] > 0.5); /* the big uncertain one */
}

static void
correlated_items_add_plainly(void **state)
{
    (void) state;
    LedgerItem two[2] = {{100, 10, 0, 0, 0, 0, 0, 0, 0}, {100, 10, 2, 0, 0, 0, 0, 0, 0}};
    LedgerSum sum;
    assert_int_equal(ledger_sum(2, two, &sum, NULL, NULL, NULL), VALID);
    assert_close(sum.mass_spread_kg, sqrt(200.0), 1e-12);
    assert_close(sum.lcg_spread_m, sqrt(2.0) * 10.0 / 200.0, 1e-12);
    two[0].group = two[1].group = 7;
    assert_int_equal(ledger_sum(2, two, &sum, NULL, NULL, NULL), VALID);
    assert_close(sum.mass_spread_kg, 20.0, 1e-12);
    assert_close(sum.lcg_spread_m, 0.0, 1e-12); /* both too heavy by as much: the centre stays */
}

static void
order_does_not_matter(void **state)
{
    (void) state;
    LedgerItem turned[ITEMS];
    for (int i = 0; i < ITEMS; i++)
        turned[i] = items[ITEMS - 1 - i];
    LedgerSum a, b;
    ledger_sum(ITEMS, items, &a, NULL, NULL, NULL);
    ledger_sum(ITEMS, turned, &b, NULL, NULL, NULL);
    assert_close(a.mass_spread_kg, b.mass_spread_kg, 1e-9);
    assert_close(a.vcg_spread_m, b.vcg_spread_m, 1e-12);
}

static void
nonsense_is_refused(void **state)
{
    (void) state;
    LedgerSum sum;
    LedgerItem it = {100, 1, 1, 0, 0, 0, 1, 0, 0};
    assert_int_equal(ledger_sum(1, &it, &sum, NULL, NULL, NULL), VALID);
    assert_int_equal(ledger_sum(0, &it, &sum, NULL, NULL, NULL), REFUSED);
    it.mass_spread_kg = -1.0;
    assert_int_equal(ledger_sum(1, &it, &sum, NULL, NULL, NULL), REFUSED);
    assert_true(isnan(sum.mass_kg));
    it.mass_spread_kg = 1.0;
    it.x_m = NAN;
    assert_int_equal(ledger_sum(1, &it, &sum, NULL, NULL, NULL), REFUSED);
    it.x_m = 1.0;
    it.mass_kg = -100.0;
    assert_int_equal(ledger_sum(1, &it, &sum, NULL, NULL, NULL), REFUSED);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(spreads_are_those_of_many_draws),
        cmocka_unit_test(shares_add_up),
        cmocka_unit_test(correlated_items_add_plainly),
        cmocka_unit_test(order_does_not_matter),
        cmocka_unit_test(nonsense_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
