/* Times of direct-current networks: medians over many runs of networks drawn by a seed, positive and return side apart.
 * Invariant: one line a quantity, "name value unit". */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>
#include <unistd.h>

#include "network_netlist.h"
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

static double
median(size_t n, double time_us[])
{
    qsort(time_us, n, sizeof *time_us, ascending);
    return time_us[n / 2];
}

static void
print_time(const char *name, Draft *job, void (*run)(Draft *job))
{
    double time_us[RUNS];
    for (int i = 0; i < RUNS; i++) {
        double start = now_us();
        run(job);
        time_us[i] = now_us() - start;
    }
    printf("%s %.1f us\n", name, median(RUNS, time_us));
}

static void
time_it(const char *name, Draft *job, void (*run)(Draft *job))
{
    print_time(name, job, run);
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

static double dense_V[WIDEST]; /* of node k + 1 */

/* The linear network by one dense elimination, as it would be without KLU. */
static void
solve_densely(Draft *job)
{
    static double matrix[WIDEST * WIDEST];
    double *v = dense_V;
    int n = (int) job->net.nodes - 1, one = 1, pivot[WIDEST], info;
    for (int k = 0; k < n * n; k++)
        matrix[k] = 0.0;
    for (int k = 0; k < n; k++)
        v[k] = 0.0;
    for (size_t i = 0; i < job->net.n; i++) {
        const NetworkElement *e = &job->element[i];
        const size_t ends[2] = {e->from, e->to};
        for (int p = 0; p < 2 && e->kind == ELEMENT_CURRENT_LOAD; p++)
            if (ends[p] > 0)
                v[ends[p] - 1] -= (p == 0 ? 1.0 : -1.0) * e->current_A;
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

/* ---- the same network three ways ---- */

enum { PROCESS_RUNS = 21 };

static double
children_us(void)
{
    struct rusage used;
    getrusage(RUSAGE_CHILDREN, &used);
    return (double) (used.ru_utime.tv_sec + used.ru_stime.tv_sec) * 1e6 +
           (double) (used.ru_utime.tv_usec + used.ru_stime.tv_usec);
}

static double
farthest(const Draft *job, const double other[])
{
    double most = 0.0;
    for (size_t k = 1; k < job->net.nodes; k++)
        most = fmax(most, fabs(job->voltage[k] - other[k]));
    return most;
}

/* Runs ngspice once on the file; the number of nodes whose voltage it printed. */
static size_t
run_simulator(const char *command, double voltage_V[])
{
    char line[256];
    size_t node, found = 0;
    double volts;
    FILE *out = popen(command, "r");
    while (out != NULL && fgets(line, sizeof line, out) != NULL)
        if (sscanf(line, "n%zu = %lf", &node, &volts) == 2 && node < WIDEST) {
            voltage_V[node] = volts;
            found++;
        }
    if (out != NULL)
        pclose(out); /* status 1 even when all went well: it misses a .print line */
    return found;
}

static void
simulate(const Draft *job)
{
    char path[] = "/tmp/careen-bench-XXXXXX", command[128];
    double time_us[PROCESS_RUNS], voltage_V[WIDEST] = {0};
    int descriptor = mkstemp(path);
    FILE *file = descriptor >= 0 ? fdopen(descriptor, "w") : NULL;
    if (file == NULL)
        return;
    netlist_print(file, job, "the same network");
    fprintf(file, ".options reltol=1e-10 abstol=1e-12 vntol=1e-10 gmin=1e-12\n.control\nop\n"
                  "set numdgt=16\nprint all\n.endc\n.end\n");
    fclose(file);
    (void) snprintf(command, sizeof command, "exec ngspice -b %s 2>/dev/null", path);
    size_t found = run_simulator(command, voltage_V);
    for (int i = 0; i < PROCESS_RUNS && found > 0; i++) {
        double start = children_us();
        run_simulator(command, voltage_V);
        time_us[i] = children_us() - start;
    }
    unlink(path);
    if (found < job->net.nodes)
        printf("network_200_simulator: ngspice is not there, or gives no voltages\n");
    else
        printf("network_200_simulator_time %.0f us\nnetwork_200_simulator_apart %.2g V\n",
               median(PROCESS_RUNS, time_us), farthest(job, voltage_V));
}

/* A power load of 0 W draws nothing, and a simulator would divide by its voltage. */
static void
leave_out_idle(Draft *job)
{
    size_t kept = 0;
    for (size_t i = 0; i < job->net.n; i++)
        if (job->element[i].kind != ELEMENT_POWER_LOAD)
            job->element[kept++] = job->element[i];
    job->net.n = kept;
}

static void
three_ways(uint64_t *seed)
{
    Draft *job = draft_boat(seed, WIDEST / 2, 0.0, 0);
    double shifted_V[WIDEST] = {0};
    leave_out_idle(job);
    print_time("network_200_linear_time", job, solve_it);
    print_time("network_200_dense_time", job, solve_densely);
    memcpy(shifted_V + 1, dense_V, (job->net.nodes - 1) * sizeof *dense_V);
    printf("network_200_dense_apart %.2g V\n", farthest(job, shifted_V));
    simulate(job);
    free(job);
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
    three_ways(&seed);
    time_it("network_200_curved_time", draft_boat(&seed, 100, 0.1, curved), solve_it);
    return 0;
}
