/* Trials. Invariant: what is drawn depends on seed, trial and key alone. */
#include "physics/work/risk.h"

#include <math.h>
#include <string.h>

#include "physics/dice.h"
#include "physics/memory.h"
#include "physics/work/rank_correlation.h"

/* Luck that all tasks of a trial share, and the weather's, under keys of their own. */
static const uint64_t key_pace = UINT64_C(0x5851f42d4c957f2d),
                      key_all = UINT64_C(0x14057b7ef767814f),
                      key_prices = UINT64_C(0x2545f4914f6cdd1d),
                      key_weather = UINT64_C(0x369dea0f31a53f85);
/* No task takes longer, whatever is drawn. */
static const double most_h = 24.0 * 366.0 * 30.0;

RiskTrials *
risk_trials_new(size_t trials, size_t tasks, size_t marks, size_t keep)
{
    RiskTrials *t = fresh(1, sizeof(RiskTrials));
    t->n = trials;
    t->n_tasks = tasks;
    t->n_marks = marks;
    t->n_kept = keep < trials ? keep : trials;
    t->finish_min = fresh(trials, sizeof(int32_t));
    t->cost_money = fresh(trials, sizeof(double));
    t->hours_h = fresh(trials, sizeof(double));
    t->mark_min = fresh(trials * marks, sizeof(int32_t));
    t->drove = fresh(risk_blocks(t) * tasks, sizeof(uint32_t));
    t->kept_start = fresh(t->n_kept * tasks, sizeof(int32_t));
    t->kept_finish = fresh(t->n_kept * tasks, sizeof(int32_t));
    return t;
}

void
risk_trials_free(RiskTrials *t)
{
    if (t == NULL)
        return;
    free(t->finish_min);
    free(t->cost_money);
    free(t->hours_h);
    free(t->mark_min);
    free(t->drove);
    free(t->kept_start);
    free(t->kept_finish);
    free(t);
}

size_t
risk_blocks(const RiskTrials *t)
{
    return (t->n + RISK_BLOCK - 1) / RISK_BLOCK;
}

/* --- luck ------------------------------------------------------------------------------------------------------------------ */

static double
score_of(uint64_t seed, size_t trial, uint64_t key)
{
    Dice dice = dice_of(seed, trial, key);
    return dice_normal(&dice);
}

typedef struct {
    double pace, together, prices; /* factor; common scores of hours and of prices */
} Luck;

static Luck
luck_of(const RiskModel *m, size_t trial)
{
    double theta = m->pace_log_mean + m->pace_log_sd * score_of(m->seed, trial, key_pace);
    return (Luck){exp(theta), score_of(m->seed, trial, key_all),
                  score_of(m->seed, trial, key_prices)};
}

static double
together(double correlation, double common, double own)
{
    return sqrt(correlation) * common + sqrt(1.0 - correlation) * own;
}

static double
finds_h(const RiskModel *m, const RiskTask *t, size_t trial)
{
    double sum = 0.0;
    for (size_t k = 0; k < t->n_finds; k++) {
        Dice dice = dice_of(m->seed, trial, t->find[k].key);
        if (dice_share(&dice) < t->find[k].chance)
            sum += duration_curve_at(&t->find[k].takes, dice_normal(&dice));
    }
    return sum;
}

static double
hours_of(const RiskModel *m, const Luck *luck, size_t task, size_t trial)
{
    const RiskTask *t = &m->task[task];
    if (t->scale == 0.0)
        return 0.0;
    double own = duration_is_constant(&t->takes.of) ? 0.0 : score_of(m->seed, trial, t->key);
    double hours = duration_curve_at(&t->takes, together(m->correlation, luck->together, own));
    hours = t->scale * (hours + finds_h(m, t, trial)) * (t->paced ? luck->pace : 1.0);
    return fmin(hours, most_h);
}

double
risk_hours(const RiskModel *m, size_t task, size_t trial)
{
    Luck luck = luck_of(m, trial);
    return hours_of(m, &luck, task, trial);
}

/* --- one trial --------------------------------------------------------------------------------------------------------------- */

static double
price_of(const RiskModel *m, const Luck *luck, size_t cost, size_t trial)
{
    const RiskCost *c = &m->cost[cost];
    double own = duration_is_constant(&c->money.of) ? 0.0 : score_of(m->seed, trial, c->key);
    return duration_curve_at(&c->money, together(m->price_correlation, luck->prices, own));
}

double
risk_price(const RiskModel *m, size_t cost, size_t trial)
{
    Luck luck = luck_of(m, trial);
    return price_of(m, &luck, cost, trial);
}

static double
bought_money(const RiskModel *m, const Luck *luck, size_t trial)
{
    double sum = 0.0;
    for (size_t k = 0; k < m->n_costs; k++)
        sum += price_of(m, luck, k, trial);
    return sum;
}

static double
berth_money(const RiskModel *m, int32_t finish_min)
{
    if (m->day_money <= 0.0 && m->over_money <= 0.0)
        return 0.0;
    if (finish_min == PLAN_NEVER)
        return INFINITY;
    double days = fmax(0.0, ((double) finish_min - m->from_min) / 1440.0);
    double over = m->until_min == PLAN_NEVER ? 0.0 : ((double) finish_min - m->until_min) / 1440.0;
    return days * m->day_money + fmax(0.0, over) * m->over_money;
}

static int32_t
mark_of(const PlanDates *d, const RiskMark *mark, int32_t begin_min)
{
    int32_t last = begin_min;
    for (size_t i = 0; i < mark->n; i++)
        if (d->place[mark->task[i]].finish_min > last)
            last = d->place[mark->task[i]].finish_min;
    return last;
}

typedef struct {
    const RiskModel *model;
    PlanReplay *replay;
    int32_t *work_min;
    bool *critical;
} Bench;

static void
keep_dates(const PlanDates *d, size_t trial, RiskTrials *t)
{
    for (size_t i = 0; i < d->n; i++) {
        t->kept_start[trial * d->n + i] = d->place[i].start_min;
        t->kept_finish[trial * d->n + i] = d->place[i].finish_min;
    }
}

static void
try_once(Bench *b, size_t trial, uint32_t drove[], RiskTrials *t)
{
    const RiskModel *m = b->model;
    Luck luck = luck_of(m, trial);
    double money = bought_money(m, &luck, trial), sum_h = 0.0;
    for (size_t i = 0; i < t->n_tasks; i++) {
        double hours = hours_of(m, &luck, i, trial);
        b->work_min[i] = (int32_t) lround(60.0 * hours);
        money += hours * m->task[i].wage_money;
        sum_h += m->task[i].paced ? hours : 0.0;
    }
    Dice weather = dice_of(m->seed, trial, key_weather);
    const PlanChance chance = {weather.state, m->lost_frac, m->begin_min};
    const PlanDates *d = plan_replay(b->replay, m->list, b->work_min, &chance);
    t->finish_min[trial] = d->finish_min;
    t->hours_h[trial] = sum_h;
    t->cost_money[trial] = money + berth_money(m, d->finish_min);
    int32_t begin =
        m->begin_min > plan_work(m->plan)->begin_min ? m->begin_min : plan_work(m->plan)->begin_min;
    for (size_t k = 0; k < t->n_marks; k++)
        t->mark_min[k * t->n + trial] = mark_of(d, &m->mark[k], begin);
    if (trial < t->n_kept)
        keep_dates(d, trial, t);
    plan_drivers(b->replay, b->critical);
    for (size_t i = 0; i < t->n_tasks; i++)
        drove[i] += b->critical[i];
}

void
risk_run(const RiskModel *m, size_t block, RiskTrials *t)
{
    Bench b = {m, plan_replay_new(m->plan, false), fresh(t->n_tasks, sizeof(int32_t)),
               fresh(t->n_tasks, sizeof(bool))};
    size_t first = block * RISK_BLOCK, end = first + RISK_BLOCK < t->n ? first + RISK_BLOCK : t->n;
    for (size_t trial = first; trial < end; trial++)
        try_once(&b, trial, &t->drove[block * t->n_tasks], t);
    plan_replay_free(b.replay);
    free(b.work_min);
    free(b.critical);
}

/* --- what they say ----------------------------------------------------------------------------------------------------------- */

void
risk_criticality(const RiskTrials *t, double frac[])
{
    memset(frac, 0, t->n_tasks * sizeof(double));
    for (size_t b = 0; b < risk_blocks(t); b++)
        for (size_t i = 0; i < t->n_tasks; i++)
            frac[i] += (double) t->drove[b * t->n_tasks + i];
    for (size_t i = 0; i < t->n_tasks; i++)
        frac[i] /= (double) t->n;
}

void
risk_cruciality(const RiskModel *m, const RiskTrials *t, size_t most, double value[])
{
    size_t n = most < t->n ? most : t->n;
    double *all = fresh(3 * n, sizeof(double)), *rank = all + n, *finish_rank = all + 2 * n;
    Luck *luck = fresh(n, sizeof(Luck));
    for (size_t trial = 0; trial < n; trial++) {
        luck[trial] = luck_of(m, trial);
        luck[trial].pace = 1.0;
        all[trial] = (double) t->finish_min[trial];
    }
    rank_of(n, all, finish_rank);
    for (size_t i = 0; i < t->n_tasks; i++) {
        for (size_t trial = 0; trial < n; trial++)
            all[trial] = hours_of(m, &luck[trial], i, trial);
        rank_of(n, all, rank);
        value[i] = fabs(rank_correlation(n, rank, finish_rank));
    }
    free(all);
    free(luck);
}

/* Mean of the finishes of trials whose rank lies within, less `middle`; 0 where there is none. */
static double
mean_within(const RiskTrials *t, size_t n, const double rank[], double low, double high,
            double middle)
{
    double sum = 0.0;
    size_t met = 0;
    for (size_t trial = 0; trial < n; trial++) {
        if (t->finish_min[trial] == PLAN_NEVER || rank[trial] < low || rank[trial] > high)
            continue;
        sum += (double) t->finish_min[trial];
        met++;
    }
    return met > 0 ? sum / (double) met - middle : 0.0;
}

static bool
all_alike(size_t n, const double value[])
{
    for (size_t i = 1; i < n; i++)
        if (value[i] != value[0])
            return false;
    return true;
}

void
risk_sway(const RiskModel *m, const RiskTrials *t, size_t most, double early_min[],
          double late_min[])
{
    size_t n = most < t->n ? most : t->n;
    double *hours = fresh(2 * n, sizeof(double)), *rank = hours + n;
    Luck *luck = fresh(n, sizeof(Luck));
    for (size_t trial = 0; trial < n; trial++) {
        luck[trial] = luck_of(m, trial);
        luck[trial].pace = 1.0;
    }
    double middle = mean_within(t, n, rank, -INFINITY, INFINITY, 0.0);
    for (size_t i = 0; i < t->n_tasks; i++) {
        for (size_t trial = 0; trial < n; trial++)
            hours[trial] = hours_of(m, &luck[trial], i, trial);
        early_min[i] = late_min[i] = 0.0;
        if (n == 0 || all_alike(n, hours))
            continue;
        rank_of(n, hours, rank);
        double tenth = (double) n / 10.0, first = 1.0; /* ranks begin at 1 */
        early_min[i] = mean_within(t, n, rank, -INFINITY, first + tenth, middle);
        late_min[i] = mean_within(t, n, rank, (double) n - tenth, INFINITY, middle);
    }
    free(hours);
    free(luck);
}

static int
rising(const void *a, const void *b)
{
    const int32_t *x = a, *y = b;
    return (*x > *y) - (*x < *y);
}

int32_t *
risk_sorted(size_t n, const int32_t value_min[])
{
    int32_t *sorted = fresh(n, sizeof(int32_t));
    if (n > 0)
        memcpy(sorted, value_min, n * sizeof(int32_t));
    qsort(sorted, n, sizeof(int32_t), rising);
    return sorted;
}

int32_t
risk_quantile(size_t n, const int32_t sorted_min[], double share)
{
    if (n == 0)
        return PLAN_NEVER;
    double rank = ceil(share * (double) n);
    size_t k = rank < 1.0 ? 0 : (size_t) rank - 1;
    return sorted_min[k < n ? k : n - 1];
}

size_t
risk_met(size_t n, const int32_t sorted_min[], int32_t by_min)
{
    size_t low = 0, high = n;
    while (low < high) {
        size_t middle = (low + high) / 2;
        if (sorted_min[middle] <= by_min)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}
