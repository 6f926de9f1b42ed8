/* A plan made ready. Invariant: what plan_new lets through has indices that lead somewhere, finite times and ties without a circle. */
#include "physics/work/plan.h"

#include "physics/memory.h"
#include "physics/work/dates.h"
#include "physics/work/plan_parts.h"

/* Lags and dates stay within the longest stretch a calendar can be of. */
enum { FARTHEST_MIN = CALENDAR_DAYS * MINUTES_A_DAY };

Bundle
plan_bundle(size_t owners, size_t n, const uint32_t owner[], const uint32_t what[])
{
    Bundle b = {fresh(owners + 2, sizeof(uint32_t)), fresh(n, sizeof(uint32_t))};
    for (size_t k = 0; k < n; k++)
        b.from[owner[k] + 2]++;
    for (size_t i = 2; i < owners + 2; i++)
        b.from[i] += b.from[i - 1];
    for (size_t k = 0; k < n; k++)
        b.at[b.from[owner[k] + 1]++] = what[k];
    return b;
}

void
plan_bundle_free(Bundle *b)
{
    free(b->from);
    free(b->at);
}

const Joint *
plan_first_joint(const Plan *plan, size_t task)
{
    return &plan->joint[plan->joints.at[plan->joints.from[task]]];
}

static bool
is_time(int32_t minutes)
{
    return minutes >= -FARTHEST_MIN && minutes <= FARTHEST_MIN;
}

static bool
crew_fits(const PlanWork *w, const PlanCrew *crew)
{
    if (crew->n == 0 || crew->n > PLAN_CREW)
        return false;
    for (size_t k = 0; k < crew->n; k++)
        if (crew->hand[k] >= w->n_hands || (k > 0 && crew->hand[k] <= crew->hand[k - 1]))
            return false;
    return true;
}

static bool
stretch_fits(const PlanWork *w, const Calendar *c)
{
    return c != NULL && c->first_day == w->first_day && c->days == w->days;
}

static bool
task_fits(const PlanWork *w, const PlanTask *t)
{
    if (t->work_min < 0 || t->work_min > FARTHEST_MIN || !is_time(t->release_min) ||
        !(is_time(t->due_min) || t->due_min == PLAN_NEVER) || t->n_crews > PLAN_CREWS)
        return false;
    for (size_t c = 0; c < t->n_crews; c++)
        if (!crew_fits(w, &t->crew[c]))
            return false;
    return t->where == NULL || stretch_fits(w, t->where);
}

static bool
tie_fits(const PlanWork *w, const PlanTie *t)
{
    bool from_finish = t->kind == PLAN_FINISH_START || t->kind == PLAN_FINISH_FINISH;
    return t->from < w->n_tasks && t->to < w->n_tasks && t->from != t->to && is_time(t->lag_min) &&
           (t->clock == NULL || (from_finish && t->lag_min >= 0));
}

static bool
span_fits(const PlanWork *w, const PlanSpan *s)
{
    return s->first < w->n_tasks && (s->last < w->n_tasks || s->last == PLAN_NONE) &&
           s->other < w->n_tasks && s->other != s->first && s->other != s->last &&
           s->lag_min >= 0 && is_time(s->lag_min);
}

/* False with the index of what is wrong. */
static bool
work_fits(const PlanWork *w, size_t *where)
{
    *where = 0;
    if (w->days == 0 || w->days > CALENDAR_DAYS || !is_time(w->begin_min))
        return false;
    for (size_t i = 0; i < w->n_hands; i++)
        if (!stretch_fits(w, w->hand[ *where = i]))
            return false;
    for (size_t i = 0; i < w->n_tasks; i++)
        if (!task_fits(w, &w->task[ *where = i]))
            return false;
    for (size_t i = 0; i < w->n_ties; i++)
        if (!tie_fits(w, &w->tie[ *where = i]))
            return false;
    for (size_t i = 0; i < w->n_spans; i++)
        if (!span_fits(w, &w->span[ *where = i]))
            return false;
    for (size_t i = 0; i < w->n_targets; i++)
        if (w->target[i] >= w->n_tasks)
            return false;
    return true;
}

/* Ties that order, or that limit, by one of their ends. */
static Bundle
ties_by(const PlanWork *w, bool limits, bool to)
{
    size_t n = 0;
    uint32_t *owner = fresh(w->n_ties, sizeof *owner), *what = fresh(w->n_ties, sizeof *what);
    for (size_t i = 0; i < w->n_ties; i++)
        if ((w->tie[i].kind == PLAN_NO_LATER) == limits) {
            owner[n] = (uint32_t) (to ? w->tie[i].to : w->tie[i].from);
            what[n++] = (uint32_t) i;
        }
    Bundle b = plan_bundle(w->n_tasks, n, owner, what);
    free(owner);
    free(what);
    return b;
}

static Bundle
spans_by_task(const PlanWork *w)
{
    size_t n = 0;
    uint32_t *owner = fresh(3 * w->n_spans, sizeof *owner);
    uint32_t *what = fresh(3 * w->n_spans, sizeof *what);
    for (size_t i = 0; i < w->n_spans; i++) {
        const PlanSpan *s = &w->span[i];
        const size_t parts[] = {s->other, s->first, s->last};
        for (size_t k = 0; k < 3; k++)
            if ((k < 2 || s->last != s->first) && parts[k] != PLAN_NONE) {
                owner[n] = (uint32_t) parts[k];
                what[n++] = (uint32_t) i;
            }
    }
    Bundle b = plan_bundle(w->n_tasks, n, owner, what);
    free(owner);
    free(what);
    return b;
}

/* Fills n_before; false with a task of a circle. */
static bool
ties_lead_onwards(Plan *plan, size_t *where)
{
    const PlanWork *w = plan->work;
    uint32_t *left = fresh(plan->n, sizeof *left), *ready = fresh(plan->n, sizeof *ready);
    size_t n = 0;
    for (size_t i = 0; i < plan->n; i++) {
        left[i] = plan->n_before[i] = plan->in.from[i + 1] - plan->in.from[i];
        if (left[i] == 0)
            ready[n++] = (uint32_t) i;
    }
    for (size_t k = 0; k < n; k++)
        for (uint32_t e = plan->out.from[ready[k]]; e < plan->out.from[ready[k] + 1]; e++) {
            size_t to = w->tie[plan->out.at[e]].to;
            if (--left[to] == 0)
                ready[n++] = (uint32_t) to;
        }
    for (size_t i = 0; n < plan->n && i < plan->n; i++)
        if (left[i] > 0) {
            *where = i;
            break;
        }
    free(left);
    free(ready);
    return n == plan->n;
}

Plan *
plan_new(const PlanWork *work, PlanOutcome *outcome, size_t *where)
{
    *outcome = PLAN_BAD;
    if (!work_fits(work, where))
        return NULL;
    Plan *plan = fresh(1, sizeof(Plan));
    *plan = (Plan){.work = work, .n = work->n_tasks};
    plan->end_min = (int32_t) (work->days * MINUTES_A_DAY);
    plan->n_before = fresh(plan->n, sizeof(uint32_t));
    plan->in = ties_by(work, false, true);
    plan->out = ties_by(work, false, false);
    plan->limits_to = ties_by(work, true, true);
    plan->limits_from = ties_by(work, true, false);
    plan->spans = spans_by_task(work);
    plan_ahead_make(plan);
    if (!ties_lead_onwards(plan, where)) {
        *outcome = PLAN_LOOP;
        plan_free(plan);
        return NULL;
    }
    plan_joints_make(plan);
    *outcome = PLAN_READY;
    return plan;
}

void
plan_free(Plan *plan)
{
    if (plan == NULL)
        return;
    plan_joints_free(plan);
    Bundle *bundles[] = {&plan->in,          &plan->out,   &plan->limits_to,
                         &plan->limits_from, &plan->spans, &plan->ahead};
    for (size_t i = 0; i < sizeof bundles / sizeof *bundles; i++)
        plan_bundle_free(bundles[i]);
    free(plan->n_before);
    free(plan);
}

const PlanWork *
plan_work(const Plan *plan)
{
    return plan->work;
}
