/* What a berth costs by started months, and how spending falls on the months.
 *
 *     months: m = 0, 1, ... with start + m months (same day of the month, else its last) not after the earlier of finish and until
 *     cost = month_rate months + day_rate (finish - until)+
 *     an amount is spread evenly over its days, first and last included
 *
 * Given    day numbers of base/date.h, whole; neither finish nor until before start; rates >= 0; payments: to >= from
 * Gives    months, days over, cost; spent[] by month from that of the first payment, total, least balance at the end of a day and the
 *          first such day
 * Returns  VALID; REFUSED outside the ranges above, and for payments more than PAYMENT_YEARS apart
 * Source   definitions of docs/methods/work.md 4
 * Checked  berth-cost and cash-flow in tests/cases/work.csv; tests/physics/test_money.c: the months add up to the total */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef struct {
    double months, days_over, cost;
} BerthCost;

Validity berth_cost(double start, double until, double finish, double month_rate, double day_rate,
                    BerthCost *out);

typedef struct {
    double amount, from, to;
} Payment;

enum { PAYMENT_YEARS = 100, PAYMENT_MONTHS = 12 * PAYMENT_YEARS + 12 };

typedef struct {
    int year, month; /* of spent[0] */
    size_t months;
    double spent[PAYMENT_MONTHS];
    double total, lowest, lowest_day;
} CashFlow;

Validity cash_flow(size_t n, const Payment payment[], double cash, CashFlow *out);

extern const Method berth_cost_method, cash_flow_method;
