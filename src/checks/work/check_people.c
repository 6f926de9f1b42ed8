/* Is there somebody who can do it: hands, skills, enough of them at once. */
#include <math.h>

#include "checks/work/workings.h"

static const char *const cautions[] = {"WO3", NULL};

static void run_nobody(const Work *work, Result *result);
const Check check_nobody = {
    {"work", "hands", "Is there somebody to do every task?", LINE_DONE, cautions},
    .planned = run_nobody};

static const Source written = {"what the boat file says of hands", STANDING_OWNER};

/* Hours on any day until the berth ends, or of the year to come. */
static bool
ever_works(const WorkPlan *plan, const WorkHand *hand)
{
    int from = MAX(plan->today, hand->from_day), until = from + 366;
    if (plan->until_day > plan->today)
        until = MIN(until, plan->until_day + 1);
    if (plan->today == 0) /* no day is known: whether the week has hours */
        from = until - 7;
    for (int day = from; day < until; day++)
        if (work_hand_hours(plan, hand, day) > 0.0)
            return true;
    return false;
}

static bool
may_do(const WorkPlan *plan, const WorkTask *task, size_t hand)
{
    return ever_works(plan, &plan->hand[hand]) && work_hand_may_do(plan, task, hand);
}

static bool
is_there(const WorkHand *hand, int day)
{
    bool there = (hand->from_day == 0 || day >= hand->from_day) &&
                 (hand->until_day == 0 || day <= hand->until_day);
    for (size_t k = 0; k < hand->n_away && there; k++)
        there = day < hand->away[k][0] || day > hand->away[k][1];
    return there;
}

/* What is wrong with the hands of the task; NULL when somebody can do it. */
static const char *
lacks(const WorkPlan *plan, const WorkTask *task)
{
    double able = 0.0, all = 0.0, there = 0.0;
    for (size_t h = 0; h < plan->n_hands; h++) {
        bool works = ever_works(plan, &plan->hand[h]);
        all += works ? plan->hand[h].people : 0.0;
        if (!may_do(plan, task, h))
            continue;
        able += plan->hand[h].people;
        if (task->start_day > 0 && is_there(&plan->hand[h], task->start_day))
            there += plan->hand[h].people;
    }
    if (able == 0.0 && task->who.n > 0)
        return "\"{about}\" can only be done by somebody who has no hours on her any more";
    if (able == 0.0)
        return "\"{about}\" asks for {0}, which nobody can do";
    if (all < task->people)
        return "\"{about}\" needs {1} people at once, and there are {2}";
    if (task->start_day > 0 && there == 0.0)
        return "\"{about}\" is to begin on {3}, and nobody who can do it is there that day";
    return NULL;
}

static double
all_people(const WorkPlan *plan)
{
    double all = 0.0;
    for (size_t h = 0; h < plan->n_hands; h++)
        all += ever_works(plan, &plan->hand[h]) ? plan->hand[h].people : 0.0;
    return all;
}

static void
nobody_at_all(const Work *work, Result *result)
{
    size_t n;
    boat_records(work->boat, &section_work, &n);
    Finding *f = result_say(result, &check_nobody.info, NULL, "hands",
                            n > 0 ? LEVEL_FAULT : LEVEL_DOUBT, NULL);
    finding_rests_on(result, f, &written);
    finding_text(result, f,
                 work->plan->n_hands > 0
                     ? "Nobody who is down to work on her has any hours left"
                     : "Who works on her, and how many hours a week, is not said",
                 NULL);
    finding_lever(result, f, "hands", LEVER_HANDS, NAN, NAN);
    finding_settle(result, f, "hands", "write who works on her and how many hours a week");
}

static void
run_nobody(const Work *work, Result *result)
{
    const WorkPlan *plan = work->plan;
    size_t bad = 0;
    if (all_people(plan) == 0.0) {
        nobody_at_all(work, result);
        return;
    }
    for (size_t i = 0; i < plan->n_tasks; i++) {
        const WorkTask *task = &plan->task[i];
        const char *said = work_task_is_open(task) ? lacks(plan, task) : NULL;
        if (said == NULL)
            continue;
        bad++;
        Finding *f =
            result_say(result, &check_nobody.info, task->id, task->path, LEVEL_FAULT, NULL);
        finding_rests_on(result, f, &written);
        finding_lever(result, f, "hands", LEVER_HANDS, NAN, NAN);
        if (task->start_day > 0)
            lever_start(result, f, task, LEVER_LATER);
        finding_text(result, f, said, task->skill != NULL ? task->skill : "no skill",
                     result_text(result, "%.0f", task->people),
                     result_text(result, "%.0f", all_people(plan)),
                     task->start_day > 0 ? day_text(result, task->start_day) : "", NULL);
    }
    if (bad > 0)
        return;
    Finding *f = result_say(result, &check_nobody.info, NULL, "hands", LEVEL_FINE, NULL);
    finding_rests_on(result, f, &written);
    finding_text(result, f, "Somebody can do every task", NULL);
}
