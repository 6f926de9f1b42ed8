/* Schedules of the 96 open projects of 30 tasks: how far from the proven optimum after 1,000, 5,000 and 50,000 schedules (each pass in either
 * direction counts as one), and how long the proof of every optimum takes. Usage: bench_schedule [SEEDS [FOLDER]] */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "physics/work/rcpsp_exact.h"
#include "physics/work/rcpsp_search.h"
#include "psplib.h"

static PsplibProject projects[PSPLIB_PROJECTS];

static double
now_s(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t); /* a busy machine must not count */
    return (double) t.tv_sec + (double) t.tv_nsec / 1e9;
}

static Rcpsp *
project_new(const PsplibProject *project)
{
    RcpspOutcome outcome;
    RcpspGiven given = psplib_given(project);
    Rcpsp *p = rcpsp_new(&given, &outcome);
    if (p == NULL)
        exit(3);
    return p;
}

typedef double Finder(Rcpsp *p, size_t schedules, uint64_t seed, size_t list[], double start_h[]);

static double
searched(Rcpsp *p, size_t schedules, uint64_t seed, size_t list[], double start_h[])
{
    return rcpsp_search(p, schedules, seed, list, start_h, NULL);
}

static double
sampled(Rcpsp *p, size_t schedules, uint64_t seed, size_t list[], double start_h[])
{
    return rcpsp_sample(p, RCPSP_SAMPLE_BOTH, true, schedules, seed, list, start_h);
}

static void
deviation(const char *name, Finder *find, size_t schedules, uint64_t seeds)
{
    double sum = 0.0, begin_s = now_s();
    int optimal = 0;
    for (uint64_t seed = 1; seed <= seeds; seed++)
        for (size_t k = 0; k < PSPLIB_PROJECTS; k++) {
            double start_h[PSPLIB_TASKS], best = projects[k].column[1];
            size_t list[PSPLIB_TASKS];
            Rcpsp *p = project_new(&projects[k]);
            double length = find(p, schedules, seed, list, start_h);
            sum += 100.0 * (length - best) / best;
            optimal += length == best;
            rcpsp_free(p);
        }
    double runs = (double) seeds * PSPLIB_PROJECTS;
    printf("%-22s %6zu schedules  %7.4f %% from the optimum  %5.1f of 96 optimal  %6.1f ms a "
           "project\n",
           name, schedules, sum / runs, optimal / (double) seeds, 1e3 * (now_s() - begin_s) / runs);
}

static int
proofs(void)
{
    double whole_s = 0.0, worst_s = 0.0;
    const char *worst = "";
    int proven_all = 0;
    for (size_t k = 0; k < PSPLIB_PROJECTS; k++) {
        double start_h[PSPLIB_TASKS], begin_s = now_s();
        size_t list[PSPLIB_TASKS];
        bool proven;
        Rcpsp *p = project_new(&projects[k]);
        double length = rcpsp_exact(p, 0, list, start_h, &proven), took_s = now_s() - begin_s;
        proven_all += proven && length == projects[k].column[1];
        whole_s += took_s;
        if (took_s > worst_s) {
            worst_s = took_s;
            worst = projects[k].name;
        }
        rcpsp_free(p);
    }
    printf("%d of 96 optima proven in %.2f s, the longest %.2f s (%s)\n", proven_all, whole_s,
           worst_s, worst);
    return proven_all == PSPLIB_PROJECTS ? 0 : 1;
}

int
main(int n, char *argument[])
{
    uint64_t seeds = n > 1 ? strtoull(argument[1], NULL, 10) : 5;
    psplib_read(n > 2 ? argument[2] : PSPLIB, projects);
    static const size_t schedules[] = {1000, 5000, 50000};
    for (size_t k = 0; k < sizeof schedules / sizeof schedules[0]; k++) {
        deviation("population search", searched, schedules[k], seeds);
        deviation("sampling, improved", sampled, schedules[k], seeds);
    }
    return proofs();
}
