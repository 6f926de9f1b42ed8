/* Keys and improvement of single passes. Invariant: an improved schedule is never longer than the one it came from. */
#include "physics/work/rcpsp_rule.h"

#include <math.h>
#include <string.h>

#include "physics/memory.h"
#include "physics/work/rcpsp_parts.h"

static void
latest_finishes(Rcpsp *p, double late_h[])
{
    double end_h = rcpsp_critical_path(p);
    size_t *list = fresh(p->n, sizeof(size_t));
    memset(late_h, 0, p->n * sizeof late_h[0]);
    task_list_by_key(p->lists, late_h, true, list);
    for (size_t k = 0; k < p->n; k++) {
        size_t i = list[k];
        late_h[i] = end_h;
        for (size_t q = p->first[1][i]; q < p->first[1][i + 1]; q++) {
            const RcpspLead *lead = &p->lead[1][q];
            late_h[i] =
                fmin(late_h[i], late_h[lead->task] - p->duration_h[lead->task] - lead->lag_h);
        }
    }
    free(list);
}

/* What follows a task, each once: how many, and how long in all. A walk for each task, which is enough for a single pass. */
static void
follows(const Rcpsp *p, size_t task, bool direct, size_t *seen, size_t *stack, double *count,
        double *sum_h)
{
    size_t depth = 1;
    stack[0] = task;
    *count = *sum_h = 0.0;
    while (depth > 0) {
        size_t i = stack[--depth];
        for (size_t q = p->first[1][i]; q < p->first[1][i + 1]; q++) {
            size_t next = p->lead[1][q].task;
            if (seen[next] == task + 1)
                continue;
            seen[next] = task + 1;
            *count += 1.0;
            *sum_h += p->duration_h[next];
            if (!direct)
                stack[depth++] = next;
        }
    }
}

static void
key_of_followers(const Rcpsp *p, RcpspRule rule, double key[])
{
    size_t *seen = fresh(p->n, sizeof(size_t)), *stack = fresh(p->n + 1, sizeof(size_t));
    for (size_t i = 0; i < p->n; i++) {
        double count, sum_h;
        follows(p, i, rule == RCPSP_GRPW, seen, stack, &count, &sum_h);
        key[i] = rule == RCPSP_MTS ? -count : -(p->duration_h[i] + sum_h);
    }
    free(seen);
    free(stack);
}

void
rcpsp_rule(Rcpsp *project, RcpspRule rule, double key[])
{
    switch (rule) {
    case RCPSP_LFT:
    case RCPSP_LST:
        latest_finishes(project, key);
        for (size_t i = 0; rule == RCPSP_LST && i < project->n; i++)
            key[i] -= project->duration_h[i];
        break;
    case RCPSP_MTS:
    case RCPSP_GRPW:
    case RCPSP_RPWALL:
        key_of_followers(project, rule, key);
        break;
    case RCPSP_SPT:
    case RCPSP_RULES:
        memcpy(key, project->duration_h, project->n * sizeof key[0]);
        break;
    }
}

static double
makespan(const Rcpsp *p, const double start_h[])
{
    double end_h = 0.0;
    for (size_t i = 0; i < p->n; i++)
        end_h = fmax(end_h, start_h[i] + p->duration_h[i]);
    return end_h;
}

/* One round to the end and back; the new makespan. */
static double
push_and_pull(Rcpsp *p, double start_h[], size_t list[], double key[], double right_h[])
{
    double end_h = makespan(p, start_h);
    for (size_t i = 0; i < p->n; i++)
        key[i] = -(start_h[i] + p->duration_h[i]);
    task_list_by_key(p->lists, key, true, list);
    double first_h = rcpsp_serial_back(p, list, end_h, key);
    for (size_t i = 0; right_h != NULL && i < p->n; i++)
        right_h[i] = key[i] - first_h;
    task_list_by_key(p->lists, key, false, list);
    return rcpsp_serial(p, list, start_h);
}

double
rcpsp_improve(Rcpsp *project, double start_h[], size_t list[], double right_h[], size_t *schedules)
{
    double *key = fresh(project->n, sizeof(double)), before_h, now_h = makespan(project, start_h);
    do {
        before_h = now_h;
        now_h = push_and_pull(project, start_h, list, key, right_h);
        right_h = NULL;
        if (schedules != NULL)
            *schedules += 2;
    } while (now_h < before_h - 1e-9);
    free(key);
    return now_h;
}
