/* What can be done about a finding of the work: hands, days, what is left out.
 * Invariant: only what the owner wrote himself is moved; what was proposed for him is no lever. */
#include <math.h>
#include <stdlib.h>

#include "checks/work/workings.h"

enum { MOST_LEFT_OUT = 8 };

static const char *
under(Result *result, const char *path, const char *key)
{
    return result_text(result, "%s.%s", path, key);
}

void
lever_day(Result *result, Finding *f, const char *path, const char *key, LeverWay way)
{
    finding_lever(result, f, under(result, path, key), way, NAN, NAN);
}

void
lever_start(Result *result, Finding *f, const WorkTask *task, LeverWay way)
{
    if (task->start_day > 0 && task->stated)
        lever_day(result, f, task->path, "start", way);
}

static bool
has_week(const WorkHand *hand)
{
    size_t spans = 0;
    for (int d = 0; d < 7; d++)
        spans += hand->n_spans[d];
    return spans > 0;
}

void
lever_hands(const Work *work, Result *result, Finding *f)
{
    for (size_t i = 0; i < work->plan->n_hands; i++) {
        const WorkHand *hand = &work->plan->hand[i];
        if (hand->kind != HAND_OWNER)
            continue;
        if (has_week(hand))
            finding_lever(result, f, under(result, hand->path, "week"), LEVER_EVENINGS, NAN, NAN);
        else if (hand->hours_h > 0.0)
            finding_lever(result, f, under(result, hand->path, "hours"), LEVER_MORE, NAN, 60.0);
    }
    finding_lever(result, f, "hands", LEVER_HANDS, NAN, NAN);
}

void
lever_warmth(const WorkPlan *plan, Result *result, Finding *f, const WorkTask *task)
{
    bool inside = task->side == SIDE_INSIDE && task->spaces.n > 0;
    if (inside && isfinite(plan->indoors_K))
        finding_lever(result, f, "berth.indoors", LEVER_MORE, NAN, NAN);
}

/* --- what may be left out --------------------------------------------------------------------------------------------- */

typedef struct {
    size_t task;
    double hours_h;
} Spared;

static int
most_first(const void *a, const void *b)
{
    const Spared *x = a, *y = b;
    if (x->hours_h != y->hours_h)
        return x->hours_h > y->hours_h ? -1 : 1;
    return (x->task > y->task) - (x->task < y->task);
}

void
lever_leave_out(const Work *work, Result *result, Finding *f, const bool counts[])
{
    const WorkPlan *plan = work->plan;
    g_autofree bool *may = work_plan_may_be_left_out(plan);
    g_autofree Spared *spared = g_new(Spared, plan->n_tasks + 1);
    size_t n = 0;
    for (size_t i = 0; i < plan->n_tasks; i++)
        if (counts[i] && may[i] && plan->task[i].stated && task_left_h(work, i) > 0.0)
            spared[n++] = (Spared){i, task_left_h(work, i)};
    if (n > 0)
        qsort(spared, n, sizeof *spared, most_first);
    for (size_t k = 0; k < MIN(n, MOST_LEFT_OUT); k++)
        finding_lever(result, f, under(result, plan->task[spared[k].task].path, "state"),
                      LEVER_LEAVE_OUT, NAN, NAN);
}
