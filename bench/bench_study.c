/* Times of the studies of one boat file, wall clock on all cores: doubt, remedies, comparison of all its options, trials.
 * Invariant: one line a quantity, "name value unit". */
#include <stdio.h>

#include "boat_file.h"
#include "base/heap.h"
#include "study/compare.h"
#include "study/doubt.h"
#include "study/remedies.h"
#include "study/trials.h"

static double
since_ms(gint64 start_us)
{
    return (double) (g_get_monotonic_time() - start_us) / 1000.0;
}

static void
time_doubt(const SolveInput *input, const Result *base)
{
    gint64 start = g_get_monotonic_time();
    g_autoptr(Doubt) doubt = doubt_find(input, base, NULL);
    printf("doubt %.0f ms\n", since_ms(start));
    printf("doubt-inputs %zu\ndoubt-solves %zu\n", doubt->n_inputs, doubt->n_solves);
}

static void
time_remedies(const SolveInput *input, const PlanText *text, const Result *base)
{
    gint64 start = g_get_monotonic_time();
    g_autoptr(Remedies) remedies = remedies_find(input, text, base, NULL, NULL);
    printf("remedies %.0f ms\n", since_ms(start));
    printf("remedies-findings %zu\nremedies-solves %zu\n", remedies->n, remedies->solves);
}

static void
time_compare(const SolveInput *input, const PlanText *text)
{
    const char *const *options;
    size_t n = boat_options(input->boat, &options);
    gint64 start = g_get_monotonic_time();
    g_autoptr(Comparison) comparison = compare_plans(input, text, n, options, NULL);
    printf("compare %.0f ms\n", since_ms(start));
    printf("compare-plans %zu\ncompare-solves %zu\n", comparison->n, comparison->solves);
}

static void
time_trials(const SolveInput *input)
{
    gint64 start = g_get_monotonic_time();
    g_autoptr(Trials) trials = trials_find(input, NULL);
    printf("trials %.0f ms\n", since_ms(start));
}

int
main(int argc, char *argv[])
{
    heap_keep();
    PlanText text = {0};
    g_autofree char *read = NULL;
    g_autoptr(Boat) boat = boat_of_argument(argc, argv, &text, &read);
    if (boat == NULL)
        return 2;
    g_autoptr(Catalog) catalog = catalog_load();
    SolveInput input = {.boat = boat, .catalog = catalog, .stage = STAGE_DONE};
    gint64 start = g_get_monotonic_time();
    g_autoptr(Result) base = solve(&input);
    printf("solve %.1f ms\n", since_ms(start));
    time_doubt(&input, base);
    time_remedies(&input, &text, base);
    time_compare(&input, &text);
    time_trials(&input);
    return 0;
}
