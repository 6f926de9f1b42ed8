/* Life of the work, and what its checks share. Invariant: the plan is never changed once it is made. */
#include "checks/work/work.h"

#include <math.h>
#include <string.h>

#include "physics/work/learning.h"

enum { WEEK = 7 };

Work *
work_new(const Boat *boat, Date today)
{
    Work *work = g_new0(Work, 1);
    work->boat = boat;
    work->plan = work_plan_new(boat);
    work->things =
        g_hash_table_new_full(g_str_hash, g_str_equal, NULL, (GDestroyNotify) g_array_unref);
    work->stated = g_array_new(FALSE, FALSE, sizeof(Tie));
    work->reason = g_array_new(FALSE, FALSE, sizeof(WorkReason));
    work_gather(work, today);
    work_place(work);
    work_tie(work);
    const WorkPlan *plan = work->plan;
    g_autofree double *ratio = g_new(double, plan->n_paces + 1);
    for (size_t i = 0; i < plan->n_paces; i++)
        ratio[i] = plan->pace[i].ratio;
    learning_factor(plan->n_paces, ratio, LEARNING_PRIOR_MEAN, LEARNING_PRIOR_SD, LEARNING_SCATTER,
                    &work->log_factor, &work->log_factor_sd);
    return work;
}

void
work_free(Work *work)
{
    if (work == NULL)
        return;
    work_plan_free(work->plan);
    g_hash_table_unref(work->things);
    g_array_unref(work->stated);
    g_array_unref(work->reason);
    g_free(work->pair);
    g_clear_pointer(&work->faces, g_hash_table_unref);
    g_free(work);
}

WorkPlan *
work_plan_of(const Boat *boat, Date today)
{
    g_autoptr(Work) work = work_new(boat, today);
    return g_steal_pointer(&work->plan);
}

double
three_mean(ThreePoint points)
{
    return isnan(points.likely) ? 0.0 : (points.low + 4.0 * points.likely + points.high) / 6.0;
}

double
three_sd(ThreePoint points)
{
    return isnan(points.likely) ? 0.0 : (points.high - points.low) / 6.0;
}

double
work_factor(const Work *work)
{
    return exp(work->log_factor);
}

double
task_left_h(const Work *work, size_t i)
{
    const WorkTask *task = &work->plan->task[i];
    return work_task_is_open(task) ? work_factor(work) * task->people * three_mean(task->left_h)
                                   : 0.0;
}

const char *
task_name(const Work *work, size_t i)
{
    return work->plan->task[i].name;
}

const char *
work_thing_name(const Work *work, const char *id)
{
    static const Section *const sections[] = {&section_items, &section_circuits, &section_openings};
    for (size_t i = 0; i < G_N_ELEMENTS(sections); i++) {
        const Record *record = boat_find(work->boat, sections[i], id);
        const char *said = record == NULL ? NULL : record_what(record);
        if (said != NULL)
            return said;
    }
    g_autofree char *words = g_strdelimit(g_strdup(id), "-", ' ');
    return work_plan_text(work->plan, "%s", words);
}

const char *
tasks_text(Result *result, size_t n)
{
    return n == 1 ? "1 task" : result_text(result, "%zu tasks", n);
}

bool
task_is_of_trade(const WorkPlan *plan, const WorkTask *task)
{
    bool trade = task->who.n > 0;
    for (size_t k = 0; k < task->who.n; k++)
        trade &= plan->hand[task->who.at[k]].kind == HAND_TRADE;
    return trade;
}

bool
work_is_asked(const Work *work)
{
    for (size_t i = 0; i < work->plan->n_tasks; i++)
        if (work_task_is_open(&work->plan->task[i]))
            return true;
    return false;
}

GArray *
work_on(const Work *work, const char *thing)
{
    return g_hash_table_lookup(work->things, thing);
}

/* --- days ------------------------------------------------------------------------------------------------------------ */

int
month_of(int day)
{
    return day_date(day).month - 1;
}

const char *
day_text(Result *result, int day)
{
    g_autofree char *words = day_words(day);
    return result_text(result, "%s", words);
}

static bool
is_away(const WorkPlan *plan, const WorkHand *hand, int day)
{
    bool away = (hand->from_day > 0 && day < hand->from_day) ||
                (hand->until_day > 0 && day > hand->until_day);
    for (size_t i = 0; i < hand->n_away && !away; i++)
        away = day >= hand->away[i][0] && day <= hand->away[i][1];
    for (size_t i = 0; i < plan->n_closed && !away; i++)
        away = day >= plan->closed[i][0] && day <= plan->closed[i][1];
    return away;
}

static double
hours_of_day(const WorkHand *hand, int day)
{
    size_t spans = 0;
    double sum_h = 0.0;
    for (int d = 0; d < WEEK; d++)
        spans += hand->n_spans[d];
    if (spans == 0)
        return isnan(hand->hours_h) ? 0.0 : hand->hours_h / WEEK;
    int weekday = day % WEEK; /* of a Julian day number: 0 is Monday */
    for (size_t i = 0; i < hand->n_spans[weekday]; i++)
        sum_h += (hand->span[weekday][i].closes_min - hand->span[weekday][i].opens_min) / 60.0;
    return sum_h;
}

double
work_hand_hours(const WorkPlan *plan, const WorkHand *hand, int day)
{
    return is_away(plan, hand, day) ? 0.0 : hours_of_day(hand, day);
}

double
work_hours_between(const WorkPlan *plan, int from, int until)
{
    static const int most = 366 * 50; /* longer than any refit: a slip of the pen */
    double sum_h = 0.0;
    for (size_t i = 0; i < plan->n_hands; i++)
        for (int day = from; day < MIN(until, from + most); day++)
            if (plan->hand[i].kind != HAND_TRADE)
                sum_h += plan->hand[i].people * work_hand_hours(plan, &plan->hand[i], day);
    return sum_h;
}
