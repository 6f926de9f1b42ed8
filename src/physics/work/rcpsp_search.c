/* Search and sampling of schedules. Invariant: no pass is made that is not counted. */
#include "physics/work/rcpsp_search.h"

#include <math.h>
#include <string.h>

#include "physics/memory.h"
#include "physics/work/list_search.h"
#include "physics/work/rcpsp_parts.h"
#include "physics/work/rcpsp_rule.h"

double
rcpsp_bound(Rcpsp *project)
{
    double path_h = rcpsp_critical_path(project), work_h = rcpsp_work_bound(project);
    bool whole = true;
    for (size_t i = 0; i < project->n; i++)
        whole = whole && project->duration_h[i] == floor(project->duration_h[i]);
    for (size_t k = 0; k < project->first[1][project->n]; k++)
        whole = whole && project->lead[1][k].lag_h == floor(project->lead[1][k].lag_h);
    return fmax(path_h, whole ? ceil(work_h - 1e-9) : work_h);
}

static void
finish_fill(const Rcpsp *p, const double start_h[], double finish_h[])
{
    for (size_t i = 0; i < p->n; i++)
        finish_h[i] = start_h[i] + p->duration_h[i];
}

static double
decode(void *context, const size_t list[], double start_h[], double finish_h[])
{
    double makespan_h = rcpsp_serial(context, list, start_h);
    finish_fill(context, start_h, finish_h);
    return makespan_h;
}

static double
decode_back(void *context, const size_t list[], double start_h[], double finish_h[])
{
    double first_h = rcpsp_serial_back(context, list, 0.0, start_h);
    finish_fill(context, start_h, finish_h);
    return -first_h;
}

/* Shares of capacity, summed over its kinds. */
static double
load_of(const Rcpsp *p, size_t task)
{
    double load = 0.0;
    for (size_t kind = 0; kind < RCPSP_KINDS; kind++)
        if (rcpsp_lane(p->capacity, kind) > 0)
            load += (double) rcpsp_lane(p->need[task], kind) / rcpsp_lane(p->capacity, kind);
    return load;
}

static TaskNetwork
network_of(const Rcpsp *p, Tie tie[])
{
    size_t ties = 0;
    for (size_t i = 0; i < p->n; i++)
        for (size_t q = p->first[1][i]; q < p->first[1][i + 1]; q++)
            tie[ties++] = (Tie){i, p->lead[1][q].task, TIE_FINISH_START, p->lead[1][q].lag_h};
    return (TaskNetwork){.n = p->n, .ties = ties, .tie = tie};
}

double
rcpsp_search(Rcpsp *project, size_t schedules, uint64_t seed, size_t list[], double start_h[],
             size_t *made)
{
    size_t n = project->n;
    double *key = fresh(n, sizeof(double)), *load = fresh(n, sizeof(double));
    double *finish_h = fresh(n, sizeof(double));
    Tie *tie = fresh(project->first[1][n], sizeof(Tie));
    TaskNetwork net = network_of(project, tie);
    rcpsp_rule(project, RCPSP_LFT, key);
    for (size_t i = 0; i < n; i++)
        load[i] = load_of(project, i);
    const ListProblem problem = {.net = &net,
                                 .decode = decode,
                                 .decode_back = decode_back,
                                 .context = project,
                                 .urgency = key,
                                 .load = load,
                                 .at_best = rcpsp_bound(project)};
    ListBest best = {.list = list, .start_h = start_h, .finish_h = finish_h};
    const ListEffort effort = {schedules, 0, seed};
    list_search(&problem, &effort, &best);
    if (made != NULL)
        *made = best.schedules;
    free(key);
    free(load);
    free(finish_h);
    free(tie);
    return best.value;
}

typedef struct {
    size_t *list;
    double *key, *start_h;
} Pass;

static double
sample_one(Rcpsp *p, bool parallel, Dice *dice, const Pass *pass)
{
    if (parallel)
        return rcpsp_parallel(p, pass->key, dice, pass->list, pass->start_h);
    task_list_by_regret(p->lists, pass->key, false, dice, pass->list);
    return rcpsp_serial(p, pass->list, pass->start_h);
}

double
rcpsp_sample(Rcpsp *project, RcpspSampling sampling, bool improve, size_t schedules, uint64_t seed,
             size_t list[], double start_h[])
{
    size_t n = project->n, made = 0;
    double bound_h = rcpsp_bound(project), best_h = INFINITY;
    Dice dice = {seed};
    Pass pass = {fresh(n, sizeof(size_t)), fresh(n, sizeof(double)), fresh(n, sizeof(double))};
    rcpsp_rule(project, RCPSP_LFT, pass.key);
    for (size_t turn = 0; made < schedules && best_h > bound_h; turn++) {
        bool parallel =
            sampling == RCPSP_SAMPLE_PARALLEL || (sampling == RCPSP_SAMPLE_BOTH && turn % 2 == 1);
        double length_h = sample_one(project, parallel, &dice, &pass);
        made++;
        if (improve && made + 2 <= schedules)
            length_h = rcpsp_improve(project, pass.start_h, pass.list, NULL, &made);
        if (length_h >= best_h || made > schedules)
            continue; /* what took more schedules than allowed does not count */
        best_h = length_h;
        memcpy(list, pass.list, n * sizeof list[0]);
        memcpy(start_h, pass.start_h, n * sizeof start_h[0]);
    }
    free(pass.list);
    free(pass.key);
    free(pass.start_h);
    return best_h;
}
