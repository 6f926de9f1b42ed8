/* What is spent month by month: by the plan, and until the end of each month in the trials.
 * Invariant: the months' sums are the whole of what a trial costs, berth included. */
#include <math.h>

#include "base/date.h"
#include "physics/work/dates.h"
#include "study/work_forecast_parts.h"

enum { MOST_MONTHS = 120 };

typedef struct {
    const Reckoning *r;
    size_t n;
    int32_t end_min[MOST_MONTHS]; /* first minute after it */
} Months;

static void
make_months(Months *months, const Reckoning *r, ForecastMonth all[])
{
    const WorkModel *m = r->model;
    size_t n_trials = r->trials->n;
    int32_t last = risk_quantile(n_trials, r->sorted, 0.95);
    if (last == PLAN_NEVER)
        last = r->dates->finish_min;
    Date date = day_date((double) m->first_day);
    months->n = 0;
    while (months->n < MOST_MONTHS) {
        Date next =
            date.month < 12 ? (Date){date.year, date.month + 1, 1} : (Date){date.year + 1, 1, 1};
        double end = (date_day(next) - (double) m->first_day) * MINUTES_A_DAY;
        all[months->n] = (ForecastMonth){.year = date.year, .month = date.month};
        months->end_min[months->n++] = (int32_t) end;
        date = next;
        if (last == PLAN_NEVER || end > last)
            break;
    }
}

/* An amount spread evenly from one instant to another; what comes after the last month is left out. */
static void
spread(const Months *months, int32_t from, int32_t to, double amount, double sum[])
{
    int32_t begin = 0;
    if (from == PLAN_NEVER || to == PLAN_NEVER || !(amount > 0.0))
        return;
    for (size_t k = 0; k < months->n; k++) {
        int32_t a = MAX(from, begin), b = MIN(to, months->end_min[k]);
        if (to <= from)
            sum[k] += from >= begin && from < months->end_min[k] ? amount : 0.0;
        else if (b > a)
            sum[k] += amount * (double) (b - a) / (double) (to - from);
        begin = months->end_min[k];
    }
}

/* trial SIZE_MAX: the plan itself, with the usual prices. */
static void
spend(const Months *months, size_t trial, double sum[])
{
    const WorkModel *m = months->r->model;
    const RiskTrials *t = months->r->trials;
    bool plan = trial == SIZE_MAX;
    const PlanPlace *place = months->r->dates->place;
    for (size_t k = 0; k < m->risk.n_costs; k++) {
        size_t i = m->cost_task[k];
        int32_t at = i == NO_TASK ? 0 : plan ? place[i].start_min : t->kept_start[trial * m->n + i];
        double money = plan ? m->risk.cost[k].money.of.likely_h : risk_price(&m->risk, k, trial);
        spread(months, at, at, money, sum);
    }
    for (size_t i = 0; i < m->n; i++) {
        double wage = m->risk.task[i].wage_money;
        if (wage <= 0.0)
            continue;
        double hours = plan ? m->work.task[i].work_min / 60.0 : risk_hours(&m->risk, i, trial);
        spread(months, plan ? place[i].start_min : t->kept_start[trial * m->n + i],
               plan ? place[i].finish_min : t->kept_finish[trial * m->n + i], wage * hours, sum);
    }
    int32_t finish = plan ? months->r->dates->finish_min : t->finish_min[trial];
    if (finish == PLAN_NEVER)
        return;
    double days = finish / (double) MINUTES_A_DAY;
    spread(months, 0, finish, days * m->risk.day_money, sum);
    if (m->risk.until_min != PLAN_NEVER && finish > m->risk.until_min)
        spread(months, m->risk.until_min, finish,
               (double) (finish - m->risk.until_min) / MINUTES_A_DAY * m->risk.over_money, sum);
}

static int
rising(gconstpointer a, gconstpointer b)
{
    const double *x = a, *y = b;
    return (*x > *y) - (*x < *y);
}

void
work_forecast_months(Reckoning *r)
{
    Months months = {.r = r};
    ForecastMonth *all = work_forecast_block(r->out, MOST_MONTHS, sizeof *all);
    make_months(&months, r, all);
    size_t trials = r->trials->n_kept;
    double sum[MOST_MONTHS] = {0.0};
    g_autofree double *until = g_new0(double, MAX(trials, 1) * months.n); /* [month][trial] */
    spend(&months, SIZE_MAX, sum);
    for (size_t k = 0; k < months.n; k++)
        all[k].likely_money = sum[k];
    for (size_t t = 0; t < trials; t++) {
        double one[MOST_MONTHS] = {0.0}, all_until = 0.0;
        spend(&months, t, one);
        for (size_t k = 0; k < months.n; k++)
            until[k * trials + t] = all_until += one[k];
    }
    for (size_t k = 0; k < months.n && trials > 0; k++) {
        qsort(&until[k * trials], trials, sizeof(double), rising);
        all[k].p50_money = until[k * trials + (trials - 1) / 2];
        all[k].p80_money = until[k * trials + (trials - 1) * 4 / 5];
    }
    r->out->month = all;
    r->out->n_months = months.n;
}
