/* Uncertain durations, joined paths and the risk of a network: simulation against closed forms (docs/methods/work.md 1). */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <stdlib.h>

#include "physics/dice.h"
#include "physics/work/duration.h"
#include "physics/work/lateness.h"
#include "physics/work/merging.h"
#include "physics/work/schedule_risk.h"
#include "physics/work/together.h"

enum { TRIALS = 200000 };

/* Mean of n numbers with this sd: five standard errors. */
static void
mean_is(double found, double expected, double sd)
{
    double tolerance = 5.0 * sd / sqrt(TRIALS);
    if (!(fabs(found - expected) <= tolerance))
        fail_msg("%g found, %g expected, tolerance %g", found, expected, tolerance);
}

static void
draws_have_the_moments(const Duration *d)
{
    Dice dice = {3};
    DurationCurve curve = duration_curve(d);
    double sum = 0.0, square = 0.0, fourth = 0.0;
    for (int k = 0; k < TRIALS; k++) {
        double off = duration_curve_at(&curve, dice_normal(&dice)) - d->mean_h;
        sum += off;
        square += off * off;
        fourth += off * off * off * off;
    }
    double variance = square / TRIALS;
    mean_is(sum / TRIALS, 0.0, sqrt(d->variance_h2));
    mean_is(variance, d->variance_h2, sqrt(fourth / TRIALS - variance * variance));
    duration_curve_clear(&curve);
}

static void
percentiles_rise_and_invert(const Duration *d)
{
    double before = -1.0;
    for (int k = 1; k < 1000; k++) {
        double share = k / 1000.0, at_h = duration_at(d, share);
        assert_true(at_h > before);
        assert_true(fabs(duration_chance(d, at_h) - share) < 1e-9);
        before = at_h;
    }
}

static void
curve_is_the_distribution(const Duration *d)
{
    DurationCurve curve = duration_curve(d);
    double scale = isnan(d->high_h) ? duration_at(d, 0.999) : d->high_h - d->low_h;
    for (int k = -600; k <= 600; k++) {
        double z = k / 100.0, exact_h = duration_at(d, 0.5 * erfc(-z * M_SQRT1_2));
        /* a lognormal loses digits of the share in its tail: the curve takes the score as it is */
        double tolerance = d->model == DURATION_LOGNORMAL ? 1e-6 * exact_h : 1e-6 * scale;
        assert_true(fabs(duration_curve_at(&curve, z) - exact_h) <= tolerance);
    }
    duration_curve_clear(&curve);
}

static void
every_model_is_itself(void **state)
{
    (void) state;
    Duration d;
    static const double points[][3] = {{2, 3, 10}, {5, 8, 17}, {0, 0, 4}, {1, 6, 6}, {3, 3.1, 3.2}};
    for (size_t k = 0; k < sizeof points / sizeof points[0]; k++)
        for (int model = DURATION_BETA; model <= DURATION_LOGNORMAL; model++) {
            const double *p = points[k];
            assert_int_equal(duration_three((DurationModel) model, p[0], p[1], p[2], 4.0, &d),
                             VALID);
            assert_false(duration_is_constant(&d));
            draws_have_the_moments(&d);
            percentiles_rise_and_invert(&d);
            curve_is_the_distribution(&d);
        }
}

/* The triangle found has its tenth and ninetieth percentile where they were said to be. */
static void
triangles_keep_their_percentiles(void **state)
{
    (void) state;
    Dice dice = {11};
    for (int k = 0; k < 2000; k++) {
        Duration d;
        double p10 = 20.0 * dice_share(&dice), likely = p10 + 10.0 * dice_share(&dice);
        double p90 = likely + (k % 10 == 0 ? 1e-4 : 30.0) * dice_share(&dice);
        Validity validity = duration_triangle(p10, likely, p90, &d);
        assert_int_equal(validity, d.low_h < 0.0 ? EXTRAPOLATED : VALID);
        assert_true(fabs(duration_at(&d, 0.1) - p10) < 1e-9 * (p90 + 1.0));
        assert_true(fabs(duration_at(&d, 0.9) - p90) < 1e-9 * (p90 + 1.0));
        assert_true(d.low_h <= p10 && d.high_h >= p90);
    }
}

static void
lognormal_keeps_its_percentiles(void **state)
{
    (void) state;
    Duration d;
    assert_int_equal(duration_lognormal_between(4.0, 25.0, &d), VALID);
    assert_true(fabs(duration_at(&d, 0.1) - 4.0) < 1e-9);
    assert_true(fabs(duration_at(&d, 0.9) - 25.0) < 1e-9);
    assert_true(fabs(duration_at(&d, 0.5) - 10.0) < 1e-9);
}

static void
nonsense_is_refused(void **state)
{
    (void) state;
    Duration d;
    assert_int_equal(duration_three(DURATION_BETA, 2.0, 1.0, 3.0, 4.0, &d), REFUSED);
    assert_int_equal(duration_three(DURATION_BETA, -1.0, 1.0, 3.0, 4.0, &d), REFUSED);
    assert_int_equal(duration_three(DURATION_BETA, 1.0, 2.0, 3.0, 0.0, &d), REFUSED);
    assert_int_equal(duration_three(DURATION_BETA, 1.0, NAN, 3.0, 4.0, &d), REFUSED);
    assert_int_equal(duration_three(DURATION_UNIFORM, 1.0, NAN, INFINITY, 4.0, &d), REFUSED);
    assert_true(isnan(d.mean_h) && isnan(duration_at(&d, 0.5)));
    assert_int_equal(duration_triangle(3.0, 3.0, 4.0, &d), REFUSED);
    assert_int_equal(duration_lognormal(0.0, 0.5, &d), REFUSED);
    assert_int_equal(duration_lognormal_between(5.0, 5.0, &d), REFUSED);
}

/* --- joined paths ------------------------------------------------------------------------------------------------------------ */

static void
latest_of_paths_by_simulation(void **state)
{
    (void) state;
    const double mean_h[3] = {40.0, 41.0, 36.0}, sd_h[3] = {3.0, 0.5, 6.0};
    double latest_h, spread_h, sum = 0.0, square = 0.0, met = 0.0;
    Dice dice = {5};
    assert_int_equal(merging_paths(3, mean_h, sd_h, &latest_h, &spread_h), VALID);
    for (int k = 0; k < TRIALS; k++) {
        double last = -INFINITY;
        for (int i = 0; i < 3; i++)
            last = fmax(last, mean_h[i] + sd_h[i] * dice_normal(&dice));
        sum += last - latest_h;
        square += (last - latest_h) * (last - latest_h);
        met += last <= 43.0;
    }
    mean_is(sum / TRIALS, 0.0, spread_h);
    mean_is(square / TRIALS, spread_h * spread_h, 2.5 * spread_h * spread_h);
    mean_is(met / TRIALS, merging_chance(3, mean_h, sd_h, 43.0), 0.5);
}

/* A sharp path beside a wide one, far apart or not: two paths are Clark's case, which is exact without correlation. */
static void
two_paths_agree_with_clark(void **state)
{
    (void) state;
    static const double mean_2[] = {-50.0, -3.0, 0.0, 0.5, 20.0};
    static const double sd_2[] = {1e-5, 1e-3, 0.3, 1.0, 70.0, 4e4};
    for (size_t i = 0; i < 5; i++)
        for (size_t k = 0; k < 6; k++) {
            const double mean_h[2] = {1.0, mean_2[i]}, sd_h[2] = {1.0, sd_2[k]};
            double latest_h, spread_h;
            ClarkMaximum clark;
            assert_int_equal(merging_paths(2, mean_h, sd_h, &latest_h, &spread_h), VALID);
            assert_int_equal(clark_maximum(mean_h, sd_h, 0.0, &clark), VALID);
            assert_true(fabs(latest_h - clark.mean_h) < 1e-7 * (1.0 + sd_2[k]));
            assert_true(fabs(spread_h - clark.sd_h) < 1e-6 * (1.0 + sd_2[k]));
        }
}

static void
later_of_two_that_go_together(void **state)
{
    (void) state;
    const double mean_h[2] = {100.0, 96.0}, sd_h[2] = {10.0, 15.0};
    for (int k = -1; k <= 1; k++) {
        double r = 0.6 * k, sum = 0.0, square = 0.0, first = 0.0;
        Dice dice = {9};
        ClarkMaximum clark;
        assert_int_equal(clark_maximum(mean_h, sd_h, r, &clark), VALID);
        for (int t = 0; t < TRIALS; t++) {
            double z = dice_normal(&dice);
            double a = mean_h[0] + sd_h[0] * z;
            double b = mean_h[1] + sd_h[1] * (r * z + sqrt(1.0 - r * r) * dice_normal(&dice));
            sum += fmax(a, b) - clark.mean_h;
            square += (fmax(a, b) - clark.mean_h) * (fmax(a, b) - clark.mean_h);
            first += a > b;
        }
        mean_is(sum / TRIALS, 0.0, clark.sd_h);
        mean_is(square / TRIALS, clark.sd_h * clark.sd_h, 2.0 * clark.sd_h * clark.sd_h);
        mean_is(first / TRIALS, clark.chance_first_later, 0.5);
    }
}

static void
lateness_by_simulation(void **state)
{
    (void) state;
    double chance, late_h, sum = 0.0, met = 0.0;
    Dice dice = {13};
    assert_int_equal(lateness_expected(180.0, 20.0, 190.0, &chance, &late_h), VALID);
    for (int t = 0; t < TRIALS; t++) {
        double finish_h = 180.0 + 20.0 * dice_normal(&dice);
        sum += fmax(0.0, finish_h - 190.0);
        met += finish_h <= 190.0;
    }
    mean_is(sum / TRIALS, late_h, 10.0);
    mean_is(met / TRIALS, chance, 0.5);
}

/* --- networks ---------------------------------------------------------------------------------------------------------------- */

typedef struct {
    ScheduleRisk risk;
    TaskRisk task[8];
} Found;

static Found
simulate(const TaskNetwork *net, const Duration duration[], double correlation, double deadline_h)
{
    Found found;
    PassesOutcome outcome;
    TaskPasses *passes = task_passes_new(net, &outcome);
    assert_int_equal(outcome, PASSES_DONE);
    const ScheduleRiskGiven given = {.n = net->n,
                                     .duration = duration,
                                     .passes = passes,
                                     .correlation = correlation,
                                     .deadline_h = deadline_h,
                                     .trials = TRIALS,
                                     .seed = 2};
    assert_int_equal(schedule_risk(&given, &found.risk, found.task), VALID);
    task_passes_free(passes);
    return found;
}

/* Latest of k tasks of up to an hour: mean k/(k + 1), P(T <= t) = t^k, each the last as often as any other. */
static void
latest_of_uniforms(void **state)
{
    (void) state;
    Duration d[8];
    for (size_t k = 1; k <= 6; k++) {
        for (size_t i = 0; i < k; i++)
            duration_three(DURATION_UNIFORM, 0.0, NAN, 1.0, 4.0, &d[i]);
        Found f = simulate(&(TaskNetwork){.n = k}, d, 0.0, 0.8);
        double n = (double) k, variance = n / ((n + 1.0) * (n + 1.0) * (n + 2.0));
        mean_is(f.risk.mean_h, n / (n + 1.0), sqrt(variance));
        mean_is(f.risk.chance, pow(0.8, n), 0.5);
        assert_true(fabs(f.risk.p50_h - pow(0.5, 1.0 / n)) < 0.005);
        assert_true(f.risk.chance_low < f.risk.chance && f.risk.chance < f.risk.chance_high);
        for (size_t i = 0; i < k; i++)
            mean_is(f.task[i].criticality, 1.0 / n, 0.5);
    }
}

/* A chain of lognormal tasks that go together: mean and variance of the sum, by the correlation of the durations. */
static void
chain_that_goes_together(void **state)
{
    (void) state;
    Duration d[8];
    Tie tie[5];
    double sd_h[6], correlation;
    SumSpread sum;
    for (size_t i = 0; i < 6; i++) {
        assert_int_equal(duration_lognormal(10.0, 0.4, &d[i]), VALID);
        sd_h[i] = 4.0;
        if (i > 0)
            tie[i - 1] = (Tie){i - 1, i, TIE_FINISH_START, 2.0};
    }
    for (int k = 0; k <= 2; k++) {
        double share = 0.5 * k;
        assert_int_equal(together_correlation(d[0].log_sd, share, &correlation), VALID);
        assert_int_equal(together_sum(6, sd_h, correlation, &sum), VALID);
        Found f = simulate(&(TaskNetwork){.n = 6, .ties = 5, .tie = tie}, d, share, NAN);
        mean_is(f.risk.mean_h, 60.0 + 10.0, sum.sd_h);
        mean_is(f.risk.sd_h, sum.sd_h, 2.0 * sum.sd_h);
        assert_true(isnan(f.risk.chance) && isnan(f.risk.late_h));
        for (size_t i = 0; i < 6; i++) {
            double own = (1.0 + 5.0 * correlation) * 4.0 / sum.sd_h; /* corr(d_i, sum) */
            assert_true(fabs(f.task[i].cruciality - own) < 0.01);
            assert_true(f.task[i].criticality == 1.0);
        }
    }
}

/* Two pairs of hands, three tasks of up to an hour: a and b begin, c follows the first that ends; 11/12 h (integration by hand). */
static void
few_hands_replay_one_list(void **state)
{
    (void) state;
    Duration d[3];
    const double likely_h[3] = {0.5, 0.5, 0.5};
    const unsigned need[3][RCPSP_KINDS] = {{1}, {1}, {1}};
    const RcpspGiven project = {
        .net = {.n = 3}, .duration_h = likely_h, .need = need, .capacity = {2}};
    const size_t list[3] = {0, 1, 2};
    RcpspOutcome outcome;
    Found f;
    for (size_t i = 0; i < 3; i++)
        duration_three(DURATION_UNIFORM, 0.0, NAN, 1.0, 4.0, &d[i]);
    ScheduleRiskGiven given = {.n = 3,
                               .duration = d,
                               .project = rcpsp_new(&project, &outcome),
                               .list = list,
                               .deadline_h = NAN,
                               .trials = TRIALS,
                               .seed = 4};
    assert_int_equal(schedule_risk(&given, &f.risk, f.task), VALID);
    mean_is(f.risk.mean_h, 11.0 / 12.0, 0.4);
    assert_true(isnan(f.task[0].criticality) && isnan(f.task[0].sensitivity));
    given.trials = 999;
    assert_int_equal(schedule_risk(&given, &f.risk, f.task), EXTRAPOLATED);
    given.correlation = 1.1;
    assert_int_equal(schedule_risk(&given, &f.risk, f.task), REFUSED);
    given.correlation = 0.0;
    given.trials = 0;
    assert_int_equal(schedule_risk(&given, &f.risk, f.task), REFUSED);
    rcpsp_free(given.project);
}

/* Trial t of one network and of another meet the same luck: with one task more the difference is that task alone. */
static void
common_luck(void **state)
{
    (void) state;
    Duration d[2];
    const Tie tie[] = {{0, 1, TIE_FINISH_START, 0.0}};
    duration_three(DURATION_TRIANGULAR, 2.0, 3.0, 10.0, 4.0, &d[0]);
    duration_three(DURATION_TRIANGULAR, 1.0, 1.0, 1.0, 4.0, &d[1]);
    Found one = simulate(&(TaskNetwork){.n = 1}, d, 0.3, NAN);
    Found two = simulate(&(TaskNetwork){.n = 2, .ties = 1, .tie = tie}, d, 0.3, NAN);
    assert_true(fabs(two.risk.mean_h - one.risk.mean_h - 1.0) < 1e-9);
    assert_true(fabs(two.risk.p95_h - one.risk.p95_h - 1.0) < 1e-9);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_model_is_itself),
        cmocka_unit_test(triangles_keep_their_percentiles),
        cmocka_unit_test(lognormal_keeps_its_percentiles),
        cmocka_unit_test(nonsense_is_refused),
        cmocka_unit_test(latest_of_paths_by_simulation),
        cmocka_unit_test(two_paths_agree_with_clark),
        cmocka_unit_test(later_of_two_that_go_together),
        cmocka_unit_test(lateness_by_simulation),
        cmocka_unit_test(latest_of_uniforms),
        cmocka_unit_test(chain_that_goes_together),
        cmocka_unit_test(few_hands_replay_one_list),
        cmocka_unit_test(common_luck),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
