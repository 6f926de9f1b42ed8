/* Money over days. Invariant: what is spent by month adds up to the total. */
#include "physics/work/money_days.h"

#include <string.h>

#include "base/date.h"
#include "physics/domain.h"
#include "physics/memory.h"

#define SHEET "docs/methods/work.md 4"
const Method berth_cost_method = {"Berth by started months and the days beyond its end",
                                  "C = r_m * months + r_d * days",
                                  {"definition; " SHEET, STANDING_DERIVED}};
const Method cash_flow_method = {"Cash at the end of a day",
                                 "B = B_0 - sum(a * days / (to - from + 1))",
                                 {"definition; " SHEET, STANDING_DERIVED}};

static bool
is_day(double day)
{
    return day == floor(day) && day_date(day).year != 0;
}

/* The same day of a later month, else its last. */
static double
months_later(Date start, int months)
{
    int count = start.month - 1 + months;
    Date to = {start.year + count / 12, count % 12 + 1, start.day};
    while (to.day > 28 && isnan(date_day(to)))
        to.day--;
    return date_day(to);
}

Validity
berth_cost(double start, double until, double finish, double month_rate, double day_rate,
           BerthCost *out)
{
    *out = (BerthCost){NAN, NAN, NAN};
    if (!is_day(start) || !is_day(until) || !is_day(finish) || finish < start || until < start ||
        !is_not_negative(month_rate) || !is_not_negative(day_rate))
        return REFUSED;
    Date first = day_date(start);
    double end = fmin(finish, until);
    int months = 0;
    while (months_later(first, months) <= end)
        months++;
    double over = fmax(0.0, finish - until);
    *out = (BerthCost){months, over, month_rate * months + day_rate * over};
    return VALID;
}

static bool
stretch(size_t n, const Payment payment[], double *first, double *last)
{
    *first = INFINITY;
    *last = -INFINITY;
    for (size_t i = 0; i < n; i++) {
        const Payment *p = &payment[i];
        if (!is_number(p->amount) || !is_day(p->from) || !is_day(p->to) || p->to < p->from)
            return false;
        *first = fmin(*first, p->from);
        *last = fmax(*last, p->to);
    }
    return n > 0 && *last - *first < 365.0 * PAYMENT_YEARS;
}

static size_t
month_of(const CashFlow *flow, double day)
{
    Date date = day_date(day);
    return (size_t) ((date.year - flow->year) * 12 + date.month - flow->month);
}

Validity
cash_flow(size_t n, const Payment payment[], double cash, CashFlow *out)
{
    double first, last;
    memset(out, 0, sizeof *out);
    out->total = out->lowest = out->lowest_day = NAN;
    if (!is_number(cash) || !stretch(n, payment, &first, &last))
        return REFUSED;
    size_t days = (size_t) (last - first) + 1;
    double *spent = fresh(days, sizeof *spent), balance = cash;
    for (size_t i = 0; i < n; i++) {
        const Payment *p = &payment[i];
        double daily = p->amount / (p->to - p->from + 1.0);
        for (size_t d = (size_t) (p->from - first); d <= (size_t) (p->to - first); d++)
            spent[d] += daily;
    }
    Date begin = day_date(first);
    out->year = begin.year;
    out->month = begin.month;
    out->total = 0.0;
    out->lowest = INFINITY;
    for (size_t d = 0; d < days; d++) {
        double day = first + (double) d;
        size_t month = month_of(out, day);
        out->spent[month] += spent[d];
        out->months = month + 1;
        out->total += spent[d];
        balance -= spent[d];
        /* what the even spreading rounds is no lower balance */
        if (balance < out->lowest - 1e-9 * (1.0 + fabs(out->lowest)) || isinf(out->lowest)) {
            out->lowest = balance;
            out->lowest_day = day;
        }
    }
    free(spent);
    return VALID;
}
