/* Hours that crews have in common. Invariant: tasks with the same crew in the same windows share one Joint. */
#include <string.h>

#include "physics/memory.h"
#include "physics/work/plan_parts.h"

static bool
same_crew(const PlanCrew *a, const PlanCrew *b)
{
    return a->n == b->n && memcmp(a->hand, b->hand, a->n * sizeof a->hand[0]) == 0;
}

/* Each opening lies within one of the hand's. */
static int32_t *
shift_of(const Calendar *joint, const Calendar *hand)
{
    int32_t *shift = fresh(joint->n, sizeof(int32_t));
    for (size_t i = 0, k = 0; i < joint->n; i++) {
        while (hand->closes_min[k] <= joint->opens_min[i])
            k++;
        shift[i] = hand->before_min[k] - hand->opens_min[k];
    }
    return shift;
}

static Joint
make(const PlanWork *work, const Calendar *where, const PlanCrew *crew)
{
    Joint j = {.where = where, .crew = *crew, .calendar = where};
    for (size_t k = 0; k < crew->n; k++) {
        const Calendar *hours = work->hand[crew->hand[k]];
        if (j.calendar == NULL) {
            j.calendar = hours;
            continue;
        }
        Calendar *both = calendar_both(j.calendar, hours);
        calendar_free(j.made);
        j.calendar = j.made = both;
    }
    if (j.calendar == NULL)
        j.calendar = j.made = calendar_always(work->first_day, work->days);
    for (size_t k = 0; k < crew->n; k++)
        j.shift[k] = shift_of(j.calendar, work->hand[crew->hand[k]]);
    j.alone = crew->n == 1 && j.calendar == work->hand[crew->hand[0]];
    return j;
}

static uint32_t
find_or_make(Plan *plan, size_t *room, const Calendar *where, const PlanCrew *crew)
{
    for (size_t i = plan->n_joints; i-- > 0;)
        if (plan->joint[i].where == where && same_crew(&plan->joint[i].crew, crew))
            return (uint32_t) i;
    if (plan->n_joints == *room) {
        *room = 2 * *room + 8;
        plan->joint = realloc(plan->joint, *room * sizeof(Joint));
        if (plan->joint == NULL)
            abort();
    }
    plan->joint[plan->n_joints] = make(plan->work, where, crew);
    return (uint32_t) plan->n_joints++;
}

void
plan_joints_make(Plan *plan)
{
    static const PlanCrew nobody = {0};
    size_t n = 0, k = 0, room = 0;
    for (size_t i = 0; i < plan->n; i++)
        n += plan->work->task[i].n_crews > 0 ? plan->work->task[i].n_crews : 1;
    uint32_t *owner = fresh(n, sizeof *owner), *what = fresh(n, sizeof *what);
    for (size_t i = 0; i < plan->n; i++) {
        const PlanTask *task = &plan->work->task[i];
        for (size_t c = 0; c < task->n_crews || c == 0; c++, k++) {
            owner[k] = (uint32_t) i;
            what[k] = find_or_make(plan, &room, task->where,
                                   task->n_crews > 0 ? &task->crew[c] : &nobody);
        }
    }
    plan->joints = plan_bundle(plan->n, n, owner, what);
    free(owner);
    free(what);
}

void
plan_joints_free(Plan *plan)
{
    for (size_t i = 0; i < plan->n_joints; i++) {
        calendar_free(plan->joint[i].made);
        for (size_t k = 0; k < PLAN_CREW; k++)
            free(plan->joint[i].shift[k]);
    }
    free(plan->joint);
    plan_bundle_free(&plan->joints);
}
