/* Simulation of a plan against closed forms, and what must not depend on how it is run. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "physics/memory.h"
#include "physics/work/counted_chance.h"
#include "physics/work/dates.h"
#include "physics/work/haul_slot.h"
#include "physics/work/learning.h"
#include "physics/work/rank_correlation.h"
#include "physics/work/risk.h"
#include "plan_draft.h"

enum { MOST = 12, TRIALS = 20000 };

/* In doubles: day numbers are too long for the floats of cmocka. */
static void
is_near(double got, double want, double within)
{
    if (!(fabs(got - want) <= within))
        fail_msg("%.9g is not within %g of %.9g", got, within, want);
}

/* A few tasks of one or two people who never sleep. */
typedef struct {
    PlanTask task[MOST];
    PlanTie tie[MOST];
    Calendar *hours, *slots;
    const Calendar *hand[2];
    PlanWork work;
    RiskTask risk[MOST];
    Plan *plan;
    uint32_t list[MOST];
    RiskModel model;
    RiskTrials *trials;
} Small;

static const PlanCrew crews[] = {{1, {0}}, {1, {1}}};

static void
small_new(Small *s, size_t n, Calendar *hours)
{
    memset(s, 0, sizeof *s);
    s->hours = hours;
    s->hand[0] = s->hand[1] = hours;
    s->work =
        (PlanWork){.first_day = hours->first_day, .days = hours->days, .n_tasks = n, .n_hands = 2};
    s->work.task = s->task;
    s->work.hand = s->hand;
    s->work.tie = s->tie;
    for (size_t i = 0; i < n; i++) {
        s->task[i] =
            (PlanTask){.work_min = 60, .n_crews = 1, .crew = &crews[0], .due_min = PLAN_NEVER};
        s->risk[i] = (RiskTask){.key = 1000 + 7 * i, .scale = 1.0, .paced = true};
    }
    s->model = (RiskModel){.task = s->risk, .list = s->list, .until_min = PLAN_NEVER, .seed = 4};
}

static Calendar *
day_and_night(void)
{
    return calendar_always(2460738, 3000);
}

static void
takes(Small *s, size_t i, DurationModel model, double low_h, double likely_h, double high_h)
{
    Duration d;
    assert_int_equal(duration_three(model, low_h, likely_h, high_h, 4.0, &d), VALID);
    s->risk[i].takes = duration_curve(&d);
}

static void
run(Small *s, size_t trials)
{
    PlanOutcome outcome;
    size_t where;
    s->plan = plan_new(&s->work, &outcome, &where);
    assert_int_equal(outcome, PLAN_READY);
    plan_find(s->plan, &(PlanSearch){0}, s->list);
    s->model.plan = s->plan;
    s->trials = risk_trials_new(trials, s->work.n_tasks, s->model.n_marks, 100);
    for (size_t b = 0; b < risk_blocks(s->trials); b++)
        risk_run(&s->model, b, s->trials);
}

static void
small_free(Small *s)
{
    for (size_t i = 0; i < s->work.n_tasks; i++)
        duration_curve_clear(&s->risk[i].takes);
    risk_trials_free(s->trials);
    plan_free(s->plan);
    calendar_free(s->hours);
    calendar_free(s->slots);
}

static double
mean_h(const RiskTrials *t, double *sd)
{
    double sum = 0.0, square = 0.0;
    for (size_t i = 0; i < t->n; i++)
        sum += t->finish_min[i] / 60.0;
    sum /= (double) t->n;
    for (size_t i = 0; i < t->n; i++)
        square += (t->finish_min[i] / 60.0 - sum) * (t->finish_min[i] / 60.0 - sum);
    *sd = sqrt(square / (double) t->n);
    return sum;
}

/* Within four standard errors, and half a minute of rounding a task. */
static void
mean_is(const RiskTrials *t, double mean, double sd)
{
    double got_sd, got = mean_h(t, &got_sd), n = (double) t->n;
    is_near(got, mean, 4.0 * sd / sqrt(n) + 0.01);
    is_near(got_sd, sd, 4.0 * sd / sqrt(2.0 * n) * 1.5 + 0.01);
}

/* Ten in a row: means and variances add. */
static void
sums_have_their_moments(void **state)
{
    (void) state;
    const DurationModel models[] = {DURATION_UNIFORM, DURATION_TRIANGULAR, DURATION_BETA,
                                    DURATION_LOGNORMAL};
    for (size_t k = 0; k < 4; k++) {
        Small s;
        double mean = 0.0, variance = 0.0;
        small_new(&s, 10, day_and_night());
        for (size_t i = 0; i < 10; i++) {
            takes(&s, i, models[k], 2.0 + (double) i, 5.0 + (double) i, 20.0 + 2.0 * (double) i);
            mean += s.risk[i].takes.of.mean_h;
            variance += s.risk[i].takes.of.variance_h2;
        }
        run(&s, TRIALS);
        mean_is(s.trials, mean, sqrt(variance));
        small_free(&s);
    }
}

/* docs/methods/work.md 1.5: the sum of n tasks with one correlation. */
static void
correlated_sums_spread(void **state)
{
    (void) state;
    Small s;
    small_new(&s, 10, day_and_night());
    for (size_t i = 0; i < 10; i++)
        takes(&s, i, DURATION_UNIFORM, 0.0, 6.0, 12.0);
    s.model.correlation = 0.3;
    run(&s, TRIALS);
    double rank = 6.0 / M_PI * asin(0.3 / 2.0); /* of uniform scores it is Pearson's */
    double sd = sqrt(12.0) * sqrt(10.0 * (1.0 + 9.0 * rank));
    mean_is(s.trials, 60.0, sd);
    small_free(&s);
}

/* W1.19: the later of two paths, and how often the longer one drives. */
static void
the_later_of_two_paths(void **state)
{
    (void) state;
    Small s;
    double frac[2];
    small_new(&s, 2, day_and_night());
    s.task[1].crew = &crews[1];
    takes(&s, 0, DURATION_UNIFORM, 0.0, 24.0, 48.0);
    takes(&s, 1, DURATION_UNIFORM, 0.0, 12.0, 24.0);
    run(&s, TRIALS);
    mean_is(s.trials, 24.0 * 13.0 / 12.0, 24.0 * sqrt(35.0 / 144.0));
    risk_criticality(s.trials, frac);
    is_near(frac[0], 0.75, 0.014);
    is_near(frac[0] + frac[1], 1.0, 0.002); /* both in the same minute */
    small_free(&s);
}

/* docs/methods/work.md 1.8: quantiles of a sure task at an unsure pace, learned from W1.34. */
static void
pace_is_the_learned_one(void **state)
{
    (void) state;
    const double ratio[] = {1.4, 1.1, 1.6, 1.25};
    double log_mean, log_sd;
    learning_factor(4, ratio, 0.0, 0.35, 0.30, &log_mean, &log_sd);
    is_near(log_mean, 0.237593, 1e-6);
    Small s;
    small_new(&s, 1, day_and_night());
    takes(&s, 0, DURATION_TRIANGULAR, 100.0, 100.0, 100.0);
    s.model.pace_log_mean = log_mean;
    s.model.pace_log_sd = log_sd;
    run(&s, TRIALS);
    int32_t *sorted = risk_sorted(s.trials->n, s.trials->finish_min);
    const double share[] = {0.1, 0.5, 0.9}, score[] = {-1.2815516, 0.0, 1.2815516};
    for (size_t k = 0; k < 3; k++) {
        double want = 100.0 * exp(log_mean + log_sd * score[k]);
        double density = exp(-0.5 * score[k] * score[k]) / sqrt(2.0 * M_PI) / (want * log_sd);
        double error = sqrt(share[k] * (1.0 - share[k]) / TRIALS) / density;
        is_near(risk_quantile(TRIALS, sorted, share[k]) / 60.0, want, 4.0 * error + 0.02);
    }
    free(sorted);
    small_free(&s);
}

/* The slots of haul_slot, by its closed form. */
static void
slots_are_taken_in_turn(void **state)
{
    (void) state;
    const double slot_h[] = {20 * 24.0, 30 * 24.0, 60 * 24.0};
    double chance[3], counted[3] = {0};
    HaulFinish finish;
    Small s;
    Duration d;
    haul_slot(true, 480.0, 120.0, 3, slot_h, 0.0, chance, &finish);
    small_new(&s, 2, day_and_night());
    duration_lognormal(480.0, 0.25, &d);
    s.risk[0].takes = duration_curve(&d);
    takes(&s, 1, DURATION_TRIANGULAR, 1.0, 1.0, 1.0);
    OpenHours day[3];
    for (size_t k = 0; k < 3; k++)
        day[k] = (OpenHours){(int32_t) (60.0 * slot_h[k]), (int32_t) (60.0 * slot_h[k]) + 60};
    s.slots = calendar_windows(s.hours->first_day, s.hours->days, 3, day);
    s.task[1].where = s.slots;
    s.tie[0] = (PlanTie){0, 1, PLAN_FINISH_START, 0, NULL};
    s.work.n_ties = 1;
    run(&s, TRIALS);
    for (size_t i = 0; i < TRIALS; i++)
        for (size_t k = 0; k < 3; k++)
            counted[k] += s.trials->finish_min[i] == day[k].closes_min ? 1.0 / TRIALS : 0.0;
    for (size_t k = 0; k < 3; k++)
        is_near(counted[k], chance[k], 4.0 * sqrt(chance[k] * (1.0 - chance[k]) / TRIALS));
    small_free(&s);
}

/* Ten days of outdoor work, three days in ten lost: the tenth success of a coin. */
static void
weather_takes_its_days(void **state)
{
    (void) state;
    static double lost[3000];
    WeekHours hours[7];
    for (int w = 0; w < 7; w++)
        hours[w] = (WeekHours){w, 480, 960};
    for (size_t day = 0; day < 3000; day++)
        lost[day] = 0.3;
    Small s;
    small_new(&s, 1, calendar_week(2460738, 3000, 7, hours, 0, NULL, 0, NULL));
    s.task[0].weather = true;
    takes(&s, 0, DURATION_TRIANGULAR, 80.0, 80.0, 80.0);
    s.model.lost_frac = lost;
    run(&s, TRIALS);
    double days = 10.0 / 0.7; /* the last of them ends at 16:00 */
    mean_is(s.trials, 24.0 * (days - 1.0) + 16.0, 24.0 * sqrt(10.0 * 0.3) / 0.7);
    small_free(&s);
}

static void
finds_come_by_their_chance(void **state)
{
    (void) state;
    Duration more;
    Small s;
    small_new(&s, 1, day_and_night());
    takes(&s, 0, DURATION_TRIANGULAR, 10.0, 10.0, 10.0);
    duration_three(DURATION_UNIFORM, 10.0, 20.0, 30.0, 4.0, &more);
    const RiskFind find = {0.25, duration_curve(&more), 99};
    s.risk[0].find = &find;
    s.risk[0].n_finds = 1;
    run(&s, TRIALS);
    double variance = 0.25 * (400.0 / 12.0) + 0.25 * 0.75 * 400.0; /* docs/methods/work.md 4 */
    mean_is(s.trials, 10.0 + 0.25 * 20.0, sqrt(variance));
    small_free(&s);
}

/* Berth a day and overrun, against E(T - D)+ of a uniform finish. */
static void
money_runs_with_time(void **state)
{
    (void) state;
    Small s;
    Duration price;
    small_new(&s, 1, day_and_night());
    takes(&s, 0, DURATION_UNIFORM, 0.0, 120.0, 240.0);
    duration_three(DURATION_UNIFORM, 100.0, 150.0, 200.0, 4.0, &price);
    const RiskCost cost = {duration_curve(&price), 5};
    s.model.cost = &cost;
    s.model.n_costs = 1;
    s.model.day_money = 7.0;
    s.model.over_money = 20.0;
    s.model.until_min = 6 * MINUTES_A_DAY;
    s.risk[0].wage_money = 3.0;
    run(&s, TRIALS);
    double mean = 0.0;
    for (size_t i = 0; i < TRIALS; i++)
        mean += s.trials->cost_money[i] / TRIALS;
    double over_days = 0.4 * 2.0;        /* P(T > 6) times half of what is beyond */
    double steepest = 3.0 + 27.0 / 24.0; /* money an hour */
    double error = (steepest * 240.0 + 100.0) / sqrt(12.0) / sqrt(TRIALS);
    is_near(mean, 150.0 + 5.0 * 7.0 + over_days * 20.0 + 120.0 * 3.0, 4.0 * error);
    small_free(&s);
}

/* --- common random numbers ---------------------------------------------------------------------------------------------------- */

static void
the_same_luck_meets_other_plans(void **state)
{
    (void) state;
    Small a, b;
    small_new(&a, 3, day_and_night());
    small_new(&b, 2, day_and_night());
    for (size_t i = 0; i < 3; i++)
        takes(&a, i, DURATION_TRIANGULAR, 1.0, 3.0, 9.0);
    for (size_t i = 0; i < 2; i++)
        takes(&b, i, DURATION_TRIANGULAR, 1.0, 3.0, 9.0);
    b.risk[0].key = a.risk[2].key; /* task 1 is gone, the others are numbered anew */
    b.risk[1].key = a.risk[0].key;
    a.model.correlation = b.model.correlation = 0.2;
    a.model.pace_log_sd = b.model.pace_log_sd = 0.3;
    run(&a, 500);
    run(&b, 500);
    for (size_t t = 0; t < 500; t++) {
        assert_true(risk_hours(&a.model, 2, t) == risk_hours(&b.model, 0, t));
        assert_true(risk_hours(&a.model, 0, t) == risk_hours(&b.model, 1, t));
        assert_true(a.trials->finish_min[t] > b.trials->finish_min[t]);
    }
    small_free(&a);
    small_free(&b);
}

static void
blocks_may_come_in_any_order(void **state)
{
    (void) state;
    Small s;
    small_new(&s, 4, day_and_night());
    for (size_t i = 0; i < 4; i++)
        takes(&s, i, DURATION_TRIANGULAR, 1.0, 3.0, 9.0);
    run(&s, 1100);
    RiskTrials *t = risk_trials_new(1100, 4, 0, 100);
    for (size_t b = risk_blocks(t); b-- > 0;)
        risk_run(&s.model, b, t);
    assert_memory_equal(t->finish_min, s.trials->finish_min, 1100 * sizeof(int32_t));
    assert_memory_equal(t->cost_money, s.trials->cost_money, 1100 * sizeof(double));
    assert_memory_equal(t->kept_start, s.trials->kept_start, 400 * sizeof(int32_t));
    risk_trials_free(t);
    small_free(&s);
}

/* A drawn plan keeps its ties in every trial: later hours, later finish. */
static void
longer_hours_never_end_the_chain_sooner(void **state)
{
    (void) state;
    Small s;
    small_new(&s, 5, day_and_night());
    for (size_t i = 0; i < 5; i++)
        takes(&s, i, DURATION_TRIANGULAR, 1.0, 3.0, 9.0);
    run(&s, 1000);
    int32_t *before = fresh(1000, sizeof(int32_t));
    memcpy(before, s.trials->finish_min, 1000 * sizeof(int32_t));
    s.risk[2].scale = 0.5;
    for (size_t b = 0; b < risk_blocks(s.trials); b++)
        risk_run(&s.model, b, s.trials);
    for (size_t t = 0; t < 1000; t++)
        assert_true(s.trials->finish_min[t] <= before[t]);
    free(before);
    small_free(&s);
}

/* --- what trials say ------------------------------------------------------------------------------------------------------------ */

static void
chances_have_their_interval(void **state)
{
    (void) state;
    double low, high;
    counted_chance(588, 1000, SCORE_95, &low, &high); /* W1.30 */
    is_near(low, 0.557214, 1e-6);
    is_near(high, 0.618113, 1e-6);
    counted_chance(0, 100, SCORE_95, &low, &high); /* W1.31 */
    assert_true(low == 0.0);
    is_near(high, 0.036993, 1e-6);
    counted_chance(100, 100, SCORE_95, &low, &high);
    assert_true(high == 1.0);
    counted_chance(1, 0, SCORE_95, &low, &high);
    assert_true(isnan(low) && isnan(high));
}

static void
ranks_correlate(void **state)
{
    (void) state;
    const double a[] = {4, 3, 6, 4, 5}, c[] = {2, 2, 3, 1, 4},
                 finish[] = {6, 7, 9, 5, 9}; /* W1.28 */
    double rank_a[5], rank_c[5], rank_t[5];
    rank_of(5, a, rank_a);
    rank_of(5, c, rank_c);
    rank_of(5, finish, rank_t);
    is_near(rank_correlation(5, rank_a, rank_t), 0.631579, 1e-6);
    is_near(rank_correlation(5, rank_c, rank_t), 0.947368, 1e-6);
    const double same[] = {1, 1, 1, 1, 1};
    rank_of(5, same, rank_a);
    assert_true(rank_correlation(5, rank_a, rank_t) == 0.0);
}

static void
quantiles_are_of_the_list(void **state)
{
    (void) state;
    const int32_t value[] = {5, 1, PLAN_NEVER, 3, 3};
    int32_t *sorted = risk_sorted(5, value);
    assert_int_equal(risk_quantile(5, sorted, 0.0), 1);
    assert_int_equal(risk_quantile(5, sorted, 0.4), 3);
    assert_int_equal(risk_quantile(5, sorted, 0.8), 5);
    assert_int_equal(risk_quantile(5, sorted, 1.0), PLAN_NEVER);
    assert_int_equal(risk_met(5, sorted, 3), 3);
    assert_int_equal(risk_met(5, sorted, 0), 0);
    assert_int_equal(risk_quantile(0, sorted, 0.5), PLAN_NEVER);
    free(sorted);
}

/* A chain of two: in the tenths of a uniform task its mean lies 9/20 of its range from the middle, and the other one does not matter. */
static void
a_task_sways_its_chain(void **state)
{
    (void) state;
    Small s;
    small_new(&s, 3, day_and_night());
    takes(&s, 0, DURATION_UNIFORM, 10.0, 20.0, 30.0);
    takes(&s, 1, DURATION_UNIFORM, 40.0, 42.0, 44.0);
    takes(&s, 2, DURATION_UNIFORM, 5.0, 5.0, 5.0);
    run(&s, TRIALS);
    double early[MOST], late[MOST];
    risk_sway(&s.model, s.trials, TRIALS, early, late);
    /* sd of the finish within a tenth is at most that of the whole, 5.9 h; four standard errors of 2,000 trials and of all */
    double within = 60.0 * 4.0 * 5.9 * (1.0 / sqrt(2000.0) + 1.0 / sqrt(TRIALS));
    is_near(early[0], -9.0 * 60.0, within);
    is_near(late[0], 9.0 * 60.0, within);
    is_near(early[1], -1.8 * 60.0, within);
    is_near(late[1], 1.8 * 60.0, within);
    assert_true(early[2] == 0.0 && late[2] == 0.0);
    small_free(&s);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sums_have_their_moments),
        cmocka_unit_test(correlated_sums_spread),
        cmocka_unit_test(the_later_of_two_paths),
        cmocka_unit_test(pace_is_the_learned_one),
        cmocka_unit_test(slots_are_taken_in_turn),
        cmocka_unit_test(weather_takes_its_days),
        cmocka_unit_test(finds_come_by_their_chance),
        cmocka_unit_test(money_runs_with_time),
        cmocka_unit_test(the_same_luck_meets_other_plans),
        cmocka_unit_test(blocks_may_come_in_any_order),
        cmocka_unit_test(longer_hours_never_end_the_chain_sooner),
        cmocka_unit_test(chances_have_their_interval),
        cmocka_unit_test(ranks_correlate),
        cmocka_unit_test(quantiles_are_of_the_list),
        cmocka_unit_test(a_task_sways_its_chain),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
