/* Sentences about a forecast, made by hand: a chance is never said as sure, and what never happens is said so. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <math.h>
#include <string.h>

#include <cmocka.h>

#include "report/forecast_words.h"

static void
says(char *words, const char *expected)
{
    if (words == NULL || strcmp(words, expected) != 0)
        fail_msg("\"%s\" instead of \"%s\"", words, expected);
    g_free(words);
}

static void
chances(void **state G_GNUC_UNUSED)
{
    says(share_words(0.0), "less than 1 in 100");
    says(share_words(0.004), "less than 1 in 100");
    says(share_words(0.37), "37 in 100");
    says(share_words(0.994), "99 in 100");
    says(share_words(1.0), "more than 99 in 100");
    says(share_words(NAN), "not known");
}

static void
days(void **state G_GNUC_UNUSED)
{
    says(days_words(2461508.2, 2461508.9), "12 April 2027");
    says(days_words(2461508.2, 2461510.5), "12 April 2027 to 14 April 2027");
}

typedef struct {
    WorkTask task[2];
    WorkMilestone milestone;
    WorkPurchase purchase[2];
    WorkPlan plan;
    WorkForecast forecast;
} Small;

static void
small(Small *s)
{
    *s = (Small){
        .task = {{.path = "work.weld", .name = "Weld", .spent_money = 40.0},
                 {.path = "work.paint", .name = "Paint"}},
        .milestone = {.path = "milestones.launch", .name = "she floats", .day = 2461508},
        .purchase = {
            {.state = PURCHASE_ORDERED, .price_money = {90.0, 100.0, 120.0}, .paid_money = 30.0},
            {.state = PURCHASE_WANTED, .price_money = {5.0, 6.0, 7.0}}}};
    s->plan = (WorkPlan){.n_tasks = 2,
                         .task = s->task,
                         .n_milestones = 1,
                         .milestone = &s->milestone,
                         .n_purchases = 2,
                         .purchase = s->purchase};
    s->forecast = (WorkForecast){.plan = &s->plan,
                                 .trials = 1000,
                                 .asked_frac = 0.8,
                                 .cost_p50_money = 500.0,
                                 .cost_p80_money = 600.0,
                                 .contingency_money = 150.0};
}

static void
milestones(void **state G_GNUC_UNUSED)
{
    Small s;
    small(&s);
    ForecastMilestone m = {.p10_day = 2461500.5,
                           .p50_day = 2461505.5,
                           .p90_day = NAN,
                           .date_day = 2461509.0,
                           .chance_frac = 0.6,
                           .chance_low_frac = 0.57,
                           .chance_high_frac = 0.63};
    says(
        reached_words(&s.forecast, &m),
        "She floats: as likely as not done by 9 April 2027; in 8 of 10 trials between 4 April 2027 "
        "and never. The chance to make 12 April 2027: 60 in 100 (57 to 63 by the count of trials "
        "alone).");
    /* A slot leaves one day, and trials that all say the same no interval. */
    m.p10_day = m.p90_day = m.p50_day;
    m.chance_frac = m.chance_low_frac = 0.0;
    m.chance_high_frac = 0.0004;
    says(reached_words(&s.forecast, &m),
         "She floats: as likely as not done by 9 April 2027; in 8 of 10 trials on that day. The "
         "chance to make 12 April 2027: less than 1 in 100.");
    m.p50_day = NAN;
    says(reached_words(&s.forecast, &m), "She floats: in most trials it is never reached.");
}

static void
plans(void **state G_GNUC_UNUSED)
{
    Small s;
    small(&s);
    ForecastOption o = {
        .chance_frac = 0.9, .p50_day = 2461505.5, .no_return_day = 2461400.0, .mean_money = NAN};
    says(option_words(&s.forecast, &o),
         "begun now 90 in 100 to be done in time, as likely as not by "
         "9 April 2027; begun after 25 December 2026 less than 80 in "
         "100");
    o.no_return_day = NAN;
    o.chance_frac = 0.3;
    o.mean_money = 1000.0;
    o.regret_money = 50.0;
    says(option_words(&s.forecast, &o), "begun now 30 in 100 to be done in time, as likely as not "
                                        "by 9 April 2027; the 80 in 100 that "
                                        "are wanted are out of reach already; costs 1\u00a0000 on "
                                        "average, 50 more than the cheapest "
                                        "plan with the same luck");
    says(option_name(&o), "the plan as it stands");
}

static void
money(void **state G_GNUC_UNUSED)
{
    Small s;
    small(&s);
    says(money_words(&s.forecast, UNITS_METRIC),
         "Spent so far 70; ordered and not paid yet 70. Still to be paid: as likely as not less "
         "than "
         "500, in 8 of 10 trials less than 600. Set 150 aside beyond the plain sum.");
    s.forecast.cost_p50_money = NAN;
    says(money_words(&s.forecast, UNITS_METRIC),
         "Spent so far 70; ordered and not paid yet 70; what is still to come cannot be told.");
}

static void
helps(void **state G_GNUC_UNUSED)
{
    Small s;
    small(&s);
    const ForecastHelp help[] = {
        {.kind = HELPS_DROP, .task = 1, .chance_frac = 0.5, .gained_frac = 0.2},
        {.kind = HELPS_LATER,
         .task = NO_TASK,
         .days = 7.0,
         .chance_frac = 0.31,
         .gained_frac = 0.01},
        {.kind = HELPS_HAND, .task = 0, .chance_frac = 0.3, .gained_frac = 0.001}};
    s.forecast.help = help;
    s.forecast.n_helps = 3;
    assert_true(helps_that_count(&s.forecast, 8) == 2 && helps_that_count(&s.forecast, 1) == 1);
    says(help_words(&s.forecast, &help[0]),
         "Leave out \u201cPaint\u201d: 50 in 100, 20 more in 100.");
    says(help_words(&s.forecast, &help[1]), "The date 7 days later: 31 in 100, 1 more in 100.");
}

int
main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(chances),    cmocka_unit_test(days),
                                       cmocka_unit_test(milestones), cmocka_unit_test(plans),
                                       cmocka_unit_test(money),      cmocka_unit_test(helps)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
