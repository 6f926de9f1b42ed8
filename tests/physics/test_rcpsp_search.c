/* Search for good schedules: how near to the proven optima of 96 open projects it comes (docs/methods/work.md 2.8, W2.8 to W2.10), and
 * what list_search promises to any decoder. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <string.h>

#include "physics/work/list_search.h"
#include "physics/work/rcpsp_rule.h"
#include "physics/work/rcpsp_search.h"
#include "psplib.h"

static PsplibProject projects[PSPLIB_PROJECTS];

static Rcpsp *
project_new(const PsplibProject *project)
{
    RcpspOutcome outcome;
    RcpspGiven given = psplib_given(project);
    Rcpsp *p = rcpsp_new(&given, &outcome);
    assert_non_null(p);
    return p;
}

typedef struct {
    double deviation; /* per cent of the optimum, mean of all projects */
    int optimal;
} Outcome;

static void
outcome_add(Outcome *outcome, const PsplibProject *project, const Rcpsp *p, double length_h,
            const double start_h[])
{
    double best = project->column[1];
    assert_true(rcpsp_holds(p, start_h));
    assert_true(length_h >= best);
    outcome->deviation += 100.0 * (length_h - best) / best / PSPLIB_PROJECTS;
    outcome->optimal += length_h == best;
}

static Outcome
search_all(size_t schedules, uint64_t seed)
{
    Outcome outcome = {0.0, 0};
    for (size_t k = 0; k < PSPLIB_PROJECTS; k++) {
        double start_h[PSPLIB_TASKS], again_h[PSPLIB_TASKS];
        size_t list[PSPLIB_TASKS], made = 0;
        Rcpsp *p = project_new(&projects[k]);
        double length_h = rcpsp_search(p, schedules, seed, list, start_h, &made);
        assert_true(made <= schedules);
        assert_true(task_list_is_sound(rcpsp_lists(p), list));
        assert_true(rcpsp_serial(p, list, again_h) == length_h);
        assert_memory_equal(again_h, start_h, projects[k].n * sizeof start_h[0]);
        outcome_add(&outcome, &projects[k], p, length_h, start_h);
        rcpsp_free(p);
    }
    return outcome;
}

static void
search_comes_near_the_optimum(void **state)
{
    (void) state;
    double sum = 0.0;
    for (uint64_t seed = 1; seed <= 5; seed++) {
        Outcome outcome = search_all(5000, seed);
        print_message("seed %d: %.4f %% from the optimum, %d optimal\n", (int) seed,
                      outcome.deviation, outcome.optimal);
        sum += outcome.deviation;
    }
    print_message("mean %.4f %%\n", sum / 5.0);
    assert_true(sum / 5.0 <= 0.10);
}

static Outcome
sample_all(RcpspSampling sampling, bool improve, size_t schedules, uint64_t seed)
{
    Outcome outcome = {0.0, 0};
    for (size_t k = 0; k < PSPLIB_PROJECTS; k++) {
        double start_h[PSPLIB_TASKS];
        size_t list[PSPLIB_TASKS];
        Rcpsp *p = project_new(&projects[k]);
        double length_h = rcpsp_sample(p, sampling, improve, schedules, seed, list, start_h);
        outcome_add(&outcome, &projects[k], p, length_h, start_h);
        rcpsp_free(p);
    }
    return outcome;
}

/* The bands are those of the sheet's own runs. */
static void
sampling_is_as_published(void **state)
{
    (void) state;
    for (uint64_t seed = 1; seed <= 3; seed++) {
        Outcome plain = sample_all(RCPSP_SAMPLE_SERIAL, false, 1000, seed);
        assert_true(fabs(plain.deviation - 0.75) <= 0.20);
    }
    Outcome improved = sample_all(RCPSP_SAMPLE_BOTH, true, 5000, 1);
    print_message("both, improved: %.4f %%, %d optimal\n", improved.deviation, improved.optimal);
    assert_true(fabs(improved.deviation - 0.24) <= 0.10);
    assert_true(improved.optimal >= 82 && improved.optimal <= 90);
}

static void
same_seed_same_schedule(void **state)
{
    (void) state;
    double a_h[PSPLIB_TASKS], b_h[PSPLIB_TASKS];
    size_t a[PSPLIB_TASKS], b[PSPLIB_TASKS];
    const PsplibProject *hard = &projects[24]; /* j3013_1 */
    assert_string_equal(hard->name, "j3013_1.sm");
    for (uint64_t seed = 7; seed < 10; seed++) {
        Rcpsp *p = project_new(hard), *q = project_new(hard);
        rcpsp_search(p, 700, seed, a, a_h, NULL);
        rcpsp_search(q, 700, seed, b, b_h, NULL);
        assert_memory_equal(a, b, hard->n * sizeof a[0]);
        assert_memory_equal(a_h, b_h, hard->n * sizeof a_h[0]);
        rcpsp_free(p);
        rcpsp_free(q);
    }
}

/* --- a decoder of its own kind: one machine, tasks due at different times, the sum of the lateness counts --------------------------- */

enum { JOBS = 9 };
static const double job_h[JOBS] = {4, 2, 6, 3, 5, 1, 7, 2, 4};
static const double job_due_h[JOBS] = {30, 4, 12, 9, 34, 2, 25, 6, 18};

static double
late_in_order(void *context, const size_t list[], double start_h[], double finish_h[])
{
    double now_h = 0.0, late_h = 0.0;
    (*(size_t *) context)++;
    for (size_t k = 0; k < JOBS; k++) {
        start_h[list[k]] = now_h;
        finish_h[list[k]] = now_h += job_h[list[k]];
        late_h += fmax(0.0, now_h - job_due_h[list[k]]);
    }
    return late_h;
}

static double
never(void *context, const size_t list[], double start_h[], double finish_h[])
{
    (void) context;
    for (size_t k = 0; k < JOBS; k++)
        start_h[list[k]] = finish_h[list[k]] = k % 2 == 0 ? 0.0 : INFINITY;
    return INFINITY;
}

/* The big job finds no place unless it is first. */
static double
place_or_none(void *context, const size_t list[], double start_h[], double finish_h[])
{
    double late_h = late_in_order(context, list, start_h, finish_h);
    if (list[0] == 6)
        return late_h;
    start_h[6] = finish_h[6] = INFINITY;
    return INFINITY;
}

/* Every order, by swapping (Heap). */
static double
least_of_all(void)
{
    size_t list[JOBS], count[JOBS] = {0}, calls = 0;
    double start_h[JOBS], finish_h[JOBS];
    for (size_t i = 0; i < JOBS; i++)
        list[i] = i;
    double best = late_in_order(&calls, list, start_h, finish_h);
    for (size_t i = 1; i < JOBS;) {
        if (count[i] >= i) {
            count[i++] = 0;
            continue;
        }
        size_t other = i % 2 == 0 ? 0 : count[i], held = list[other];
        list[other] = list[i];
        list[i] = held;
        best = fmin(best, late_in_order(&calls, list, start_h, finish_h));
        count[i]++;
        i = 1;
    }
    return best;
}

static void
any_decoder_will_do(void **state)
{
    (void) state;
    TaskNetwork net = {.n = JOBS};
    size_t list[JOBS], calls = 0, first[JOBS] = {5, 1, 7, 3, 2, 8, 6, 0, 4}; /* by due dates */
    double start_h[JOBS], finish_h[JOBS], least = least_of_all();
    ListProblem problem = {.net = &net,
                           .decode = late_in_order,
                           .context = &calls,
                           .urgency = job_due_h,
                           .at_best = -INFINITY};
    ListEffort effort = {.schedules = 3000, .seed = 1};
    ListBest best = {.list = list, .start_h = start_h, .finish_h = finish_h};
    assert_true(list_search(&problem, &effort, &best));
    assert_true(best.value == least);
    assert_int_equal(best.schedules, 3000);
    assert_int_equal(calls, 3000); /* counted honestly */
    /* A first list that is as good as can be stays as it is. */
    size_t kept[JOBS];
    memcpy(kept, list, sizeof kept);
    problem.first = kept;
    problem.firsts = 1;
    effort.seed = 99;
    assert_true(list_search(&problem, &effort, &best));
    assert_memory_equal(best.list, kept, sizeof kept);
    /* With next to no effort it is not worse than a first list. */
    problem.first = first;
    effort.schedules = 1;
    assert_true(list_search(&problem, &effort, &best));
    assert_memory_equal(best.list, first, sizeof first);
    /* A bound that is met ends the search. */
    problem.at_best = best.value;
    effort.schedules = 3000;
    assert_true(list_search(&problem, &effort, &best));
    assert_int_equal(best.schedules, 1);
}

static void
what_cannot_be_searched(void **state)
{
    (void) state;
    const Tie loop[] = {{0, 1, TIE_FINISH_START, 0.0}, {1, 0, TIE_FINISH_START, 0.0}};
    const Tie tie[] = {{0, 1, TIE_FINISH_START, 0.0}};
    TaskNetwork net = {.n = JOBS, .ties = 2, .tie = loop};
    size_t list[JOBS], calls = 0, wrong[JOBS] = {1, 0, 2, 3, 4, 5, 6, 7, 8};
    double start_h[JOBS], finish_h[JOBS];
    ListProblem problem = {
        .net = &net, .decode = late_in_order, .context = &calls, .at_best = -INFINITY};
    const ListEffort effort = {.schedules = 100, .seed = 1};
    ListBest best = {.list = list, .start_h = start_h, .finish_h = finish_h};
    assert_false(list_search(&problem, &effort, &best));
    net = (TaskNetwork){.n = JOBS, .ties = 1, .tie = tie};
    problem.first = wrong;
    problem.firsts = 1;
    assert_false(list_search(&problem, &effort, &best));
    problem.firsts = 0;
    problem.decode = never;
    assert_false(list_search(&problem, &effort, &best));
    problem.decode = place_or_none;
    assert_true(list_search(&problem, &effort, &best));
    assert_int_equal(list[0], 6);
    problem.decode = late_in_order;
    assert_true(list_search(&problem, &effort, &best));
    assert_true(start_h[0] < start_h[1]); /* the tie is kept */
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(search_comes_near_the_optimum), cmocka_unit_test(sampling_is_as_published),
        cmocka_unit_test(same_seed_same_schedule),       cmocka_unit_test(any_decoder_will_do),
        cmocka_unit_test(what_cannot_be_searched),
    };
    psplib_read(PSPLIB, projects);
    return cmocka_run_group_tests(tests, NULL, NULL);
}
