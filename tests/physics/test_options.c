/* A choice between plans: laws that no figure of the cases shows. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "physics/work/dominance.h"
#include "physics/work/scenarios.h"
#include "physics/work/two_plans.h"

static void
plans_meet_where_they_cross(void **state)
{
    (void) state;
    NormalFinish steady = {43.0, 2.0}, loose = {40.0, 6.0};
    TwoPlans at, before, after;
    assert_int_equal(two_plans(loose, steady, 0.0, &at), VALID);
    assert_int_equal(two_plans(loose, steady, at.crossing_h, &at), VALID);
    assert_true(fabs(at.chance_a - at.chance_b) < 1e-12);
    assert_true(fabs(at.chance_a - at.crossing_chance) < 1e-12);
    two_plans(loose, steady, at.crossing_h - 1.0, &before);
    two_plans(loose, steady, at.crossing_h + 1.0, &after);
    assert_true(before.chance_a > before.chance_b && after.chance_a < after.chance_b);
    TwoPlans swapped;
    two_plans(steady, loose, 46.0, &swapped);
    assert_true(fabs(swapped.a_earlier + at.a_earlier - 1.0) < 1e-12);
    TwoPlans alike;
    assert_int_equal(two_plans(steady, (NormalFinish){40.0, 2.0}, NAN, &alike), VALID);
    assert_true(isnan(alike.crossing_h) && isnan(alike.chance_a) && alike.a_earlier < 0.5);
    assert_int_equal(two_plans((NormalFinish){40.0, -1.0}, steady, 46.0, &alike), REFUSED);
    assert_true(isnan(alike.a_earlier));
}

static void
pairs_are_counted(void **state)
{
    (void) state;
    double difference, error;
    assert_int_equal(paired_trials(100.0, 100.0, 0.0, &difference, &error), VALID);
    assert_true(difference == 1.0 && error == 0.0);
    static const double wrong[][3] = {
        {0.0, 0.0, 0.0}, {10.0, 2.5, 0.0}, {10.0, -1.0, 0.0}, {10.0, 6.0, 5.0}, {NAN, 1.0, 1.0}};
    for (size_t i = 0; i < 5; i++)
        assert_int_equal(paired_trials(wrong[i][0], wrong[i][1], wrong[i][2], &difference, &error),
                         REFUSED);
}

/* The least expected regret belongs to the least expected cost, and is what perfect information is worth. */
static void
regret_follows_cost(void **state)
{
    (void) state;
    static const double cost[] = {9, 14, 30, 12, 13, 16, 15, 15, 15}, chance[] = {0.1, 0.2, 0.7};
    ScenarioOption found[3];
    ScenarioChoice choice;
    assert_int_equal(scenario_choice(3, 3, cost, chance, found, &choice), VALID);
    double least = INFINITY;
    for (size_t o = 0; o < 3; o++) {
        least = fmin(least, found[o].expected_regret);
        assert_true(found[o].expected_regret <= found[o].max_regret);
    }
    assert_true(fabs(least - choice.perfect_information) < 1e-12);
    double known = 0.1 * 9 + 0.2 * 13 + 0.7 * 15;
    assert_true(fabs(found[choice.best].expected - known - choice.perfect_information) < 1e-12);
    static const double gap[] = {1, 2, NAN, 4}, half[] = {0.5, 0.5}, more[] = {0.5, 0.6};
    assert_int_equal(scenario_choice(2, 2, gap, half, found, &choice), REFUSED);
    assert_int_equal(scenario_choice(2, 2, cost, more, found, &choice), REFUSED);
    assert_int_equal(scenario_choice(0, 2, cost, half, found, &choice), REFUSED);
}

static void
first_order_carries_convex_order(void **state)
{
    (void) state;
    static const double value[] = {10, 20, 30, 40};
    static const double steps[][4] = {{0.4, 0.3, 0.2, 0.1},     {0.1, 0.2, 0.3, 0.4},
                                      {0.25, 0.25, 0.25, 0.25}, {0.0, 0.5, 0.5, 0.0},
                                      {0.3, 0.2, 0.2, 0.3},     {0.0, 0.0, 0.0, 1.0}};
    for (size_t a = 0; a < 6; a++)
        for (size_t b = 0; b < 6; b++) {
            Dominance d, back;
            assert_int_equal(dominance(4, value, steps[a], steps[b], &d), VALID);
            assert_int_equal(dominance(4, value, steps[b], steps[a], &back), VALID);
            if (d.first_order == BETTER_A)
                assert_true(d.convex_order == BETTER_A && d.mean_a < d.mean_b);
            assert_int_equal(d.first_order == BETTER_A, back.first_order == BETTER_B);
            assert_int_equal(d.convex_order == BETTER_A, back.convex_order == BETTER_B);
            assert_int_equal(d.first_order == BETTER_BOTH, a == b);
        }
    static const double falls[] = {10, 30, 20, 40}, short_sum[] = {0.3, 0.3, 0.3, 0.0};
    Dominance d;
    assert_int_equal(dominance(4, falls, steps[0], steps[1], &d), REFUSED);
    assert_int_equal(dominance(4, value, short_sum, steps[1], &d), REFUSED);
    assert_int_equal(dominance(0, value, steps[0], steps[1], &d), REFUSED);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plans_meet_where_they_cross),
        cmocka_unit_test(pairs_are_counted),
        cmocka_unit_test(regret_follows_cost),
        cmocka_unit_test(first_order_carries_convex_order),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
