/* Schedule generation, rules and improvement: project K by hand (docs/methods/work.md 9, W2.1 to W2.4) and the single passes of 96
 * open projects, exactly (W2.5 to W2.7, W2.10). */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "physics/work/rcpsp_rule.h"
#include "physics/work/rcpsp_search.h"
#include "psplib.h"

enum { A, B, C, D, E, F, G, H, K_TASKS };
static const double k_h[K_TASKS] = {1, 5, 3, 2, 5, 3, 1, 1};
static const unsigned k_need[K_TASKS][RCPSP_KINDS] = {{1}, {4}, {4}, {2}, {2}, {4}, {1}, {2}};
static const Tie k_tie[] = {
    {C, E, TIE_FINISH_START, 0.0}, {A, H, TIE_FINISH_START, 0.0}, {D, H, TIE_FINISH_START, 0.0}};

static RcpspGiven
project_k(void)
{
    return (RcpspGiven){.net = {.n = K_TASKS, .ties = 3, .tie = k_tie},
                        .duration_h = k_h,
                        .need = k_need,
                        .capacity = {4}};
}

static Rcpsp *
project_new(const RcpspGiven *given)
{
    RcpspOutcome outcome;
    Rcpsp *p = rcpsp_new(given, &outcome);
    assert_int_equal(outcome, RCPSP_SOUND);
    assert_non_null(p);
    return p;
}

static void
starts_are(const double start_h[], const double expected_h[])
{
    for (size_t i = 0; i < K_TASKS; i++)
        assert_true(start_h[i] == expected_h[i]);
}

static void
small_project_by_hand(void **state)
{
    (void) state;
    const double lft_h[K_TASKS] = {7, 8, 3, 7, 8, 8, 8, 8};
    const size_t order[K_TASKS] = {C, A, D, B, E, F, G, H};
    RcpspGiven given = project_k();
    Rcpsp *p = project_new(&given);
    double key[K_TASKS], start_h[K_TASKS], right_h[K_TASKS];
    size_t list[K_TASKS];
    assert_true(rcpsp_critical_path(p) == 8.0);
    assert_true(rcpsp_work_bound(p) == 15.5);
    assert_true(rcpsp_bound(p) == 16.0);
    rcpsp_rule(p, RCPSP_LFT, key);
    starts_are(key, lft_h);
    task_list_by_key(rcpsp_lists(p), key, false, list);
    assert_memory_equal(list, order, sizeof order);
    assert_true(rcpsp_serial(p, list, start_h) == 18.0);
    starts_are(start_h, (const double[]){3, 5, 0, 3, 10, 15, 3, 10});
    assert_true(rcpsp_improve(p, start_h, list, right_h, NULL) == 16.0);
    starts_are(right_h, (const double[]){9, 3, 0, 10, 8, 13, 9, 12});
    assert_true(rcpsp_holds(p, start_h));
    assert_true(rcpsp_parallel(p, key, NULL, list, start_h) == 17.0);
    starts_are(start_h, (const double[]){3, 9, 0, 3, 4, 14, 3, 5});
    rcpsp_free(p);
}

static void
lags_are_waited_for(void **state)
{
    (void) state;
    /* two coats a day apart, one pair of hands, another job between them: 1 + 1 lag, the job fits into it */
    const double d_h[] = {2.0, 2.0, 3.0};
    const unsigned need[3][RCPSP_KINDS] = {{1}, {1}, {1}};
    const Tie tie[] = {{0, 1, TIE_FINISH_START, 4.0}};
    const RcpspGiven given = {
        .net = {.n = 3, .ties = 1, .tie = tie}, .duration_h = d_h, .need = need, .capacity = {1}};
    Rcpsp *p = project_new(&given);
    double start_h[3], key[3] = {0.0, 1.0, 2.0};
    size_t list[3] = {0, 1, 2};
    assert_true(rcpsp_serial(p, list, start_h) == 8.0);
    assert_true(start_h[1] == 6.0 && start_h[2] == 2.0);
    assert_true(rcpsp_parallel(p, key, NULL, list, start_h) == 8.0);
    assert_true(rcpsp_holds(p, start_h));
    size_t from_end[3] = {1, 0, 2};
    assert_true(rcpsp_serial_back(p, from_end, 8.0, start_h) == 0.0);
    assert_true(start_h[0] == 0.0 && start_h[1] == 6.0 && start_h[2] == 3.0);
    start_h[2] = 5.0;
    assert_false(rcpsp_holds(p, start_h)); /* runs into the second coat */
    rcpsp_free(p);
}

static void
what_is_refused(void **state)
{
    (void) state;
    RcpspOutcome outcome;
    RcpspGiven given = project_k();
    const Tie loop[] = {{A, B, TIE_FINISH_START, 0.0}, {B, A, TIE_FINISH_START, 0.0}};
    given.capacity[0] = 3;
    assert_null(rcpsp_new(&given, &outcome));
    assert_int_equal(outcome, RCPSP_ABOVE);
    given.capacity[0] = RCPSP_MOST + 1;
    assert_null(rcpsp_new(&given, &outcome));
    assert_int_equal(outcome, RCPSP_BAD);
    given.capacity[0] = 4;
    given.net.ties = 2;
    given.net.tie = loop;
    assert_null(rcpsp_new(&given, &outcome));
    assert_int_equal(outcome, RCPSP_LOOP);
    const Tie early[] = {{A, B, TIE_FINISH_START, -1.0}};
    given.net.ties = 1;
    given.net.tie = early;
    assert_null(rcpsp_new(&given, &outcome));
    assert_int_equal(outcome, RCPSP_BAD);
    const double never_h[K_TASKS] = {NAN};
    given = project_k();
    given.duration_h = never_h;
    assert_null(rcpsp_new(&given, &outcome));
    assert_int_equal(outcome, RCPSP_BAD);
}

static PsplibProject projects[PSPLIB_PROJECTS];

/* Makespan of a pass, and what improvement makes of it, both checked to be schedules. */
static double
pass(Rcpsp *p, RcpspRule rule, bool parallel, double *improved_h)
{
    double key[PSPLIB_TASKS], start_h[PSPLIB_TASKS];
    size_t list[PSPLIB_TASKS];
    rcpsp_rule(p, rule, key);
    task_list_by_key(rcpsp_lists(p), key, false, list);
    double length_h =
        parallel ? rcpsp_parallel(p, key, NULL, list, start_h) : rcpsp_serial(p, list, start_h);
    assert_true(rcpsp_holds(p, start_h));
    assert_true(task_list_is_sound(rcpsp_lists(p), list));
    *improved_h = rcpsp_improve(p, start_h, list, NULL, NULL);
    assert_true(rcpsp_holds(p, start_h));
    return length_h;
}

static void
single_passes_are_exact(void **state)
{
    (void) state;
    /* docs/methods/work.md 2.8, last paragraph */
    static const double mean[] = {5.0543, 4.4231, 4.3167, 4.6672,  6.0859, 4.7977, 10.7123,
                                  8.0889, 5.0068, 4.5538, 17.3482, 9.2484, 3.5507, 2.1883};
    double sum[14] = {0};
    for (size_t k = 0; k < PSPLIB_PROJECTS; k++) {
        const PsplibProject *project = &projects[k];
        const int *column = project->column;
        RcpspGiven given = psplib_given(project);
        Rcpsp *p = project_new(&given);
        assert_true(rcpsp_critical_path(p) == column[0]);
        for (int c = 0; c < 12; c++) {
            double improved_h, length_h = pass(p, (RcpspRule) (c / 2), c % 2 == 1, &improved_h);
            if (length_h != column[2 + c])
                fail_msg("%s: column %d: %g, not %d", project->name, c, length_h, column[2 + c]);
            if (c < 2 && improved_h != column[14 + c])
                fail_msg("%s: improved %d: %g, not %d", project->name, c, improved_h,
                         column[14 + c]);
            assert_true(improved_h <= length_h && improved_h >= column[1]);
            assert_true(column[1] >= column[0]);
            sum[c] += 100.0 * (length_h - column[1]) / column[1];
            if (c < 2)
                sum[12 + c] += 100.0 * (improved_h - column[1]) / column[1];
        }
        rcpsp_free(p);
    }
    for (int c = 0; c < 14; c++)
        assert_true(fabs(sum[c] / PSPLIB_PROJECTS - mean[c]) < 1e-4);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(small_project_by_hand),
        cmocka_unit_test(lags_are_waited_for),
        cmocka_unit_test(what_is_refused),
        cmocka_unit_test(single_passes_are_exact),
    };
    psplib_read(PSPLIB, projects);
    return cmocka_run_group_tests(tests, NULL, NULL);
}
