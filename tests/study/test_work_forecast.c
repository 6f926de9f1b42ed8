/* Forecasts of plans made by hand: dates, reasons, chances that can be reckoned, and what cannot be done. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <string.h>

#include "study/work_forecast.h"

enum { TODAY = 2461485 }; /* 2027-03-20, a Saturday */

/* In doubles: day numbers are too long for the floats of cmocka. */
static void
is_near(double got, double want, double within)
{
    if (!(fabs(got - want) <= within))
        fail_msg("%.9g is not within %g of %.9g", got, within, want);
}

static WorkPlan *
plan_new_by_hand(size_t tasks)
{
    static const char *const names[] = {"t0", "t1", "t2", "t3", "t4", "t5", "t6", "t7"};

    WorkPlan *p = work_plan_new(NULL);
    p->today = TODAY;
    p->task = work_plan_block(p, tasks, sizeof *p->task);
    p->n_tasks = tasks;
    for (size_t i = 0; i < tasks; i++) {
        WorkTask *t = &p->task[i];
        *t = (WorkTask){
            .id = names[i], .path = names[i], .name = names[i], .people = 1.0, .layer = -1};
        t->takes_h = t->left_h = (ThreePoint){.low = 8.0, .likely = 9.0, .high = 12.0};
        t->wait_least_K = t->cost_money.low = t->cost_money.likely = t->cost_money.high = NAN;
    }
    p->cost_money_per_day = p->overrun_money_per_day = NAN;
    p->chance_frac = 0.8;
    p->latitude_rad = p->longitude_rad = p->indoors_K = NAN;
    for (size_t m = 0; m < 12; m++)
        p->air_K[m] = 288.15;
    return p;
}

static void
add_hands(WorkPlan *p, size_t n, int opens_min, int closes_min)
{
    static const char *const names[] = {"Owner", "Friend", "Yard"};
    p->hand = work_plan_block(p, n, sizeof *p->hand);
    p->n_hands = n;
    for (size_t i = 0; i < n; i++) {
        p->hand[i] = (WorkHand){.id = names[i], .name = names[i], .hours_h = NAN, .people = 1.0};
        for (int day = 0; day < 7; day++) {
            p->hand[i].n_spans[day] = 1;
            p->hand[i].span[day][0] = (WorkHours){opens_min, closes_min};
        }
    }
}

/* Tasks finished so often and so punctually that the pace is next to sure. */
static void
sure_pace(WorkPlan *p)
{
    p->n_paces = 5000;
    p->pace = work_plan_block(p, p->n_paces, sizeof *p->pace);
    for (size_t i = 0; i < p->n_paces; i++)
        p->pace[i].ratio = 1.0;
}

static void
add_milestone(WorkPlan *p, int day, size_t n, const size_t at[])
{
    size_t *tasks = work_plan_block(p, n, sizeof *tasks);
    memcpy(tasks, at, n * sizeof *tasks);
    p->milestone = work_plan_block(p, 1, sizeof *p->milestone);
    p->milestone[0] = (WorkMilestone){.id = "launch",
                                      .path = "milestones.launch",
                                      .name = "launch",
                                      .kind = MILESTONE_LAUNCH,
                                      .day = day,
                                      .tasks = {n, tasks}};
    p->n_milestones = 1;
}

static void
add_ties(WorkPlan *p, size_t n, const size_t pair[][2], const double lag_h[])
{
    p->tie = work_plan_block(p, n, sizeof *p->tie);
    p->n_ties = n;
    for (size_t i = 0; i < n; i++)
        p->tie[i] = (WorkTie){.from = pair[i][0],
                              .to = pair[i][1],
                              .lag_h = lag_h != NULL ? lag_h[i] : 0.0,
                              .why = "it is covered"};
}

static const StudyHow few = {.seed = 7, .samples = 1000};

static WorkForecast *
forecast(const WorkPlan *p)
{
    WorkForecast *f = work_forecast(p, NULL, &few);
    assert_non_null(f);
    return f;
}

static const ForecastTask *
task_of(const WorkForecast *f, size_t task)
{
    for (size_t i = 0; i < f->n_tasks; i++)
        if (f->task[i].task == task)
            return &f->task[i];
    fail_msg("task %zu is not in the forecast", task);
    return NULL;
}

static double
spells_h(const WorkForecast *f, size_t task)
{
    double sum = 0.0;
    for (size_t i = 0; i < f->n_spells; i++)
        sum += f->spell[i].task == task ? 24.0 * (f->spell[i].to_day - f->spell[i].from_day) : 0.0;
    return sum;
}

/* --- dates and reasons ------------------------------------------------------------------------------------------------------------ */

static void
work_is_done_in_its_order(void **state)
{
    (void) state;
    g_autoptr(WorkPlan) p = plan_new_by_hand(4);
    add_hands(p, 1, 540, 720);
    const size_t ties[][2] = {{0, 1}, {1, 2}};
    const double lag[] = {0.0, 48.0};
    add_ties(p, 2, ties, lag);
    g_autoptr(WorkForecast) f = forecast(p);
    assert_null(f->fault);
    assert_int_equal(f->n_tasks, 4);
    const ForecastTask *a = task_of(f, 0), *b = task_of(f, 1), *c = task_of(f, 2);
    assert_true(b->start_day >= a->finish_day);
    assert_true(c->start_day >= b->finish_day + 2.0 - 1e-9);
    double day = 1.0 / 24.0;
    for (size_t i = 0; i < 4; i++) {
        const ForecastTask *t = task_of(f, i);
        is_near(spells_h(f, i), 9.0, 1e-6);
        assert_true(t->n_hands == 1 && t->hand[0] == 0 && t->why != NULL && t->why[0] != '\0');
        assert_true(t->start_low_day <= t->start_high_day &&
                    t->finish_low_day <= t->finish_high_day);
    }
    for (size_t i = 0; i < f->n_spells; i++) {
        double hour = 24.0 * fmod(f->spell[i].from_day, 1.0);
        assert_true(hour > 9.0 - 1e-6 && hour < 12.0 && f->spell[i].to_day > f->spell[i].from_day);
        assert_true(i == 0 || f->spell[i].from_day >= f->spell[i - 1].to_day - 1e-9);
        assert_true(24.0 * fmod(f->spell[i].to_day, 1.0) <= 12.0 + 1e-6);
    }
    is_near(f->task[0].start_day, TODAY + 9.0 * day, 1e-6);
}

static void
waits_say_why(void **state)
{
    (void) state;
    g_autoptr(WorkPlan) p = plan_new_by_hand(5);
    add_hands(p, 2, 540, 720);
    static const size_t owner[] = {0}, needs[] = {3};
    for (size_t i = 0; i < 5; i++)
        p->task[i].who = (WorkIndices){1, owner};
    const size_t ties[][2] = {{0, 1}};
    add_ties(p, 1, ties, NULL);
    p->purchase = work_plan_block(p, 1, sizeof *p->purchase);
    p->purchase[0] = (WorkPurchase){.id = "heater",
                                    .name = "the heater",
                                    .tasks = {1, needs},
                                    .price_money = {100, 100, 100},
                                    .delivery_h = {900, 1000, 1100}};
    p->n_purchases = 1;
    p->task[4].not_before_day = TODAY + 60;
    g_autoptr(WorkForecast) f = forecast(p);
    assert_int_equal(task_of(f, 3)->awaits, AWAITS_DELIVERY);
    assert_non_null(strstr(task_of(f, 3)->why, "heater"));
    assert_int_equal(task_of(f, 4)->awaits, AWAITS_DATE);
    assert_true(task_of(f, 3)->start_day >= TODAY + 1000.0 / 24.0);
    assert_true(task_of(f, 4)->start_day >= TODAY + 60);
    size_t busy = 0;
    for (size_t i = 0; i < 3; i++)
        busy += task_of(f, i)->awaits == AWAITS_HANDS || task_of(f, i)->awaits == AWAITS_TASK;
    assert_int_equal(busy, 2);
    assert_true(f->cost_p50_money >= 100.0 && f->likely_money >= 100.0);
}

/* Twenty hours a week: a trade fills Monday, Tuesday and half of Wednesday, an owner both days of the weekend and some evenings. */
static void
usual_weeks_are_taken(void **state)
{
    (void) state;
    for (int trade = 0; trade < 2; trade++) {
        g_autoptr(WorkPlan) p = plan_new_by_hand(1);
        add_hands(p, 1, 0, 0);
        memset(p->hand[0].n_spans, 0, sizeof p->hand[0].n_spans);
        p->hand[0].hours_h = 20.0;
        p->hand[0].kind = trade ? HAND_TRADE : HAND_OWNER;
        static const size_t self[] = {0};
        p->task[0].who = (WorkIndices){1, self};
        p->task[0].left_h = (ThreePoint){40.0, 40.0, 40.0};
        sure_pace(p);
        g_autoptr(WorkForecast) f = forecast(p);
        double weekend = 0.0, first = 0.0; /* TODAY is a Saturday */
        for (size_t i = 0; i < f->n_spells; i++) {
            double hours = 24.0 * (f->spell[i].to_day - f->spell[i].from_day);
            long day = (long) floor(f->spell[i].from_day) - TODAY;
            weekend += day % 7 < 2 ? hours : 0.0;
            first += day < 7 ? hours : 0.0;
        }
        is_near(first, 20.0, 1e-6);
        is_near(weekend, trade ? 0.0 : 32.0, 1e-6);
    }
}

static void
slots_are_waited_for(void **state)
{
    (void) state;
    g_autoptr(WorkPlan) p = plan_new_by_hand(2);
    add_hands(p, 1, 540, 1020);
    sure_pace(p);
    const size_t ties[][2] = {{0, 1}};
    add_ties(p, 1, ties, NULL);
    p->task[1].tags = TAG_HAUL;
    p->task[1].left_h = (ThreePoint){2.0, 2.0, 2.0};
    p->slot = work_plan_block(p, 2, sizeof *p->slot);
    p->slot[0] = (WorkSlot){.id = "a", .name = "a", .from_day = TODAY, .until_day = TODAY};
    p->slot[1] =
        (WorkSlot){.id = "b", .name = "b", .from_day = TODAY + 20, .until_day = TODAY + 21};
    p->n_slots = 2;
    g_autoptr(WorkForecast) f = forecast(p);
    is_near(task_of(f, 1)->start_day, TODAY + 20 + 8.0 / 24.0, 1e-6);
    assert_int_equal(task_of(f, 1)->awaits, AWAITS_HOURS);
    assert_int_equal(f->n_slots, 2);
    is_near(f->slot[0].chance_frac, 0.0, 1e-9);
    is_near(f->slot[1].chance_frac, 1.0, 1e-9);
    is_near(f->no_slot_frac, 0.0, 1e-9);
}

static void
a_cold_coat_waits_longer(void **state)
{
    (void) state;
    g_autoptr(WorkPlan) p = plan_new_by_hand(2);
    add_hands(p, 1, 0, 1440);
    const size_t ties[][2] = {{0, 1}};
    const double lag[] = {24.0};
    add_ties(p, 1, ties, lag);
    p->tie[0].cures = true;
    p->task[0].wait_at_K = 293.15;
    p->task[0].wait_least_K = 278.15;
    for (size_t m = 0; m < 12; m++)
        p->air_K[m] = 283.15; /* 10 K colder: twice as long */
    g_autoptr(WorkForecast) f = forecast(p);
    is_near(task_of(f, 1)->start_day - task_of(f, 0)->finish_day, 2.0, 1.0 / 1440.0);
    for (size_t m = 0; m < 12; m++)
        p->air_K[m] = m == 5 ? 293.15 : 273.15; /* only in June */
    g_autoptr(WorkForecast) frozen = forecast(p);
    double june = 2461558.0; /* 2027-06-01 */
    is_near(task_of(frozen, 1)->start_day, june + 1.0, 1.0 / 1440.0);
}

/* --- chances ----------------------------------------------------------------------------------------------------------------------- */

/* Nine hours at two an evening take five evenings: the last day to begin on is four before the date. */
static void
the_last_day_to_begin_is_counted(void **state)
{
    (void) state;
    const size_t all[] = {0};
    g_autoptr(WorkPlan) p = plan_new_by_hand(1);
    add_hands(p, 1, 1080, 1200);
    sure_pace(p);
    p->task[0].left_h = (ThreePoint){9.0, 9.0, 9.0};
    add_milestone(p, TODAY + 30, 1, all);
    g_autoptr(WorkForecast) f = forecast(p);
    is_near(f->milestone[0].chance_frac, 1.0, 1e-9);
    is_near(f->milestone[0].p50_day, TODAY + 4 + 19.0 / 24.0, 0.01);
    is_near(f->option[0].no_return_day, TODAY + 26, 1e-9);
    p->milestone[0].day = TODAY + 3;
    g_autoptr(WorkForecast) late = forecast(p);
    is_near(late->milestone[0].chance_frac, 0.0, 1e-9);
    assert_true(isnan(late->option[0].no_return_day));
    bool later = false, hand = false;
    for (size_t i = 0; i < late->n_helps; i++) {
        later |= late->help[i].kind == HELPS_LATER && late->help[i].days == 1.0;
        hand |= late->help[i].kind == HELPS_HAND && late->help[i].task == 0 &&
                late->help[i].gained_frac == 1.0;
    }
    assert_true(later && hand);
}

/* What is ordered comes when it comes, whenever the work begins; what is only wanted is ordered then. */
static void
ordered_things_come_by_themselves(void **state)
{
    (void) state;
    static const size_t all[] = {0};
    for (int ordered = 0; ordered < 2; ordered++) {
        g_autoptr(WorkPlan) p = plan_new_by_hand(1);
        add_hands(p, 1, 1080, 1200);
        sure_pace(p);
        p->task[0].left_h = (ThreePoint){9.0, 9.0, 9.0};
        add_milestone(p, TODAY + 30, 1, all);
        p->purchase = work_plan_block(p, 1, sizeof *p->purchase);
        p->purchase[0] = (WorkPurchase){.id = "heater",
                                        .name = "the heater",
                                        .tasks = {1, all},
                                        .state = ordered ? PURCHASE_ORDERED : PURCHASE_WANTED,
                                        .price_money = {NAN, NAN, NAN},
                                        .delivery_h = {240, 240, 240}};
        p->n_purchases = 1;
        g_autoptr(WorkForecast) f = forecast(p);
        assert_int_equal(task_of(f, 0)->awaits, AWAITS_DELIVERY);
        is_near(f->option[0].no_return_day, TODAY + (ordered ? 26 : 16), 1e-9);
    }
}

/* The chance of a date against the distribution of the pace alone. */
static void
chances_follow_the_pace(void **state)
{
    (void) state;
    const size_t all[] = {0};
    g_autoptr(WorkPlan) p = plan_new_by_hand(1);
    add_hands(p, 1, 0, 1440);
    p->task[0].left_h = (ThreePoint){240.0, 240.0, 240.0};
    add_milestone(p, TODAY + 11, 1, all); /* twelve days: a factor of 1.2 */
    const StudyHow how = {.seed = 3, .samples = 10000};
    g_autoptr(WorkForecast) f = work_forecast(p, NULL, &how);
    double chance =
        0.5 * erfc(-log(1.2) / 0.35 * M_SQRT1_2); /* the prior of docs/methods/work.md 1.8 */
    is_near(f->milestone[0].chance_frac, chance, 4.0 * sqrt(chance * (1 - chance) / 1e4));
    assert_true(f->milestone[0].chance_low_frac < chance &&
                f->milestone[0].chance_high_frac > chance);
    is_near(f->pace_log_sd, 0.35, 1e-9);
    for (size_t i = 1; i < f->n_chances; i++)
        assert_true(f->chance[i].day > f->chance[i - 1].day &&
                    f->chance[i].chance_frac >= f->chance[i - 1].chance_frac);
    assert_true(f->n_chances > 5 && f->chance[f->n_chances - 1].chance_frac > 0.99);
}

static void
threads_make_no_difference(void **state)
{
    (void) state;
    const size_t all[] = {0, 1, 2, 3, 4, 5};
    const size_t ties[][2] = {{0, 1}, {1, 2}, {3, 4}};
    g_autoptr(WorkPlan) p = plan_new_by_hand(6);
    add_hands(p, 2, 540, 720);
    add_ties(p, 3, ties, NULL);
    add_milestone(p, TODAY + 12, 6, all);
    p->cost_money_per_day = 12.0;
    p->hand[1].cost_money_per_h = 20.0;
    const StudyHow one = {.threads = 1, .seed = 5, .samples = 1500};
    const StudyHow three = {.threads = 3, .seed = 5, .samples = 1500};
    g_autoptr(WorkForecast) a = work_forecast(p, NULL, &one), b = work_forecast(p, NULL, &three);
    assert_int_equal(a->n_helps, b->n_helps);
    assert_memory_equal(a->help, b->help, a->n_helps * sizeof *a->help);
    assert_memory_equal(a->milestone, b->milestone, a->n_milestones * sizeof *a->milestone);
    assert_memory_equal(a->month, b->month, a->n_months * sizeof *a->month);
    assert_memory_equal(a->spell, b->spell, a->n_spells * sizeof *a->spell);
    assert_true(a->option[0].no_return_day == b->option[0].no_return_day ||
                isnan(a->option[0].no_return_day));
    assert_true(a->cost_p80_money == b->cost_p80_money);
    /* what the months add up to is what it costs */
    double sum = 0.0;
    for (size_t k = 0; k < a->n_months; k++) {
        sum += a->month[k].likely_money;
        assert_true(a->month[k].p50_money <= a->month[k].p80_money);
        assert_true(k == 0 || a->month[k].p50_money >= a->month[k - 1].p50_money);
    }
    assert_true(sum > 0.0 && a->month[a->n_months - 1].p80_money <= a->cost_p80_money * 1.2);
}

/* --- what cannot be ----------------------------------------------------------------------------------------------------------------- */

static void
what_lacks_is_said(void **state)
{
    (void) state;
    g_autoptr(WorkPlan) p = plan_new_by_hand(2);
    g_autoptr(WorkForecast) nobody = forecast(p);
    assert_non_null(strstr(nobody->fault, "hours"));
    add_hands(p, 1, 540, 720);
    p->today = 0;
    g_autoptr(WorkForecast) dateless = forecast(p);
    assert_non_null(strstr(dateless->fault, "what day"));
    p->today = TODAY;
    const size_t ties[][2] = {{0, 1}, {1, 0}};
    add_ties(p, 2, ties, NULL);
    g_autoptr(WorkForecast) round = forecast(p);
    assert_non_null(strstr(round->fault, "circle"));
    p->tie[1].overruled = "the owner says so";
    g_autoptr(WorkForecast) overruled = forecast(p);
    assert_null(overruled->fault);
    p->task[0].state = p->task[1].state = WORK_DONE;
    g_autoptr(WorkForecast) done = forecast(p);
    assert_non_null(strstr(done->fault, "nothing"));
}

static void
what_nobody_can_do_has_no_date(void **state)
{
    (void) state;
    const size_t all[] = {0, 1};
    const size_t ties[][2] = {{0, 1}};
    g_autoptr(WorkPlan) p = plan_new_by_hand(2);
    add_hands(p, 1, 540, 720);
    add_ties(p, 1, ties, NULL);
    add_milestone(p, TODAY + 30, 2, all);
    p->task[0].skill = "welding";
    g_autoptr(WorkForecast) f = forecast(p);
    assert_null(f->fault);
    assert_int_equal(task_of(f, 0)->awaits, AWAITS_FOREVER);
    assert_non_null(strstr(task_of(f, 0)->why, "welding"));
    assert_true(isnan(task_of(f, 0)->start_day) && isnan(task_of(f, 1)->start_day));
    assert_non_null(strstr(task_of(f, 1)->why, "t0"));
    is_near(f->milestone[0].chance_frac, 0.0, 1e-9);
    assert_true(isnan(f->milestone[0].p50_day) && isnan(f->option[0].no_return_day));
    assert_int_equal(f->n_chances, 0);
}

/* Numbers that a hand on the keyboard may make. */
static void
wild_numbers_are_borne(void **state)
{
    (void) state;
    const size_t all[] = {0, 1, 2, 3, 4, 5};
    const size_t ties[][2] = {{0, 1}, {1, 2}};
    const double lag[] = {1e12, NAN};
    g_autoptr(WorkPlan) p = plan_new_by_hand(6);
    add_hands(p, 1, 540, 720);
    add_ties(p, 2, ties, lag);
    add_milestone(p, TODAY + 3000000, 6, all);
    p->task[0].left_h = (ThreePoint){NAN, NAN, NAN};
    p->task[2].left_h = (ThreePoint){-5.0, -3.0, -1.0};
    p->task[3].left_h = (ThreePoint){1.0, 1e9, 1e12};
    p->task[4].people = 1e6;
    p->task[5].due_day = 1;
    p->task[5].not_before_day = 5000000;
    p->hand[0].until_day = 1;
    p->cost_money_per_day = 1e300;
    g_autoptr(WorkForecast) f = forecast(p);
    assert_null(f->fault);
    assert_int_equal(f->n_tasks, 6);
    for (size_t i = 0; i < 6; i++)
        assert_true(isnan(f->task[i].start_day) && f->task[i].awaits == AWAITS_FOREVER);
    assert_true(f->milestone[0].chance_frac == 0.0 && isnan(f->cost_p80_money));
    p->hand[0].until_day = 0;
    g_autoptr(WorkForecast) worked = forecast(p);
    assert_true(isfinite(task_of(worked, 0)->finish_day));
    assert_int_equal(worked->n_unknown, 1);
}

static void
cancelled_is_nothing(void **state)
{
    (void) state;
    const gint stop = 1;
    const StudyHow how = {.cancel = &stop};
    g_autoptr(WorkPlan) p = plan_new_by_hand(2);
    add_hands(p, 1, 540, 720);
    assert_null(work_forecast(p, NULL, &how));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(work_is_done_in_its_order),
        cmocka_unit_test(waits_say_why),
        cmocka_unit_test(usual_weeks_are_taken),
        cmocka_unit_test(slots_are_waited_for),
        cmocka_unit_test(a_cold_coat_waits_longer),
        cmocka_unit_test(the_last_day_to_begin_is_counted),
        cmocka_unit_test(ordered_things_come_by_themselves),
        cmocka_unit_test(chances_follow_the_pace),
        cmocka_unit_test(threads_make_no_difference),
        cmocka_unit_test(what_lacks_is_said),
        cmocka_unit_test(what_nobody_can_do_has_no_date),
        cmocka_unit_test(wild_numbers_are_borne),
        cmocka_unit_test(cancelled_is_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
