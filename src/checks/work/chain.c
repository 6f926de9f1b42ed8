/* The longest chain by one pass through the order. Invariant: nothing is later than it must be, whoever does it. */
#include "checks/work/chain.h"

#include <math.h>
#include <string.h>

enum { MORE_DAYS = 60, MOST_DAYS = 366 * 10 };

typedef struct {   /* hours that some hands give together, from the first day on */
    double *until; /* [days + 1] up to the beginning of each day */
} Given;

typedef struct {
    const Work *work;
    const WorkPlan *plan;
    const ChainAsked *asked;
    int today, days;
    GHashTable *given;     /* who may do it, in words: Given */
    double *begin, *end;   /* [n_tasks] day numbers */
    size_t *after, *order; /* what each waited for, or NO_TASK */
} Pass;

static void
given_free(gpointer data)
{
    g_free(((Given *) data)->until);
    g_free(data);
}

/* ---- hands ----------------------------------------------------------------------------------------------------------------- */

static char *
who_key(const WorkTask *task)
{
    g_autoptr(GString) key = g_string_new(task->who.n == 0 ? task->skill : NULL);
    for (size_t k = 0; k < task->who.n; k++)
        g_string_append_printf(key, " %zu", task->who.at[k]);
    return g_string_free(g_steal_pointer(&key), FALSE);
}

static const Given *
given_to(Pass *p, const WorkTask *task)
{
    g_autofree char *key = who_key(task);
    Given *given = g_hash_table_lookup(p->given, key);
    if (given != NULL)
        return given;
    given = g_new(Given, 1);
    given->until = g_new0(double, (size_t) p->days + 1);
    for (size_t h = 0; h < p->plan->n_hands; h++)
        for (int d = 0; work_hand_may_do(p->plan, task, h) && d < p->days; d++)
            given->until[d + 1] += work_hand_hours(p->plan, &p->plan->hand[h], p->today + d);
    for (int d = 0; d < p->days; d++)
        given->until[d + 1] += given->until[d];
    g_hash_table_insert(p->given, g_steal_pointer(&key), given);
    return given;
}

/* When so many hours are done that begin then; where nobody ever comes at once: others say so. */
static double
worked(const Pass *p, const Given *given, double from_day, double hours)
{
    double since = fmin(from_day - p->today, p->days);
    int day = MIN((int) since, p->days - 1);
    double all = given->until[p->days],
           need = hours + given->until[day] +
                  (since - day) * (given->until[day + 1] - given->until[day]);
    if (!(hours > 0.0) || !(all > 0.0))
        return from_day;
    if (need > all)
        return fmax(from_day, (double) p->today + p->days);
    int low = day, high = p->days; /* until[low] < need or low == day; until[high] >= need */
    while (high - low > 1) {
        int middle = low + (high - low) / 2;
        if (given->until[middle] >= need)
            high = middle;
        else
            low = middle;
    }
    double part = given->until[high] - given->until[low];
    return p->today + low + (part > 0.0 ? (need - given->until[low]) / part : 1.0);
}

/* ---- waits ----------------------------------------------------------------------------------------------------------------- */

/* A cure by the months it falls in. */
static double
cured(const Pass *p, const WorkTask *task, double from_day, double hours)
{
    double day = from_day, left = hours;
    while (day < p->today + p->days) {
        double warm_K = work_plan_temperature_K(p->plan, task, month_of((int) day));
        double rate = 24.0 / work_wait_factor(task->wait_at_K, task->wait_least_K, warm_K);
        double next = floor(day) + 1.0;
        if (rate * (next - day) >= left)
            return day + left / rate;
        left -= rate * (next - day);
        day = next;
    }
    return fmax(from_day, day);
}

static double
lag_over(const Pass *p, const WorkTie *tie)
{
    const WorkTask *from = &p->plan->task[tie->from];
    double end = p->end[tie->from];
    if (!(tie->lag_h > 0.0))
        return end;
    return tie->cures ? cured(p, from, end, tie->lag_h) : end + tie->lag_h / 24.0;
}

/* The day on which what is bought is here. */
static double
arrival(const WorkPlan *plan, const WorkPurchase *p)
{
    if (p->state == PURCHASE_IN_HAND)
        return 0.0;
    double from = p->ordered_day > 0 ? p->ordered_day : plan->today;
    return p->due_day > 0 ? p->due_day : from + three_mean(p->delivery_h) / 24.0;
}

/* What the first task of the chain waits for. */
static void
name_wait(const Pass *p, WorkChain *chain)
{
    const WorkPlan *plan = p->plan;
    size_t first = chain->task[0];
    const WorkTask *task = &plan->task[first];
    int set = MAX(task->not_before_day, task->start_day);
    chain->bought = NO_TASK;
    for (size_t b = 0; b < plan->n_purchases; b++)
        for (size_t k = 0; k < plan->purchase[b].tasks.n; k++)
            if (plan->purchase[b].tasks.at[k] == first &&
                arrival(plan, &plan->purchase[b]) >= p->begin[first])
                chain->bought = b;
    chain->dated = chain->bought == NO_TASK && set > p->today && set >= p->begin[first];
}

static void
begin_all(Pass *p)
{
    const WorkPlan *plan = p->plan;
    for (size_t i = 0; i < plan->n_tasks; i++) {
        const WorkTask *task = &plan->task[i];
        p->after[i] = NO_TASK;
        p->begin[i] = fmax(p->today, MAX(task->not_before_day, task->start_day));
        if (p->asked->held[i])
            p->begin[i] = fmax(p->begin[i], p->asked->from_day);
    }
    for (size_t b = 0; b < plan->n_purchases; b++)
        for (size_t k = 0; k < plan->purchase[b].tasks.n; k++) {
            double *begin = &p->begin[plan->purchase[b].tasks.at[k]];
            *begin = fmax(*begin, arrival(plan, &plan->purchase[b]));
        }
}

/* ---- the pass --------------------------------------------------------------------------------------------------------------- */

static double
hours_of(const Pass *p, size_t i)
{
    return task_left_h(p->work, i) / fmax(p->plan->task[i].people, 1.0);
}

static bool
pass_order(Pass *p, size_t *first, size_t *tie_of)
{
    const WorkPlan *plan = p->plan;
    g_autofree Tie *ties = g_new(Tie, plan->n_ties + 1);
    size_t n = 0;
    for (size_t k = 0; k < plan->n_ties; k++)
        if (plan->tie[k].kind == WORK_TIE_AFTER && plan->tie[k].overruled == NULL) {
            ties[n++] = (Tie){plan->tie[k].from, plan->tie[k].to, TIE_FINISH_START, 0.0};
            first[plan->tie[k].from + 1]++;
        }
    for (size_t i = 0; i < plan->n_tasks; i++)
        first[i + 1] += first[i];
    g_autofree size_t *place = g_memdup2(first, (plan->n_tasks + 1) * sizeof *first);
    for (size_t k = 0; k < plan->n_ties; k++)
        if (plan->tie[k].kind == WORK_TIE_AFTER && plan->tie[k].overruled == NULL)
            tie_of[place[plan->tie[k].from]++] = k;
    return task_order(&(TaskNetwork){.n = plan->n_tasks, .ties = n, .tie = ties}, p->order);
}

static bool
run(Pass *p)
{
    const WorkPlan *plan = p->plan;
    g_autofree size_t *first = g_new0(size_t, plan->n_tasks + 2),
                      *tie_of = g_new(size_t, plan->n_ties + 1);
    if (!pass_order(p, first, tie_of))
        return false;
    begin_all(p);
    for (size_t at = 0; at < plan->n_tasks; at++) {
        size_t i = p->order[at];
        const WorkTask *task = &plan->task[i];
        double hours = hours_of(p, i);
        p->end[i] = hours > 0.0 ? worked(p, given_to(p, task), p->begin[i], hours) : p->begin[i];
        for (size_t k = first[i]; k < first[i + 1]; k++) {
            const WorkTie *tie = &plan->tie[tie_of[k]];
            double may = lag_over(p, tie);
            if (may <= p->begin[tie->to])
                continue;
            p->begin[tie->to] = may;
            p->after[tie->to] = i;
        }
    }
    return true;
}

/* ---- the chain ---------------------------------------------------------------------------------------------------------------- */

/* The last of what is asked for; *whole: its end counts, not its beginning. */
static size_t
last_of(const Pass *p, double *ready_day, bool *whole)
{
    size_t last = NO_TASK;
    for (size_t i = 0; i < p->plan->n_tasks; i++)
        if (p->asked->target[i] && (last == NO_TASK || p->begin[i] > *ready_day)) {
            last = i;
            *ready_day = p->begin[i];
        }
    *whole = last == NO_TASK;
    for (size_t i = 0; *whole && i < p->plan->n_tasks; i++) {
        if (!p->asked->held[i] || !work_task_is_open(&p->plan->task[i]))
            continue;
        double wait_h = p->plan->task[i].launch_wait_h;
        double end = wait_h > 0.0 ? cured(p, &p->plan->task[i], p->end[i], wait_h) : p->end[i];
        if (last == NO_TASK || end > *ready_day) {
            last = i;
            *ready_day = end;
        }
    }
    return last;
}

static void
take_chain(const Pass *p, size_t last, bool whole, WorkChain *chain)
{
    size_t n = 0;
    for (size_t i = last; i != NO_TASK; i = p->after[i])
        n++;
    chain->n = n;
    chain->task = g_new(size_t, n + 1);
    chain->lasts_d = g_new(double, n + 1);
    chain->idle_d = g_new(double, n + 1);
    double own = 0.0, sum_h = 0.0, days = 0.0;
    for (size_t i = last, k = n; i != NO_TASK; i = p->after[i]) {
        bool counts = i != last || whole;
        double before = p->after[i] != NO_TASK ? p->end[p->after[i]] : chain->begin_day;
        k--;
        chain->task[k] = i;
        chain->lasts_d[k] = counts ? p->end[i] - p->begin[i] : 0.0;
        chain->idle_d[k] = p->begin[i] - before;
        if (!counts)
            continue;
        own += pow(work_factor(p->work) * three_sd(p->plan->task[i].left_h), 2.0);
        sum_h += hours_of(p, i);
        days += chain->lasts_d[k];
    }
    double spread_h = 2.0 * hypot(sqrt(own), sum_h * p->work->log_factor_sd);
    chain->spread_d = sum_h > 0.0 ? spread_h * days / sum_h : 0.0;
}

bool
work_chain_find(const Work *work, const ChainAsked *asked, WorkChain *chain)
{
    const WorkPlan *plan = work->plan;
    size_t n = plan->n_tasks + 1;
    g_autofree double *begin = g_new0(double, n), *end = g_new0(double, n);
    g_autofree size_t *after = g_new(size_t, n), *order = g_new(size_t, n);
    g_autoptr(GHashTable) given =
        g_hash_table_new_full(g_str_hash, g_str_equal, g_free, given_free);
    Pass p = {work,
              plan,
              asked,
              plan->today,
              CLAMP(asked->until_day - plan->today + MORE_DAYS, 1, MOST_DAYS),
              given,
              begin,
              end,
              after,
              order};
    bool whole;
    *chain = (WorkChain){.begin_day = plan->today};
    if (!run(&p))
        return false;
    size_t last = last_of(&p, &chain->ready_day, &whole);
    if (last == NO_TASK)
        return false;
    take_chain(&p, last, whole, chain);
    name_wait(&p, chain);
    /* The last cure, where an end counts. */
    chain->idle_d[chain->n] = whole ? chain->ready_day - end[last] : 0.0;
    return true;
}

void
work_chain_clear(WorkChain *chain)
{
    g_free(chain->task);
    g_free(chain->lasts_d);
    g_free(chain->idle_d);
}
