/* Lists that keep all ties. Invariant: every task is listed once, whatever the ranks are. */
#include <math.h>

#include "physics/memory.h"
#include "physics/work/dates.h"
#include "physics/work/plan_parts.h"

/* --- what spans put in order ----------------------------------------------------------------------------------------- */

/* Marks what ties lead to from a task, or what leads to it. */
static void
mark_reach(const Plan *plan, size_t from, bool onwards, bool reached[], uint32_t stack[])
{
    const Bundle *b = onwards ? &plan->out : &plan->in;
    size_t n = 0;
    for (size_t i = 0; i < plan->n; i++)
        reached[i] = false;
    stack[n++] = (uint32_t) from;
    while (n > 0) {
        uint32_t i = stack[--n];
        for (uint32_t e = b->from[i]; e < b->from[i + 1]; e++) {
            const PlanTie *tie = &plan->work->tie[b->at[e]];
            size_t next = onwards ? tie->to : tie->from;
            if (!reached[next]) {
                reached[next] = true;
                stack[n++] = (uint32_t) next;
            }
        }
    }
}

/* Work that a span excludes and that its last task needs must come before the first; so must all of it when nothing ends the span. */
void
plan_ahead_make(Plan *plan)
{
    const PlanWork *w = plan->work;
    size_t n = 0, first = PLAN_NONE, last = PLAN_NONE;
    bool *after = fresh(plan->n, sizeof(bool)), *needed = fresh(plan->n, sizeof(bool));
    uint32_t *stack = fresh(plan->n, sizeof *stack);
    uint32_t *owner = fresh(w->n_spans, sizeof *owner), *what = fresh(w->n_spans, sizeof *what);
    for (size_t s = 0; s < w->n_spans; s++) {
        const PlanSpan *span = &w->span[s];
        if (span->first == span->last)
            continue;
        if (span->first != first)
            mark_reach(plan, first = span->first, true, after, stack);
        if (span->last != last && span->last != PLAN_NONE)
            mark_reach(plan, last = span->last, false, needed, stack);
        if (!after[span->other] && (span->last == PLAN_NONE || needed[span->other])) {
            owner[n] = (uint32_t) span->other;
            what[n++] = (uint32_t) span->first;
        }
    }
    plan->ahead = plan_bundle(plan->n, n, owner, what);
    free(after);
    free(needed);
    free(stack);
    free(owner);
    free(what);
}

/* --- lists ------------------------------------------------------------------------------------------------------------- */

typedef struct { /* tasks that may be next, the lowest rank on top */
    const double *rank;
    uint32_t *at;
    size_t n;
} Heap;

static bool
goes_first(const Heap *h, uint32_t a, uint32_t b)
{
    double rank_a = h->rank[a], rank_b = h->rank[b];
    return rank_a < rank_b || (rank_a == rank_b && a < b);
}

static void
push(Heap *h, uint32_t task)
{
    size_t i = h->n++;
    while (i > 0 && goes_first(h, task, h->at[(i - 1) / 2])) {
        h->at[i] = h->at[(i - 1) / 2];
        i = (i - 1) / 2;
    }
    h->at[i] = task;
}

static uint32_t
pop(Heap *h)
{
    uint32_t top = h->at[0], moved = h->at[--h->n];
    size_t i = 0;
    for (size_t k = 1; k < h->n; i = k, k = 2 * k + 1) {
        if (k + 1 < h->n && goes_first(h, h->at[k + 1], h->at[k]))
            k++;
        if (!goes_first(h, h->at[k], moved))
            break;
        h->at[i] = h->at[k];
    }
    h->at[i] = moved;
    return top;
}

typedef struct {
    const Plan *plan;
    Heap heap;
    uint32_t *left, *ahead; /* of each task: ties, and spans, still to come */
    bool *listed;
} Settling;

/* Whether a span that has begun and not ended keeps the task out. */
static bool
kept_out(const Settling *s, uint32_t task)
{
    const Plan *plan = s->plan;
    for (uint32_t e = plan->spans.from[task]; e < plan->spans.from[task + 1]; e++) {
        const PlanSpan *span = &plan->work->span[plan->spans.at[e]];
        if (span->other == task && span->last != PLAN_NONE && s->listed[span->first] &&
            !s->listed[span->last])
            return true;
    }
    return false;
}

static void
let_in(Settling *s, uint32_t task)
{
    if (!s->listed[task] && s->left[task] == 0 && s->ahead[task] == 0 && !kept_out(s, task))
        push(&s->heap, task);
}

/* Tasks that waited for the end of a span. */
static void
end_spans(Settling *s, uint32_t task)
{
    const Plan *plan = s->plan;
    for (uint32_t e = plan->spans.from[task]; e < plan->spans.from[task + 1]; e++) {
        const PlanSpan *span = &plan->work->span[plan->spans.at[e]];
        if (span->last == task && span->first != task)
            let_in(s, (uint32_t) span->other);
    }
}

static void
list_it(Settling *s, uint32_t task)
{
    const Plan *plan = s->plan;
    s->listed[task] = true;
    for (uint32_t e = plan->out.from[task]; e < plan->out.from[task + 1]; e++) {
        size_t to = plan->work->tie[plan->out.at[e]].to;
        if (--s->left[to] == 0)
            let_in(s, (uint32_t) to);
    }
    for (uint32_t e = plan->ahead.from[task]; e < plan->ahead.from[task + 1]; e++)
        if (--s->ahead[plan->ahead.at[e]] == 0)
            let_in(s, plan->ahead.at[e]);
    end_spans(s, task);
}

/* When spans contradict each other: of those that ties allow the lowest rank. */
static uint32_t
any_left(const Settling *s)
{
    uint32_t best = UINT32_MAX;
    for (uint32_t i = 0; i < s->plan->n; i++)
        if (!s->listed[i] && s->left[i] == 0 &&
            (best == UINT32_MAX || goes_first(&s->heap, i, best)))
            best = i;
    return best;
}

void
plan_settle(const Plan *plan, const double rank[], uint32_t list[])
{
    size_t n = plan->n, spans_all = plan->spans.from[n];
    Settling s = {.plan = plan,
                  .heap = {rank, fresh(3 * n + spans_all, sizeof(uint32_t)), 0},
                  .left = fresh(n, sizeof(uint32_t)),
                  .ahead = fresh(n, sizeof(uint32_t)),
                  .listed = fresh(n, sizeof(bool))};
    for (size_t i = 0; i < n; i++) {
        s.left[i] = plan->n_before[i];
        for (uint32_t e = plan->ahead.from[i]; e < plan->ahead.from[i + 1]; e++)
            s.ahead[plan->ahead.at[e]]++;
    }
    for (uint32_t i = 0; i < n; i++)
        let_in(&s, i);
    for (size_t k = 0; k < n;) {
        bool queued = s.heap.n > 0;
        uint32_t task = queued ? pop(&s.heap) : any_left(&s);
        if (queued && (s.listed[task] || kept_out(&s, task)))
            continue; /* comes back when the span ends */
        list[k++] = task;
        list_it(&s, task);
    }
    free(s.heap.at);
    free(s.left);
    free(s.ahead);
    free(s.listed);
}

/* --- ranks ------------------------------------------------------------------------------------------------------------- */

double
plan_usual_min(const Plan *plan, size_t task)
{
    const Calendar *c = plan_first_joint(plan, task)->calendar;
    double open = c->before_min[c->n], all = (double) plan->end_min;
    return open > 0.0 ? (double) plan->work->task[task].work_min * all / open : all;
}

/* From start to start. */
static double
reach_min(const PlanTie *tie, const double takes[])
{
    double lag = tie->lag_min;
    switch (tie->kind) {
    case PLAN_FINISH_START:
        return takes[tie->from] + lag;
    case PLAN_FINISH_FINISH:
        return takes[tie->from] + lag - takes[tie->to];
    case PLAN_START_FINISH:
        return lag - takes[tie->to];
    default:
        return lag;
    }
}

/* An end that every hand's work fits before, so that due dates and tails are on one scale. */
static double
usual_end(const Plan *plan, const double takes[], const uint32_t order[])
{
    double *early = fresh(plan->n, sizeof(double)), end = 0.0, sum = 0.0;
    for (size_t k = 0; k < plan->n; k++) {
        size_t i = order[k];
        early[i] = fmax(early[i], fmax(plan->work->begin_min, plan->work->task[i].release_min));
        for (uint32_t e = plan->out.from[i]; e < plan->out.from[i + 1]; e++) {
            const PlanTie *tie = &plan->work->tie[plan->out.at[e]];
            early[tie->to] = fmax(early[tie->to], early[i] + reach_min(tie, takes));
        }
        end = fmax(end, early[i] + takes[i]);
        sum += plan->work->task[i].n_crews > 0 ? takes[i] : 0.0;
    }
    free(early);
    return fmax(end, plan->work->begin_min + sum);
}

void
plan_latest(const Plan *plan, double rank[])
{
    double *takes = fresh(plan->n, sizeof(double));
    uint32_t *order = fresh(plan->n, sizeof(uint32_t));
    for (size_t i = 0; i < plan->n; i++) {
        takes[i] = plan_usual_min(plan, i);
        rank[i] = 0.0;
    }
    plan_settle(plan, rank, order);
    double end = usual_end(plan, takes, order), length = end - plan->work->begin_min;
    for (size_t k = plan->n; k-- > 0;) {
        size_t i = order[k];
        int32_t due = plan->work->task[i].due_min;
        double own = end + plan->work->task[i].turn * length;
        rank[i] = (due != PLAN_NEVER ? fmin(own, due) : own) - takes[i];
        for (uint32_t e = plan->out.from[i]; e < plan->out.from[i + 1]; e++) {
            const PlanTie *tie = &plan->work->tie[plan->out.at[e]];
            rank[i] = fmin(rank[i], rank[tie->to] - reach_min(tie, takes));
        }
    }
    free(takes);
    free(order);
}
