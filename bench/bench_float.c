/* Times of floating a boat: medians over many runs, on a hull table given as the only argument.
 * Invariant: one line a quantity, "name value unit", so that bench/run can set it beside another program's. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "base/csv.h"
#include "physics/afloat/lever.h"
#include "physics/afloat/rest.h"

static Loft
load(const char *path)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Csv) csv = csv_load(path, &error);
    if (csv == NULL) {
        fprintf(stderr, "%s\n", error->message);
        exit(2);
    }
    size_t n = csv_rows(csv), points = 1;
    while (points < n && g_str_equal(csv_cell(csv, points, 0), csv_cell(csv, 0, 0)))
        points++;
    double *x = g_new(double, n / points), *y = g_new(double, n), *z = g_new(double, n);
    for (size_t i = 0; i < n; i++) {
        x[i / points] = g_ascii_strtod(csv_cell(csv, i, 0), NULL);
        y[i] = g_ascii_strtod(csv_cell(csv, i, 1), NULL);
        z[i] = g_ascii_strtod(csv_cell(csv, i, 2), NULL);
    }
    return (Loft){n / points, points, x, y, z, 0.0};
}

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

typedef struct {
    Body body;
    Load load;
    double from_deg;
    size_t heels;
    double cell[4][361];
    Rest rest;
    Immersed under;
} Job;

static void
immerse(Job *job)
{
    body_immersed(&job->body, &(Attitude){0.9, 0.3, 0.01}, &job->under);
}

static void
find_rest(Job *job)
{
    if (rest_find(&job->body, &job->load, 1000.0, &job->rest) == REFUSED)
        exit(1);
}

static void
follow(Job *job)
{
    LeverCurve curve = {job->heels, job->cell[0], job->cell[1], job->cell[2], job->cell[3]};
    for (size_t i = 0; i < job->heels; i++)
        job->cell[0][i] = (job->from_deg + i) * (M_PI / 180.0);
    if (lever_curve(&job->body, &job->load, 1000.0, true, 0.0, &curve) == REFUSED)
        exit(1);
}

static double
median_us(void (*run)(Job *), Job *job, int inner)
{
    enum { RUNS = 151 };
    static double t[RUNS];
    for (int i = 0; i < RUNS; i++) {
        double start = now_us();
        for (int k = 0; k < inner; k++)
            run(job);
        t[i] = (now_us() - start) / inner;
    }
    qsort(t, RUNS, sizeof *t, ascending);
    return t[RUNS / 2];
}

int
main(int argc, char **argv)
{
    if (argc != 2) {
        fprintf(stderr, "usage: bench_float HULL.csv\n");
        return 2;
    }
    Loft hull = load(argv[1]);
    static const Tank tanks[3] = {{5, 6, -1.2, -0.2, 0.3, 0.9, 0.5, 1000},
                                  {5, 6, 0.2, 1.2, 0.3, 0.9, 0.5, 1000},
                                  {8, 9, -0.8, 0.8, 0.2, 0.8, 0.6, 850}};
    static Job job;
    job.body = (Body){.lofts = 1, .loft = &hull};
    job.load = (Load){26000.0, 7.2, 0.0, 1.1, 0, NULL};
    immerse(&job);
    printf("volume %.9f m3\n", job.under.volume_m3);
    printf("volume_time %.2f us\n", median_us(immerse, &job, 50));
    find_rest(&job);
    printf("rest_depth %.9f m\n", job.rest.at.origin_depth_m);
    printf("rest_time %.1f us\n", median_us(find_rest, &job, 10));
    job.heels = 91;
    follow(&job);
    printf("gz_30 %.9f m\ngz_60 %.9f m\n", job.cell[1][30], job.cell[1][60]);
    printf("gz_0_90_time %.0f us\n", median_us(follow, &job, 1));
    job.from_deg = -180.0;
    job.heels = 361;
    printf("gz_both_sides_180_time %.0f us\n", median_us(follow, &job, 1));
    job.load.tanks = 3;
    job.load.tank = tanks;
    printf("rest_three_tanks_time %.1f us\n", median_us(find_rest, &job, 10));
    job.from_deg = 0.0;
    job.heels = 91;
    printf("gz_0_90_three_tanks_time %.0f us\n", median_us(follow, &job, 1));
    return 0;
}
