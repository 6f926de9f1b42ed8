/* Does it cure: is it warm enough where and when a coat, a glue or a foam goes on, and is it given its time? */
#include <math.h>

#include "checks/work/workings.h"

static const char *const cautions[] = {"SA3", NULL};

static void run_cure(const Work *work, Result *result);
const Check check_cure = {
    {"work", "cure", "Is it warm enough for every coat to cure?", LINE_DONE, cautions},
    .planned = run_cure};

static const Source own_sheet = {"the least temperature written with the task", STANDING_OWNER};
static const Source cold_rule = {"factor 2 in 10 K: UFGS 09970, docs/methods/work.md 3.5",
                                 STANDING_READ};
static const Source air_source = {"usual air by month, data/air-temperatures.csv", STANDING_MEMORY};

enum { MONTHS = 12 };

/* The month of its fixed start, else the warmest of those that are left. */
static int
month_for(const WorkPlan *plan, const WorkTask *task)
{
    if (task->start_day > 0)
        return month_of(task->start_day);
    if (plan->today == 0 || (plan->until_day > 0 && plan->until_day <= plan->today))
        return -1;
    int until = plan->until_day > 0 ? plan->until_day : plan->today + 366;
    int from = MAX(plan->today, task->not_before_day), best = month_of(from);
    for (int day = from; day <= MIN(until, from + 366); day += 14)
        if (work_plan_temperature_K(plan, task, month_of(day)) >
            work_plan_temperature_K(plan, task, best))
            best = month_of(day);
    return best;
}

static const char *
month_words(int month)
{
    static const char *const words[MONTHS] = {"January",   "February", "March",    "April",
                                              "May",       "June",     "July",     "August",
                                              "September", "October",  "November", "December"};
    return words[month];
}

static Working *
working_warmth(const WorkPlan *plan, const WorkTask *task, int month, Result *result)
{
    Working *w = result_working(result, "Temperature where the coat goes on");
    double warm_K = work_plan_temperature_K(plan, task, month);
    bool heated = warm_K > plan->air_K[month];
    bool known = heated || plan->air_stated;
    working_given(w, "T", heated ? "kept indoors" : "usual air of that month", warm_K,
                  Q_TEMPERATURE, known ? 0.0 : 4.0, known ? BASIS_STATED : BASIS_ASSUMED,
                  known ? NULL : &air_source);
    working_path_is(w, heated ? "berth.indoors" : "berth.temperatures");
    return w;
}

static bool
judge_warmth(const WorkPlan *plan, const WorkTask *task, int month, Result *result)
{
    double warm_K = work_plan_temperature_K(plan, task, month);
    if (!(warm_K < task->wait_least_K))
        return false;
    Working *w = working_warmth(plan, task, month, result);
    Finding *f = result_judge(result, &check_cure.info, task->id, task->path, LEVEL_FAULT, w,
                              warm_K, 0.0, AT_LEAST, task->wait_least_K, Q_TEMPERATURE, &own_sheet);
    lever_start(result, f, task, LEVER_LATER);
    lever_warmth(plan, result, f, task);
    finding_text(
        result, f,
        task->start_day > 0 ? "\"{about}\" on {0} never cures: it is {value} then, and {limit} "
                              "is the least"
                            : "\"{about}\" never cures: even in {1} it is {value}, and {limit} "
                              "is the least",
        task->start_day > 0 ? day_text(result, task->start_day) : "", month_words(month), NULL);
    return true;
}

static double
cold_factor(const WorkPlan *plan, const WorkTask *task, int month)
{
    return work_wait_factor(task->wait_at_K, task->wait_least_K,
                            work_plan_temperature_K(plan, task, month));
}

/* Of each task the first tie whose fixed end comes before the wait is over; g_free. */
static const WorkTie **
hasty_ties(const WorkPlan *plan)
{
    const WorkTie **hasty = g_new0(const WorkTie *, plan->n_tasks + 1);
    for (size_t k = 0; k < plan->n_ties; k++) {
        const WorkTie *tie = &plan->tie[k];
        const WorkTask *from = &plan->task[tie->from], *to = &plan->task[tie->to];
        if (!tie->cures || tie->overruled != NULL || from->start_day == 0 || to->start_day == 0 ||
            hasty[tie->from] != NULL)
            continue;
        /* Counted from the start: the work itself takes time too, but how much of a day is not known here. */
        double given_h = 24.0 * (to->start_day + 1 - from->start_day);
        if (given_h < tie->lag_h * cold_factor(plan, from, month_of(from->start_day)))
            hasty[tie->from] = tie;
    }
    return hasty;
}

static bool
judge_time(const WorkPlan *plan, const WorkTie *tie, int month, Result *result)
{
    if (tie == NULL)
        return false;
    const WorkTask *task = &plan->task[tie->from];
    double factor = cold_factor(plan, task, month);
    const WorkTask *next = &plan->task[tie->to];
    double given_h = 24.0 * (next->start_day + 1 - task->start_day), needed_h = tie->lag_h * factor;
    Working *w = working_warmth(plan, task, month, result);
    working_given(w, "t0", "wait at the temperature it is meant for", tie->lag_h, Q_DURATION, 0.0,
                  BASIS_STATED, NULL);
    working_given(w, "T0", "that temperature", task->wait_at_K, Q_TEMPERATURE, 0.0, BASIS_STATED,
                  NULL);
    working_reckon(w, "t", "wait there and then", "t0 * 2^((T0 - T) / 10)", needed_h, Q_DURATION,
                   0.0, &cold_rule);
    Finding *f = result_judge(result, &check_cure.info, task->id, task->path, LEVEL_FAULT, w,
                              needed_h, 0.0, AT_MOST, given_h, Q_DURATION, &cold_rule);
    lever_start(result, f, next, LEVER_LATER);
    lever_warmth(plan, result, f, task);
    finding_text(
        result, f,
        "\"{about}\" needs {value} to cure in the cold of {0}, and \"{1}\" follows after at "
        "most {limit}",
        month_words(month), next->name, NULL);
    return true;
}

static void
run_cure(const Work *work, Result *result)
{
    const WorkPlan *plan = work->plan;
    g_autofree const WorkTie **hasty = hasty_ties(plan);
    size_t cures = 0, bad = 0, assumed = 0;
    for (size_t i = 0; i < plan->n_tasks; i++) {
        const WorkTask *task = &plan->task[i];
        bool waits = task->wait_h > 0.0 || task->launch_wait_h > 0.0 || !isnan(task->wait_least_K);
        int month = waits && work_task_is_open(task) ? month_for(plan, task) : -1;
        if (month < 0)
            continue;
        cures++;
        assumed += !plan->air_stated && !(plan->indoors_K > plan->air_K[month]);
        bad += judge_warmth(plan, task, month, result) || judge_time(plan, hasty[i], month, result);
    }
    if (cures == 0 || bad > 0)
        return;
    Finding *f = result_say(result, &check_cure.info, NULL, "work",
                            assumed > 0 ? LEVEL_DOUBT : LEVEL_FINE, NULL);
    finding_rests_on(result, f, &cold_rule);
    finding_text(result, f,
                 assumed > 0
                     ? "All that cures can be warm enough ({0}), if the months are the usual ones"
                     : "All that cures can be warm enough ({0})",
                 tasks_text(result, cures), NULL);
    if (assumed > 0)
        finding_settle(result, f, "berth.temperatures",
                       "write the usual temperatures of your months");
}
