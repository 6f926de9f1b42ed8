/* Times of direct-current networks: medians over many runs of networks drawn by a seed, positive and return side apart.
 * Invariant: one line a quantity, "name value unit". */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "physics/wiring/network_fault.h"

extern void dgesv_(const int *n, const int *nrhs, double *a, const int *lda, int *ipiv, double *b,
                   const int *ldb, int *info);

enum { RUNS = 201, MOST = 2000, WIDEST = 200 };

typedef struct {
    Network net;
    NetworkElement element[MOST];
    double voltage[MOST], current[MOST];
    ElementState state[MOST];
    NetworkSolution out;
} Job;

static double
draw(uint64_t *seed)
{
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    return (double) (*seed >> 11) / 9007199254740992.0;
}

static void
put(Job *job, NetworkElement e)
{
    job->element[job->net.n++] = e;
}

/* Cables as a tree on each side with a mesh for every fourth node; three banks; a load at every node. */
static Job *
boat(size_t nodes, bool curved, uint64_t seed)
{
    Job *job = calloc(1, sizeof *job);
    size_t half = nodes / 2;
    if (job == NULL)
        abort();
    job->net = (Network){.nodes = nodes, .element = job->element, .temperature_K = 300.15};
    job->out = (NetworkSolution){job->voltage, job->current, job->state, 0};
    for (size_t side = 0; side < 2; side++)
        for (size_t k = 2; k <= half - side; k++)
            put(job, (NetworkElement){.kind = ELEMENT_RESISTOR,
                                      .from = side * half + 1 +
                                              (size_t) (draw(&seed) * (double) (k - 1)),
                                      .to = side * half + k,
                                      .ohm = 0.001 + 0.02 * draw(&seed)});
    put(job, (NetworkElement){.kind = ELEMENT_RESISTOR, .from = 0, .to = half + 1, .ohm = 0.001});
    for (size_t k = 0; k < half / 4; k++)
        put(job, (NetworkElement){.kind = ELEMENT_RESISTOR,
                                  .from = 1 + (size_t) (draw(&seed) * (double) half),
                                  .to = 1 + (size_t) (draw(&seed) * (double) half),
                                  .ohm = 0.05});
    for (size_t k = 1; k <= 3; k++)
        put(job, (NetworkElement){.kind = ELEMENT_BATTERY,
                                  .from = k,
                                  .to = half + k,
                                  .voltage_V = 12.6,
                                  .ohm = 0.005});
    for (size_t k = 4; k < half; k++) {
        double pick = draw(&seed);
        ElementKind kind = !curved || pick < 0.4 ? ELEMENT_RESISTOR
                           : pick < 0.6          ? ELEMENT_POWER_LOAD
                           : pick < 0.8          ? ELEMENT_CURRENT_LOAD
                           : pick < 0.9          ? ELEMENT_POWER_LAW
                                                 : ELEMENT_DIODE;
        put(job, (NetworkElement){.kind = kind,
                                  .from = kind == ELEMENT_DIODE ? k - 1 : k,
                                  .to = kind == ELEMENT_DIODE ? k : half + k,
                                  .ohm = 2.0 + 30.0 * draw(&seed),
                                  .power_W = 20.0 * draw(&seed),
                                  .current_A = 2.0 * draw(&seed),
                                  .coefficient = 0.02,
                                  .exponent = 1.5,
                                  .saturation_A = 2e-7,
                                  .ideality = 1.5});
    }
    return job;
}

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
time_it(const char *name, Job *job, void (*run)(Job *job))
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
solve_it(Job *job)
{
    if (network_solve(&job->net, &job->out) != NETWORK_SOLVED)
        exit(1);
}

/* A dead short at every node, one after the other. */
static void
short_it(Job *job)
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
solve_densely(Job *job)
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
    time_it("network_60_linear_time", boat(60, false, 3), solve_it);
    time_it("network_60_curved_time", boat(60, true, 3), solve_it);
    time_it("network_60_faults_time", boat(60, false, 3), short_it);
    time_it("network_60_curved_faults_time", boat(60, true, 3), short_it);
    time_it("network_200_linear_time", boat(200, false, 3), solve_it);
    time_it("network_200_dense_time", boat(200, false, 3), solve_densely);
    time_it("network_200_curved_time", boat(200, true, 3), solve_it);
    return 0;
}
