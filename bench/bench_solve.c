/* Times of reading a boat and of solving it whole: medians over many runs of the boat file given as the only argument.
 * Invariant: one line a quantity, "name value unit"; a boat that cannot be solved prints nothing. */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "checks/solve.h"

enum { RUNS = 101 };

typedef struct {
    char *text;
    gsize length;
    Boat *boat;
    Catalog *catalog;
    bool fine;
} Job;

static double
now_us(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t); /* a busy machine must not count */
    return t.tv_sec * 1e6 + t.tv_nsec / 1e3;
}

static int
ascending(const void *a, const void *b)
{
    const double *p = a, *q = b;
    return *p < *q ? -1 : *p > *q;
}

static Boat *
parse(const Job *job)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Diagnostics) notes = diagnostics_new();
    Boat *boat = boat_parse(job->text, job->length, 0, NULL, notes, &error);
    if (boat == NULL || diagnostics_errors(notes) > 0) {
        fprintf(stderr, "%s\n", error != NULL ? error->message : "the boat has errors");
        exit(1);
    }
    return boat;
}

static void
read_it(const Job *job)
{
    boat_free(parse(job));
}

static void
solve_it(const Job *job)
{
    result_free(solve(&(SolveInput){
        .boat = job->boat, .catalog = job->catalog, .stage = STAGE_NOW, .fine = job->fine}));
}

static double
median_us(void (*run)(const Job *), const Job *job)
{
    static double t[RUNS];
    for (int i = 0; i < RUNS; i++) {
        double start = now_us();
        run(job);
        t[i] = now_us() - start;
    }
    qsort(t, RUNS, sizeof *t, ascending);
    return t[RUNS / 2];
}

int
main(int argc, char **argv)
{
    Job job = {0};
    g_autoptr(GError) error = NULL;
    if (argc != 2 || !g_file_get_contents(argv[1], &job.text, &job.length, &error)) {
        fprintf(stderr, "%s\n", error != NULL ? error->message : "usage: bench_solve BOAT.yaml");
        return 2;
    }
    job.catalog = catalog_load();
    job.boat = parse(&job);
    printf("read_time %.0f us\n", median_us(read_it, &job));
    printf("solve_time %.0f us\n", median_us(solve_it, &job));
    job.fine = true;
    printf("fine_solve_time %.0f us\n", median_us(solve_it, &job));
    boat_free(job.boat);
    catalog_free(job.catalog);
    g_free(job.text);
    return 0;
}
