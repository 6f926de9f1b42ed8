/* Money: sums, mishaps, berths and months, by second methods. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "base/date.h"
#include "physics/work/cost_sum.h"
#include "physics/work/money_days.h"
#include "physics/work/risk_event.h"

static double
day(int year, int month, int date)
{
    return date_day((Date){year, month, date});
}

static void
drawn_costs_follow_the_formula(void **state)
{
    (void) state;
    Duration item[5];
    for (size_t i = 0; i < 5; i++)
        duration_three(DURATION_TRIANGULAR, 100.0, 150.0 + 10.0 * (double) i, 260.0, 4.0, &item[i]);
    double last_sd = 0.0;
    for (double r = 0.0; r <= 1.0; r += 0.25) {
        CostMoments m;
        CostDrawn d;
        assert_int_equal(cost_moments(5, item, r, &m), VALID);
        assert_int_equal(cost_drawn(5, item, r, m.mean, 40000.0, 7, &d), VALID);
        /* nearly symmetric items: scores and costs are correlated alike; four standard errors of a spread */
        assert_true(fabs(d.sd - m.sd) < 4.0 * m.sd / sqrt(2.0 * 40000.0) + 0.02 * m.sd);
        assert_true(m.sd > last_sd);
        assert_true(d.p50 < d.p80 && d.p80 < d.p90);
        assert_true(fabs(d.chance_budget - 0.5) < 0.02);
        last_sd = m.sd;
    }
    double together = 0.0; /* r = 1: spreads add */
    for (size_t i = 0; i < 5; i++)
        together += sqrt(item[i].variance_h2);
    assert_true(fabs(last_sd - together) < 1e-9);
}

static void
constants_cost_what_they_cost(void **state)
{
    (void) state;
    Duration item;
    CostMoments m;
    CostDrawn d, again;
    duration_three(DURATION_TRIANGULAR, 1500.0, 1500.0, 1500.0, 4.0, &item);
    assert_int_equal(cost_moments(1, &item, 0.25, &m), VALID);
    assert_int_equal(cost_drawn(1, &item, 0.25, 1499.0, 10.0, 1, &d), EXTRAPOLATED);
    assert_true(m.mean == 1500.0 && m.sd == 0.0 && m.p80_lognormal == 1500.0);
    assert_true(d.p50 == 1500.0 && d.chance_likely == 1.0 && d.chance_budget == 0.0);
    duration_three(DURATION_BETA, 100.0, 200.0, 900.0, 4.0, &item);
    cost_drawn(1, &item, 0.0, NAN, 2000.0, 3, &d);
    cost_drawn(1, &item, 0.0, NAN, 2000.0, 3, &again);
    assert_true(d.p80 == again.p80 && isnan(d.chance_budget));
    assert_int_equal(cost_drawn(1, &item, 1.1, NAN, 2000.0, 3, &d), REFUSED);
    assert_int_equal(cost_drawn(1, &item, 0.0, NAN, 0.5, 3, &d), REFUSED);
    assert_int_equal(cost_drawn(1, &item, 0.0, NAN, 1e9, 3, &d), REFUSED);
    assert_int_equal(cost_moments(0, &item, 0.0, &m), REFUSED);
}

/* A mixture's own percentile is met with its own chance; without the mishap it is the normal one. */
static void
percentiles_of_a_mishap(void **state)
{
    (void) state;
    RiskEvent event = {12000.0, 900.0, 0.3, 4000.0, 500.0};
    RiskCost cost, at;
    assert_int_equal(risk_event(&event, NAN, &cost), VALID);
    assert_true(isnan(cost.chance_budget) && cost.p50 < cost.p80 && cost.p80 < cost.p90);
    const double point[] = {cost.p50, cost.p80, cost.p90}, chance[] = {0.5, 0.8, 0.9};
    for (size_t i = 0; i < 3; i++) {
        risk_event(&event, point[i], &at);
        assert_true(fabs(at.chance_budget - chance[i]) < 1e-10);
    }
    event.chance = 0.0;
    risk_event(&event, NAN, &cost);
    assert_true(fabs(cost.p80 - (12000.0 + 0.8416212335729143 * 900.0)) < 1e-6);
    event.chance = 1.0;
    event.impact_mean = -500.0; /* a gain */
    risk_event(&event, NAN, &cost);
    assert_true(fabs(cost.p50 - 11500.0) < 1e-6 && cost.mean == 11500.0);
    event.base_sd = 0.0;
    assert_int_equal(risk_event(&event, NAN, &cost), REFUSED);
    event = (RiskEvent){1.0, 1.0, 1.5, 1.0, 0.0};
    assert_int_equal(risk_event(&event, NAN, &cost), REFUSED);
}

static void
berths_begin_a_month_at_a_time(void **state)
{
    (void) state;
    double start = day(2027, 1, 31), until = day(2028, 12, 31), last = -1.0;
    for (double finish = start; finish <= until; finish += 1.0) {
        BerthCost berth;
        assert_int_equal(berth_cost(start, until, finish, 310.0, 25.0, &berth), VALID);
        assert_true(berth.cost >= last && berth.cost == 310.0 * berth.months);
        last = berth.cost;
    }
    BerthCost berth;
    berth_cost(start, until, day(2028, 2, 29), 310.0, 25.0,
               &berth); /* a leap year's last of February */
    assert_true(berth.months == 14.0);
    berth_cost(start, day(2027, 3, 1), day(2027, 3, 11), 310.0, 25.0, &berth);
    assert_true(berth.months == 2.0 && berth.days_over == 10.0 && berth.cost == 870.0);
    assert_int_equal(berth_cost(start, start - 1.0, start, 310.0, 25.0, &berth), REFUSED);
    assert_int_equal(berth_cost(start, until, start - 1.0, 310.0, 25.0, &berth), REFUSED);
    assert_int_equal(berth_cost(NAN, until, start, 310.0, 25.0, &berth), REFUSED);
    assert_int_equal(berth_cost(start, until, until, -1.0, 25.0, &berth), REFUSED);
}

static void
months_add_up(void **state)
{
    (void) state;
    const Payment payment[] = {{2000.0, day(2027, 3, 1), day(2027, 3, 20)},
                               {3000.0, day(2027, 3, 16), day(2027, 4, 14)},
                               {-1800.0, day(2027, 12, 31), day(2028, 1, 1)}};
    CashFlow flow;
    assert_int_equal(cash_flow(3, payment, 1000.0, &flow), VALID);
    double sum = 0.0;
    for (size_t i = 0; i < flow.months; i++)
        sum += flow.spent[i];
    assert_true(fabs(sum - 3200.0) < 1e-9 && fabs(flow.total - 3200.0) < 1e-9);
    assert_true(flow.months == 11 && flow.year == 2027 && flow.month == 3);
    assert_true(fabs(flow.spent[9] + 900.0) < 1e-9 && flow.spent[5] == 0.0);
    assert_true(fabs(flow.lowest + 4000.0) < 1e-6 && flow.lowest_day == day(2027, 4, 14));
    const Payment back = {1.0, day(2027, 3, 2), day(2027, 3, 1)};
    const Payment far[] = {{1.0, day(1900, 1, 1), day(1900, 1, 1)},
                           {1.0, day(2027, 1, 1), day(2027, 1, 1)}};
    assert_int_equal(cash_flow(1, &back, 0.0, &flow), REFUSED);
    assert_int_equal(cash_flow(2, far, 0.0, &flow), REFUSED);
    assert_int_equal(cash_flow(0, far, 0.0, &flow), REFUSED);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(drawn_costs_follow_the_formula),
        cmocka_unit_test(constants_cost_what_they_cost),
        cmocka_unit_test(percentiles_of_a_mishap),
        cmocka_unit_test(berths_begin_a_month_at_a_time),
        cmocka_unit_test(months_add_up),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
