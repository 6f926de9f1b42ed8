/* Times of direct-current networks: medians over many runs of networks drawn by a seed, positive and return side apart.
 * Invariant: one line a quantity, "name value unit". */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "network_draft.h"
#include "physics/wiring/network_fault.h"

extern void dgesv_(const int *n, const int *nrhs, double *a, const int *lda, int *ipiv, double *b,
                   const int *ldb, int *info);

enum { RUNS = 201, WIDEST = 200 };

static double
now_us(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t); /* a busy machine must not count */
    return (double) t.tv_sec * 1e6 + (double) t.tv_nsec / 1e3;
}

static int
ascending(const void *a, const void *b)
{
    const double *p = a, *q = b;
    return *p < *q ? -1 : *p > *q;
}

static void
time_it(const char *name, Draft *job, void (*run)(Draft *job))
{
    double time_us[RUNS];
    for (int i = 0; i < RUNS; i++) {
        double start = now_us();
        run(job);
        time_us[i] = now_us() - start;
    }
    qsort(time_us, RUNS, sizeof *time_us, ascending);
    printf("%s %.1f us\n", name, time_us[RUNS / 2]);
    free(job);
}

static void
solve_it(Draft *job)
{
    if (network_solve(&job->net, &job->out) != NETWORK_SOLVED)
        exit(1);
}

/* A dead short at every node, one after the other. */
static void
short_it(Draft *job)
{
    size_t at[WIDEST], back[WIDEST] = {0};
    double fault_A[WIDEST];
    for (size_t k = 0; k < job->net.nodes; k++)
        at[k] = k;
    if (network_faults(&job->net, job->net.nodes, at, back, fault_A) != NETWORK_SOLVED)
        exit(1);
}

/* The linear network by one dense elimination, as it would be without KLU. */
static void
solve_densely(Draft *job)
{
    static double matrix[WIDEST * WIDEST], v[WIDEST];
    int n = (int) job->net.nodes - 1, one = 1, pivot[WIDEST], info;
    for (int k = 0; k < n * n; k++)
        matrix[k] = 0.0;
    for (int k = 0; k < n; k++)
        v[k] = 0.0;
    for (size_t i = 0; i < job->net.n; i++) {
        const NetworkElement *e = &job->element[i];
        const size_t ends[2] = {e->from, e->to};
        if (!(e->ohm > 0.0))
            continue;
        for (int p = 0; p < 2; p++) {
            if (ends[p] == 0)
                continue;
            v[ends[p] - 1] += (p == 0 ? 1.0 : -1.0) * e->voltage_V / e->ohm;
            for (int q = 0; q < 2; q++)
                if (ends[q] > 0)
                    matrix[(ends[q] - 1) * (size_t) n + ends[p] - 1] +=
                        (p == q ? 1.0 : -1.0) / e->ohm;
        }
    }
    dgesv_(&n, &one, matrix, &n, pivot, v, &n, &info);
    if (info != 0)
        exit(1);
}

int
main(void)
{
    uint64_t seed = 3;
    unsigned curved = WITH_CURVES | WITH_CHARGERS;
    time_it("network_60_linear_time", draft_boat(&seed, 30, 0.0, 0), solve_it);
    time_it("network_60_curved_time", draft_boat(&seed, 30, 0.4, curved), solve_it);
    time_it("network_60_faults_time", draft_boat(&seed, 30, 0.0, 0), short_it);
    time_it("network_60_curved_faults_time", draft_boat(&seed, 30, 0.4, curved), short_it);
    time_it("network_200_linear_time", draft_boat(&seed, 100, 0.0, 0), solve_it);
    time_it("network_200_dense_time", draft_boat(&seed, 100, 0.0, 0), solve_densely);
    time_it("network_200_curved_time", draft_boat(&seed, 100, 0.1, curved), solve_it);
    return 0;
}
