/* Passes through a network. Invariant: arcs stand in the order of the work of the task they lead out of, so that one sweep settles
 * all but the greatest lags. */
#include "physics/work/critical_path.h"

#include "physics/domain.h"
#include "physics/memory.h"

#define SHEET                                                                                      \
    {                                                                                              \
        "Kelley and Walker 1959; docs/methods/work.md 1.1", STANDING_MEMORY                        \
    }
const Method critical_path_early_method = {"Earliest start", "ES_j = max(r_j, EF_i + l)", SHEET};
const Method critical_path_late_method = {"Latest finish", "LF_i = min(T, LS_j - l)", SHEET};
const Method critical_path_float_method = {"Total float", "TF = LS - ES", SHEET};

static const double same_h = 1e-9;

/* S_to >= S_from + lag + by_from d_from + by_to d_to. */
typedef struct {
    size_t from, to;
    double lag_h, by_from, by_to;
    bool back; /* a greatest lag */
} Arc;

struct TaskPasses {
    size_t n, arcs;
    Arc *arc;
    size_t *order;
    double *release_h;
    bool sweeps; /* there are greatest lags: one sweep may not do */
};

static Arc
arc_of(const Tie *tie)
{
    Arc arc = {tie->from, tie->to, tie->lag_h, 0.0, 0.0, false};
    switch (tie->kind) {
    case TIE_FINISH_START:
        arc.by_from = 1.0;
        break;
    case TIE_FINISH_FINISH:
        arc.by_from = 1.0;
        arc.by_to = -1.0;
        break;
    case TIE_START_FINISH:
        arc.by_to = -1.0;
        break;
    case TIE_NO_LATER:
        return (Arc){tie->to, tie->from, -tie->lag_h, 0.0, -1.0, true};
    case TIE_START_START:
    case TIE_APART:
        break;
    }
    return arc;
}

static double
arc_weight(const Arc *arc, const double duration_h[])
{
    return arc->lag_h + arc->by_from * duration_h[arc->from] + arc->by_to * duration_h[arc->to];
}

static bool
network_is_sound(const TaskNetwork *net)
{
    for (size_t k = 0; k < net->ties; k++)
        if (net->tie[k].from >= net->n || net->tie[k].to >= net->n ||
            !is_number(net->tie[k].lag_h) || net->tie[k].kind > TIE_APART)
            return false;
    for (size_t i = 0; net->release_h != NULL && i < net->n; i++)
        if (!is_number(net->release_h[i]))
            return false;
    return true;
}

/* Arcs counted into their places by the rank of the task they lead out of. */
static void
arcs_place(TaskPasses *p, const TaskNetwork *net)
{
    size_t *place = fresh(p->n + 1, sizeof(size_t)), *rank = fresh(p->n, sizeof(size_t));
    for (size_t i = 0; i < p->n; i++)
        rank[p->order[i]] = i;
    for (size_t k = 0; k < net->ties; k++)
        if (net->tie[k].kind != TIE_APART)
            place[rank[arc_of(&net->tie[k]).from] + 1]++;
    for (size_t i = 0; i < p->n; i++)
        place[i + 1] += place[i];
    p->arcs = place[p->n];
    for (size_t k = 0; k < net->ties; k++)
        if (net->tie[k].kind != TIE_APART) {
            Arc arc = arc_of(&net->tie[k]);
            p->arc[place[rank[arc.from]]++] = arc;
            p->sweeps = p->sweeps || arc.back;
        }
    free(place);
    free(rank);
}

TaskPasses *
task_passes_new(const TaskNetwork *net, PassesOutcome *outcome)
{
    if (!network_is_sound(net)) {
        *outcome = PASSES_BAD;
        return NULL;
    }
    size_t *order = fresh(net->n, sizeof(size_t));
    if (!task_order(net, order)) {
        *outcome = PASSES_LOOP;
        free(order);
        return NULL;
    }
    TaskPasses *p = fresh(1, sizeof *p);
    *p = (TaskPasses){.n = net->n,
                      .arc = fresh(net->ties, sizeof(Arc)),
                      .order = order,
                      .release_h = fresh(net->n, sizeof(double))};
    for (size_t i = 0; net->release_h != NULL && i < net->n; i++)
        p->release_h[i] = fmax(0.0, net->release_h[i]);
    arcs_place(p, net);
    *outcome = PASSES_DONE;
    return p;
}

void
task_passes_free(TaskPasses *passes)
{
    if (passes == NULL)
        return;
    free(passes->arc);
    free(passes->order);
    free(passes->release_h);
    free(passes);
}

const size_t *
task_passes_order(const TaskPasses *passes)
{
    return passes->order;
}

/* Raises starts until every arc holds; whether anything moved. */
static bool
sweep_forward(const TaskPasses *p, const double duration_h[], double start_h[])
{
    bool moved = false;
    for (size_t k = 0; k < p->arcs; k++) {
        const Arc *arc = &p->arc[k];
        double least = start_h[arc->from] + arc_weight(arc, duration_h);
        if (start_h[arc->to] >= least - (arc->back ? same_h : 0.0))
            continue;
        start_h[arc->to] = least;
        moved = true;
    }
    return moved;
}

double
task_passes_forward(const TaskPasses *passes, const double duration_h[], double early_start_h[])
{
    const TaskPasses *p = passes;
    double length = 0.0;
    for (size_t i = 0; i < p->n; i++)
        early_start_h[i] = p->release_h[i];
    bool moved = sweep_forward(p, duration_h, early_start_h);
    for (size_t round = 0; p->sweeps && moved; round++) {
        if (round > p->n)
            return NAN; /* a positive loop: no end to it */
        moved = sweep_forward(p, duration_h, early_start_h);
    }
    for (size_t i = 0; i < p->n; i++)
        length = fmax(length, early_start_h[i] + duration_h[i]);
    return length;
}

void
task_passes_backward(const TaskPasses *passes, const double duration_h[], double end_h,
                     double late_start_h[])
{
    const TaskPasses *p = passes;
    bool moved = true;
    for (size_t i = 0; i < p->n; i++)
        late_start_h[i] = end_h - duration_h[i];
    for (size_t round = 0; moved && round <= p->n + 1; round++) {
        moved = false;
        for (size_t k = p->arcs; k-- > 0;) {
            const Arc *arc = &p->arc[k];
            double most = late_start_h[arc->to] - arc_weight(arc, duration_h);
            if (late_start_h[arc->from] <= most + (arc->back ? same_h : 0.0))
                continue;
            late_start_h[arc->from] = most;
            moved = p->sweeps;
        }
    }
}

static void
dates_fill(const TaskPasses *p, const double duration_h[], double length_h, TaskDates dates[])
{
    double least = INFINITY;
    for (size_t i = 0; i < p->n; i++) {
        TaskDates *d = &dates[i];
        d->early_finish_h = d->early_start_h + duration_h[i];
        d->late_finish_h = d->late_start_h + duration_h[i];
        d->total_float_h = d->late_start_h - d->early_start_h;
        d->free_float_h = length_h - d->early_finish_h;
        least = fmin(least, d->total_float_h);
    }
    for (size_t k = 0; k < p->arcs; k++) {
        const Arc *arc = &p->arc[k];
        TaskDates *d = &dates[arc->from];
        double left = dates[arc->to].early_start_h - arc_weight(arc, duration_h) - d->early_start_h;
        if (!arc->back)
            d->free_float_h = fmin(d->free_float_h, left);
    }
    for (size_t i = 0; i < p->n; i++)
        dates[i].critical = dates[i].total_float_h <= least + same_h;
}

PassesOutcome
critical_path(const TaskNetwork *net, const double duration_h[], double end_h, TaskDates dates[],
              double *length_h)
{
    PassesOutcome outcome;
    *length_h = NAN;
    for (size_t i = 0; i < net->n; i++)
        if (!is_not_negative(duration_h[i]))
            return PASSES_BAD;
    TaskPasses *p = task_passes_new(net, &outcome);
    if (p == NULL)
        return outcome;
    double *start_h = fresh(net->n, sizeof(double));
    double length = task_passes_forward(p, duration_h, start_h);
    if (isnan(length)) {
        outcome = PASSES_TIGHT;
    } else {
        *length_h = length;
        for (size_t i = 0; i < net->n; i++)
            dates[i].early_start_h = start_h[i];
        task_passes_backward(p, duration_h, isnan(end_h) ? length : end_h, start_h);
        for (size_t i = 0; i < net->n; i++)
            dates[i].late_start_h = start_h[i];
        dates_fill(p, duration_h, length, dates);
    }
    free(start_h);
    task_passes_free(p);
    return outcome;
}
