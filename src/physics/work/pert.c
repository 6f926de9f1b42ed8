/* Classic estimate of a network. Invariant: the path found starts at 0 or at a release and every tie on it is tight. */
#include "physics/work/pert.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#include "physics/memory.h"

#define SHEET                                                                                      \
    {                                                                                              \
        "Malcolm and others 1959; docs/methods/work.md 1.3", STANDING_MEMORY                       \
    }
const Method pert_mean_method = {"Mean length", "mu_P = sum(mu_i)", SHEET};
const Method pert_chance_method = {"Chance of the classic method", "P = phi_cdf((D - mu_P) / s_P)",
                                   SHEET};

static const double same_h = 1e-9;
static const size_t none = (size_t) -1;

/* Goes on over one tie, where it is tight: the task it leads to takes the path with more variance. */
static void
extend(const Tie *tie, const Duration duration[], const TaskDates dates[], double variance_h2[],
       size_t before[])
{
    size_t to = tie->to;
    double with = variance_h2[tie->from] + duration[to].variance_h2;
    if (dates[to].early_start_h > dates[tie->from].early_finish_h + tie->lag_h + same_h)
        return;
    if (before[to] == none || with > variance_h2[to]) {
        variance_h2[to] = with;
        before[to] = tie->from;
    }
}

/* The greatest variance of a longest path to the end of each task, and the task before it on that path. Ties are taken in the order of
 * the work of the task they lead to, so that a task is settled before it leads on. */
static void
variances(const TaskNetwork *net, const Duration duration[], const TaskDates dates[],
          double variance_h2[], size_t before[])
{
    size_t *order = fresh(net->n, sizeof(size_t)), *first = fresh(net->n + 2, sizeof(size_t));
    size_t *into = fresh(net->ties, sizeof(size_t));
    task_order(net, order);
    for (size_t k = 0; k < net->ties; k++)
        first[net->tie[k].to + 2]++;
    for (size_t i = 2; i <= net->n + 1; i++)
        first[i] += first[i - 1];
    for (size_t k = 0; k < net->ties; k++)
        into[first[net->tie[k].to + 1]++] = k;
    for (size_t place = 0; place < net->n; place++) {
        size_t i = order[place];
        variance_h2[i] = duration[i].variance_h2;
        before[i] = none;
        for (size_t k = first[i]; k < first[i + 1]; k++)
            extend(&net->tie[into[k]], duration, dates, variance_h2, before);
    }
    free(order);
    free(first);
    free(into);
}

PassesOutcome
pert_network(const TaskNetwork *net, const Duration duration[], TaskDates dates[], size_t path[],
             PertPath *found)
{
    double *mean_h = fresh(net->n, sizeof(double)), *variance_h2 = fresh(net->n, sizeof(double));
    size_t *before = fresh(net->n, sizeof(size_t)), last = 0;
    *found = (PertPath){NAN, NAN, 0};
    for (size_t i = 0; i < net->n; i++)
        mean_h[i] = duration[i].mean_h;
    PassesOutcome outcome = critical_path(net, mean_h, NAN, dates, &found->mean_h);
    if (outcome == PASSES_DONE) {
        variances(net, duration, dates, variance_h2, before);
        for (size_t i = 1; i < net->n; i++) {
            double later = dates[i].early_finish_h - dates[last].early_finish_h;
            if (later > same_h || (later > -same_h && variance_h2[i] > variance_h2[last]))
                last = i;
        }
        found->variance_h2 = variance_h2[last];
        for (size_t i = last; i != none; i = before[i])
            found->n++;
        size_t place = found->n;
        for (size_t i = last; i != none; i = before[i])
            path[--place] = i;
    }
    free(mean_h);
    free(variance_h2);
    free(before);
    return outcome;
}

double
pert_chance(const PertPath *path, double deadline_h)
{
    if (path->variance_h2 == 0.0)
        return deadline_h >= path->mean_h ? 1.0 : 0.0;
    return gsl_cdf_ugaussian_P((deadline_h - path->mean_h) / sqrt(path->variance_h2));
}

double
pert_finish(const PertPath *path, double confidence)
{
    if (path->variance_h2 == 0.0)
        return path->mean_h;
    return path->mean_h + sqrt(path->variance_h2) * gsl_cdf_ugaussian_Pinv(confidence);
}
