/* Times of reading a boat, of solving it whole and of drawing all its pictures: medians over many runs of the boat file given as the only argument.
 * Invariant: one line a quantity, "name value unit"; a boat that cannot be solved prints nothing. */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "base/heap.h"
#include "checks/figures.h"
#include "draw/draw.h"

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

static void
solve_wiring(const Job *job)
{
    result_free(solve(&(SolveInput){
        .boat = job->boat, .catalog = job->catalog, .stage = STAGE_DONE, .only = "wiring"}));
}

static void
take_figure(Figure *figure, const char *why_not)
{
    if (figure == NULL && why_not == NULL)
        exit(1);
    figure_free(figure);
}

static SolveInput
done(const Job *job)
{
    return (SolveInput){.boat = job->boat, .catalog = job->catalog, .stage = STAGE_DONE};
}

static void
figures_apart(const Job *job)
{
    SolveInput input = done(job);
    for (size_t i = 0; i < picture_count(); i++) {
        g_autofree char *why_not = NULL;
        Figure *figure = figure_new(picture_info(i)->name, NULL, &input, &why_not);
        take_figure(figure, why_not);
    }
}

static void
figures_of_one_set(const Job *job)
{
    SolveInput input = done(job);
    g_autoptr(FigureSet) set = figure_set_new(&input);
    for (size_t i = 0; i < picture_count(); i++) {
        g_autofree char *why_not = NULL;
        Figure *figure = figure_from(set, picture_info(i)->name, NULL, &why_not);
        take_figure(figure, why_not);
    }
}

/* As a page shows them: one set, and every picture drawn. */
static void
all_pictures(const Job *job)
{
    SolveInput input = done(job);
    g_autoptr(FigureSet) set = figure_set_new(&input);
    for (size_t i = 0; i < picture_count(); i++) {
        const PictureInfo *info = picture_info(i);
        g_autofree char *why_not = NULL;
        g_autoptr(Figure) figure = figure_from(set, info->name, NULL, &why_not);
        g_autoptr(Markup) svg = markup_new();
        DrawHow how = {.prefix = info->name, .units = UNITS_METRIC, .in_page = true};
        if (figure != NULL)
            picture_draw(info, figure_data(figure), &how, svg);
    }
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
    heap_keep();
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
    printf("wiring_time %.0f us\n", median_us(solve_wiring, &job));
    job.fine = true;
    printf("fine_solve_time %.0f us\n", median_us(solve_it, &job));
    printf("figures_apart_time %.0f us\n", median_us(figures_apart, &job));
    printf("figures_one_set_time %.0f us\n", median_us(figures_of_one_set, &job));
    printf("all_pictures_time %.0f us\n", median_us(all_pictures, &job));
    boat_free(job.boat);
    catalog_free(job.catalog);
    g_free(job.text);
    return 0;
}
