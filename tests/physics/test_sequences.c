/* Quasi-random points: balance, and estimators that agree with the exact shares. The first rows of the table are enough here. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <stdbool.h>

#include "physics/work/sample_mean.h"
#include "physics/work/sensitivity.h"

/* Joe and Kuo 2008, dimensions 2 to 8, as in data/sobol-directions.csv. */
static const SobolRow rows[] = {
    {1, 0, {1}},          {2, 1, {1, 3}},        {3, 1, {1, 3, 1}},       {3, 2, {1, 1, 1}},
    {4, 1, {1, 1, 3, 3}}, {4, 4, {1, 3, 5, 13}}, {5, 2, {1, 1, 5, 5, 17}}};

static void
every_slice_is_hit_once(Sobol *sobol, bool plain)
{
    enum { N = 256 };
    bool hit[8][N] = {{false}};
    double point[8];
    for (size_t k = 0; k < N; k++) {
        sobol_next(sobol, point);
        for (size_t d = 0; d < 8; d++) {
            size_t slice = (size_t) (point[d] * N);
            assert_true(point[d] >= 0.0 && slice < N && !hit[d][slice]);
            hit[d][slice] = true;
            if (plain)
                assert_true(point[d] == sobol_at(sobol, (uint32_t) k, d));
        }
    }
}

static void
points_are_balanced(void **state)
{
    (void) state;
    Sobol sobol;
    assert_true(sobol_open(&sobol, 8, rows));
    every_slice_is_hit_once(&sobol, true);
    Dice dice = {42};
    for (int i = 0; i < 4; i++) {
        sobol_scramble(&sobol, &dice);
        every_slice_is_hit_once(&sobol, false);
    }
    sobol_close(&sobol);
    static const SobolRow even[] = {{1, 0, {2}}}, wide[] = {{2, 1, {1, 5}}},
                          deep[] = {{11, 1, {1}}};
    assert_false(sobol_open(&sobol, 2, even));
    assert_false(sobol_open(&sobol, 2, wide));
    assert_false(sobol_open(&sobol, 2, deep));
    assert_false(sobol_open(&sobol, 0, rows));
    assert_false(sobol_open(&sobol, SOBOL_MOST + 1, rows));
}

static void
halton_counts_in_primes(void **state)
{
    (void) state;
    assert_int_equal(halton_base(1), 2);
    assert_int_equal(halton_base(10), 29);
    assert_int_equal(halton_base(1000), 7919);
    assert_true(radical_inverse(0, 2) == 0.0);
    assert_true(fabs(radical_inverse(26, 3) - (2.0 / 3 + 2.0 / 9 + 2.0 / 27)) < 1e-15);
}

/* A smooth sample misses less than chance does, and the same seed misses alike. */
static void
better_samples_miss_less(void **state)
{
    (void) state;
    static const double parameter[] = {3.0};
    TrialFunction f;
    assert_int_equal(trial_function_open(TRIAL_EXPONENTIAL, 1, parameter, &f), VALID);
    assert_int_equal(f.dimensions, 3);
    Sobol sobol;
    assert_true(sobol_open(&sobol, 3, rows));
    double mean, random, latin, scrambled, again;
    sample_mean(&f, SAMPLING_RANDOM, NULL, 256, 50, 1, &mean, &random);
    sample_mean(&f, SAMPLING_LATIN, NULL, 256, 50, 1, &mean, &latin);
    sample_mean(&f, SAMPLING_SCRAMBLED, &sobol, 256, 50, 1, &mean, &scrambled);
    sample_mean(&f, SAMPLING_RANDOM, NULL, 256, 50, 1, &mean, &again);
    assert_true(scrambled < latin && latin < random && random == again);
    assert_int_equal(sample_mean(&f, SAMPLING_HALTON, NULL, 256, 2, 1, &mean, &again), REFUSED);
    assert_int_equal(sample_mean(&f, SAMPLING_SOBOL, NULL, 256, 1, 1, &mean, &again), REFUSED);
    assert_int_equal(sample_mean(&f, SAMPLING_RANDOM, NULL, 0, 1, 1, &mean, &again), REFUSED);
    sobol_close(&sobol);
}

static void
shares_are_shares(void **state)
{
    (void) state;
    static const double parameter[] = {0.0, 1.0, 4.5, 9.0};
    TrialFunction f;
    double variance, first[4], total[4], mean, sampled, s_first[4], s_total[4], sum = 0.0;
    trial_function_open(TRIAL_G, 4, parameter, &f);
    assert_int_equal(trial_function_shares(&f, &variance, first, total), VALID);
    Sobol sobol;
    Dice dice = {5};
    assert_true(sobol_open(&sobol, 8, rows));
    sobol_scramble(&sobol, &dice);
    assert_int_equal(
        sensitivity_sampled(&f, FIRST_JANSEN, &sobol, 4096, &mean, &sampled, s_first, s_total),
        VALID);
    assert_true(fabs(mean - 1.0) < 0.005 && fabs(sampled / variance - 1.0) < 0.02);
    for (size_t i = 0; i < 4; i++) {
        sum += first[i];
        assert_true(first[i] >= 0.0 && first[i] <= total[i] && total[i] <= 1.0);
        assert_true(fabs(first[i] - s_first[i]) < 0.02 && fabs(total[i] - s_total[i]) < 0.02);
    }
    assert_true(sum < 1.0);
    sobol_close(&sobol);
    static const double still[] = {2.0, 0.0, 5.0, 0.0}, below[] = {-0.5};
    trial_function_open(TRIAL_PRODUCT, 4, still, &f);
    assert_int_equal(trial_function_shares(&f, &variance, first, total), REFUSED);
    assert_int_equal(trial_function_open(TRIAL_G, 1, below, &f), REFUSED);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(points_are_balanced),
        cmocka_unit_test(halton_counts_in_primes),
        cmocka_unit_test(better_samples_miss_less),
        cmocka_unit_test(shares_are_shares),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
