/* Schedule generation. Invariant: the profile of free capacity has rising instants, and no lane of it below 0. */
#include "physics/work/rcpsp.h"

#include <math.h>
#include <string.h>

#include "physics/domain.h"
#include "physics/memory.h"
#include "physics/work/rcpsp_parts.h"

const Method rcpsp_serial_method = {"Serial schedule generation",
                                    "S_j = earliest(max(F_i + l))",
                                    {"Kelley 1963; docs/methods/work.md 2.2", STANDING_MEMORY}};
const Method rcpsp_work_method = {"Bound by the work",
                                  "LB = max(sum(d * r) / R)",
                                  {"docs/methods/work.md 2.1", STANDING_DERIVED}};

/* --- making ready --------------------------------------------------------------------------------------------------- */

static uint64_t
lanes(const unsigned amount[RCPSP_KINDS])
{
    uint64_t word = 0;
    for (size_t k = 0; k < RCPSP_KINDS; k++)
        word |= (uint64_t) amount[k] << (16 * k);
    return word;
}

static RcpspOutcome
given_fault(const RcpspGiven *g)
{
    for (size_t k = 0; k < RCPSP_KINDS; k++)
        if (g->capacity[k] > RCPSP_MOST)
            return RCPSP_BAD;
    for (size_t k = 0; k < g->net.ties; k++) {
        const Tie *tie = &g->net.tie[k];
        if (tie->kind != TIE_FINISH_START || !is_not_negative(tie->lag_h) ||
            tie->from >= g->net.n || tie->to >= g->net.n)
            return RCPSP_BAD;
    }
    for (size_t i = 0; i < g->net.n; i++) {
        if (!is_not_negative(g->duration_h[i]))
            return RCPSP_BAD;
        for (size_t k = 0; k < RCPSP_KINDS; k++)
            if (g->need[i][k] > g->capacity[k])
                return RCPSP_ABOVE;
    }
    return RCPSP_SOUND;
}

static void
leads_fill(Rcpsp *p, const TaskNetwork *net, int side)
{
    size_t *first = p->first[side] = fresh(net->n + 2, sizeof(size_t));
    p->lead[side] = fresh(net->ties, sizeof(RcpspLead));
    for (size_t k = 0; k < net->ties; k++)
        first[(side == 1 ? net->tie[k].from : net->tie[k].to) + 2]++;
    for (size_t i = 2; i <= net->n + 1; i++)
        first[i] += first[i - 1];
    for (size_t k = 0; k < net->ties; k++) {
        const Tie *tie = &net->tie[k];
        size_t own = side == 1 ? tie->from : tie->to, other = side == 1 ? tie->to : tie->from;
        p->lead[side][first[own + 1]++] = (RcpspLead){other, tie->lag_h};
    }
}

Rcpsp *
rcpsp_new(const RcpspGiven *given, RcpspOutcome *outcome)
{
    *outcome = given_fault(given);
    if (*outcome != RCPSP_SOUND)
        return NULL;
    TaskLists *lists = task_lists_new(&given->net);
    if (lists == NULL) {
        *outcome = RCPSP_LOOP;
        return NULL;
    }
    size_t n = given->net.n;
    Rcpsp *p = fresh(1, sizeof *p);
    *p = (Rcpsp){.n = n,
                 .duration_h = fresh(n, sizeof(double)),
                 .need = fresh(n, sizeof(uint64_t)),
                 .capacity = lanes(given->capacity),
                 .lists = lists,
                 .from_h = fresh(2 * n + 2, sizeof(double)),
                 .free = fresh(2 * n + 2, sizeof(uint64_t)),
                 .ready_h = fresh(n, sizeof(double)),
                 .open = fresh(n, sizeof(size_t)),
                 .bag = fresh(n, sizeof(size_t)),
                 .running = fresh(n, sizeof(size_t))};
    for (size_t i = 0; i < n; i++)
        p->need[i] = lanes(given->need[i]);
    rcpsp_set_durations(p, given->duration_h);
    leads_fill(p, &given->net, 0);
    leads_fill(p, &given->net, 1);
    return p;
}

void
rcpsp_free(Rcpsp *project)
{
    if (project == NULL)
        return;
    for (int side = 0; side < 2; side++) {
        free(project->first[side]);
        free(project->lead[side]);
    }
    task_lists_free(project->lists);
    free(project->duration_h);
    free(project->need);
    free(project->from_h);
    free(project->free);
    free(project->ready_h);
    free(project->open);
    free(project->bag);
    free(project->running);
    free(project);
}

size_t
rcpsp_count(const Rcpsp *project)
{
    return project->n;
}

TaskLists *
rcpsp_lists(const Rcpsp *project)
{
    return project->lists;
}

const double *
rcpsp_durations(const Rcpsp *project)
{
    return project->duration_h;
}

void
rcpsp_set_durations(Rcpsp *project, const double duration_h[])
{
    memcpy(project->duration_h, duration_h, project->n * sizeof duration_h[0]);
}

/* --- serial --------------------------------------------------------------------------------------------------------- */

/* The span of the profile that holds the instant; it lies near the end more often than not. */
static size_t
span_at(const Rcpsp *p, double at_h)
{
    size_t k = p->spans - 1;
    while (k > 0 && p->from_h[k] > at_h)
        k--;
    return k;
}

/* Cuts the profile at the instant, which lies in span k or after it; the span that begins there. */
static size_t
span_cut(Rcpsp *p, size_t k, double at_h)
{
    while (k + 1 < p->spans && p->from_h[k + 1] <= at_h)
        k++;
    if (p->from_h[k] == at_h)
        return k;
    size_t later = p->spans - k - 1;
    memmove(&p->from_h[k + 2], &p->from_h[k + 1], later * sizeof p->from_h[0]);
    memmove(&p->free[k + 2], &p->free[k + 1], later * sizeof p->free[0]);
    p->from_h[k + 1] = at_h;
    p->free[k + 1] = p->free[k];
    p->spans++;
    return k + 1;
}

/* The earliest start from ready_h on at which the task fits; its capacity is taken. */
static double
place(Rcpsp *p, size_t task, double ready_h)
{
    double start_h = ready_h, lasts_h = p->duration_h[task];
    uint64_t need = p->need[task];
    if (lasts_h == 0.0 || need == 0)
        return start_h;
    size_t first = span_at(p, start_h);
    for (size_t k = first; k < p->spans; k++)
        if (!rcpsp_fits(p->free[k], need)) {
            first = k + 1;
            start_h = p->from_h[first];
        } else if (k + 1 < p->spans && p->from_h[k + 1] >= start_h + lasts_h) {
            break;
        }
    first = span_cut(p, first, start_h);
    size_t end = span_cut(p, first, start_h + lasts_h);
    for (size_t k = first; k < end; k++)
        p->free[k] -= need;
    return start_h;
}

/* Side 0: what comes before is placed first. start_h counts from the end of the work when side is 1. */
static double
serial(Rcpsp *p, const size_t list[], int side, double start_h[])
{
    double makespan_h = 0.0;
    p->spans = 1;
    p->from_h[0] = 0.0;
    p->free[0] = p->capacity;
    for (size_t k = 0; k < p->n; k++) {
        size_t i = list[k];
        double ready_h = 0.0;
        for (size_t q = p->first[side][i]; q < p->first[side][i + 1]; q++) {
            const RcpspLead *lead = &p->lead[side][q];
            ready_h = fmax(ready_h, start_h[lead->task] + p->duration_h[lead->task] + lead->lag_h);
        }
        start_h[i] = place(p, i, ready_h);
        makespan_h = fmax(makespan_h, start_h[i] + p->duration_h[i]);
    }
    return makespan_h;
}

double
rcpsp_serial(Rcpsp *project, const size_t list[], double start_h[])
{
    return serial(project, list, 0, start_h);
}

double
rcpsp_serial_back(Rcpsp *project, const size_t list[], double end_h, double start_h[])
{
    double lasts_h = serial(project, list, 1, start_h);
    for (size_t i = 0; i < project->n; i++)
        start_h[i] = end_h - start_h[i] - project->duration_h[i];
    return end_h - lasts_h;
}

/* --- parallel ------------------------------------------------------------------------------------------------------- */

typedef struct {
    double now_h;
    uint64_t free;
    size_t bagged, runs, done;
} Clock;

/* What has finished gives its capacity back. */
static void
clock_release(Rcpsp *p, Clock *c, const double start_h[])
{
    size_t kept = 0;
    for (size_t k = 0; k < c->runs; k++) {
        size_t i = p->running[k];
        if (start_h[i] + p->duration_h[i] <= c->now_h)
            c->free += p->need[i];
        else
            p->running[kept++] = i;
    }
    c->runs = kept;
}

static bool
startable(const Rcpsp *p, const Clock *c, size_t task)
{
    return p->ready_h[task] <= c->now_h &&
           (p->duration_h[task] == 0.0 || rcpsp_fits(c->free, p->need[task]));
}

/* The place in the bag of the task to start now, or c->bagged. */
static size_t
clock_best(const Rcpsp *p, const Clock *c, const double key[])
{
    size_t best = c->bagged;
    for (size_t k = 0; k < c->bagged; k++) {
        size_t i = p->bag[k];
        if (!startable(p, c, i))
            continue;
        if (best == c->bagged || key[i] < key[p->bag[best]] ||
            (i < p->bag[best] && key[i] == key[p->bag[best]]))
            best = k;
    }
    return best;
}

/* One of those that can start, in proportion to (worst key - own key + 1). */
static size_t
clock_regretted(const Rcpsp *p, const Clock *c, const double key[], Dice *dice)
{
    size_t chosen = c->bagged;
    double worst = -INFINITY, sum = 0.0;
    for (size_t k = 0; k < c->bagged; k++)
        if (startable(p, c, p->bag[k]))
            worst = fmax(worst, key[p->bag[k]]);
    for (size_t k = 0; k < c->bagged; k++)
        if (startable(p, c, p->bag[k]))
            sum += worst - key[p->bag[k]] + 1.0;
    double left = sum > 0.0 ? dice_share(dice) * sum : 0.0;
    for (size_t k = 0; k < c->bagged && left >= 0.0; k++)
        if (startable(p, c, p->bag[k])) {
            chosen = k;
            left -= worst - key[p->bag[k]] + 1.0;
        }
    return chosen;
}

static void
clock_start(Rcpsp *p, Clock *c, size_t place, size_t list[], double start_h[])
{
    size_t i = p->bag[place];
    p->bag[place] = p->bag[--c->bagged];
    list[c->done++] = i;
    start_h[i] = c->now_h;
    if (p->duration_h[i] > 0.0) {
        c->free -= p->need[i];
        p->running[c->runs++] = i;
    }
    for (size_t q = p->first[1][i]; q < p->first[1][i + 1]; q++) {
        const RcpspLead *lead = &p->lead[1][q];
        p->ready_h[lead->task] =
            fmax(p->ready_h[lead->task], c->now_h + p->duration_h[i] + lead->lag_h);
        if (--p->open[lead->task] == 0)
            p->bag[c->bagged++] = lead->task;
    }
}

/* The next instant at which something finishes or has waited long enough. */
static double
clock_next(const Rcpsp *p, const Clock *c, const double start_h[])
{
    double next_h = INFINITY;
    for (size_t k = 0; k < c->runs; k++)
        next_h = fmin(next_h, start_h[p->running[k]] + p->duration_h[p->running[k]]);
    for (size_t k = 0; k < c->bagged; k++)
        if (p->ready_h[p->bag[k]] > c->now_h)
            next_h = fmin(next_h, p->ready_h[p->bag[k]]);
    return next_h;
}

double
rcpsp_parallel(Rcpsp *project, const double key[], Dice *dice, size_t list[], double start_h[])
{
    Rcpsp *p = project;
    Clock c = {.free = p->capacity};
    double makespan_h = 0.0;
    for (size_t i = 0; i < p->n; i++) {
        p->ready_h[i] = 0.0;
        p->open[i] = p->first[0][i + 1] - p->first[0][i];
        if (p->open[i] == 0)
            p->bag[c.bagged++] = i;
    }
    while (c.done < p->n) {
        clock_release(p, &c, start_h);
        size_t place = dice == NULL ? clock_best(p, &c, key) : clock_regretted(p, &c, key, dice);
        if (place < c.bagged)
            clock_start(p, &c, place, list, start_h);
        else
            c.now_h = clock_next(p, &c, start_h);
    }
    for (size_t i = 0; i < p->n; i++)
        makespan_h = fmax(makespan_h, start_h[i] + p->duration_h[i]);
    return makespan_h;
}

/* --- bounds and proof ----------------------------------------------------------------------------------------------- */

double
rcpsp_critical_path(Rcpsp *project)
{
    Rcpsp *p = project;
    double length_h = 0.0;
    size_t *list = fresh(p->n, sizeof(size_t));
    double *finish_h = fresh(p->n, sizeof(double));
    task_list_by_key(p->lists, finish_h, false, list);
    for (size_t k = 0; k < p->n; k++) {
        size_t i = list[k];
        double ready_h = 0.0;
        for (size_t q = p->first[0][i]; q < p->first[0][i + 1]; q++)
            ready_h = fmax(ready_h, finish_h[p->lead[0][q].task] + p->lead[0][q].lag_h);
        finish_h[i] = ready_h + p->duration_h[i];
        length_h = fmax(length_h, finish_h[i]);
    }
    free(list);
    free(finish_h);
    return length_h;
}

double
rcpsp_work_bound(const Rcpsp *project)
{
    double bound_h = 0.0;
    for (size_t kind = 0; kind < RCPSP_KINDS; kind++) {
        double work = 0.0;
        for (size_t i = 0; i < project->n; i++)
            work += project->duration_h[i] * rcpsp_lane(project->need[i], kind);
        if (work > 0.0)
            bound_h = fmax(bound_h, work / rcpsp_lane(project->capacity, kind));
    }
    return bound_h;
}

static const double same_h = 1e-9;

/* Capacity can only run short where something starts. */
static bool
start_holds(const Rcpsp *p, const double start_h[], size_t at)
{
    unsigned used[RCPSP_KINDS] = {0};
    double now_h = start_h[at] + same_h;
    for (size_t i = 0; i < p->n; i++)
        if (start_h[i] <= now_h && start_h[i] + p->duration_h[i] > now_h)
            for (size_t kind = 0; kind < RCPSP_KINDS; kind++)
                used[kind] += rcpsp_lane(p->need[i], kind);
    for (size_t kind = 0; kind < RCPSP_KINDS; kind++)
        if (used[kind] > rcpsp_lane(p->capacity, kind))
            return false;
    return true;
}

bool
rcpsp_holds(const Rcpsp *project, const double start_h[])
{
    const Rcpsp *p = project;
    for (size_t i = 0; i < p->n; i++) {
        if (!(start_h[i] >= -same_h) || !start_holds(p, start_h, i))
            return false;
        for (size_t q = p->first[1][i]; q < p->first[1][i + 1]; q++)
            if (start_h[p->lead[1][q].task] <
                start_h[i] + p->duration_h[i] + p->lead[1][q].lag_h - same_h)
                return false;
    }
    return true;
}
