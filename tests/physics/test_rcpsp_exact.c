/* Exact schedules: the proven optima of 96 open projects (docs/methods/work.md W2.5), and small ones by trying every list. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "physics/work/rcpsp_exact.h"
#include "physics/work/rcpsp_refute.h"
#include "psplib.h"

static PsplibProject projects[PSPLIB_PROJECTS];

static Rcpsp *
project_new(const RcpspGiven *given)
{
    RcpspOutcome outcome;
    Rcpsp *p = rcpsp_new(given, &outcome);
    assert_non_null(p);
    return p;
}

static void
optima_are_proven(void **state)
{
    (void) state;
    for (size_t k = 0; k < PSPLIB_PROJECTS; k++) {
        double start_h[PSPLIB_TASKS];
        size_t list[PSPLIB_TASKS];
        bool proven;
        RcpspGiven given = psplib_given(&projects[k]);
        Rcpsp *p = project_new(&given);
        double length_h = rcpsp_exact(p, 0, list, start_h, &proven);
        if (!proven || length_h != projects[k].column[1])
            fail_msg("%s: %g, %s, not %d", projects[k].name, length_h,
                     proven ? "proven" : "not proven", projects[k].column[1]);
        assert_true(rcpsp_holds(p, start_h));
        rcpsp_free(p);
    }
}

/* Windows for one tick less than the optimum: that there is no schedule is found from either end of time, without help of a good one. */
static void
one_tick_less_is_refuted(void **state)
{
    (void) state;
    for (size_t k = 0; k < PSPLIB_PROJECTS; k += 7)
        for (int side = 0; side < 2; side++)
            for (int more = -1; more <= 0; more++) {
                RcpspWindow window;
                RcpspLags lags;
                int start[WINDOW_TASKS];
                RcpspGiven given = psplib_given(&projects[k]);
                Rcpsp *p = project_new(&given);
                rcpsp_window(p, 1.0, projects[k].column[1] + more, side == 1, &lags, &window);
                bool possible = rcpsp_window_shave(&window);
                RcpspRefuter *r = possible ? rcpsp_refuter_new(&window) : NULL;
                RefuteOutcome outcome = r != NULL ? rcpsp_refute(r, 3000000, start) : REFUTE_NONE;
                assert_int_equal(outcome, more < 0 ? REFUTE_NONE : REFUTE_FOUND);
                rcpsp_refuter_free(r);
                rcpsp_free(p);
            }
}

/* --- every list ------------------------------------------------------------------------------------------------------------- */

enum { SMALL = 7 };

typedef struct {
    double duration_h[SMALL];
    unsigned need[SMALL][RCPSP_KINDS], capacity[RCPSP_KINDS];
    Tie tie[SMALL * SMALL];
    size_t ties;
} Small;

/* Tasks of quarters of an hour, two kinds of capacity, ties from lower to higher numbers, with waits or without. */
static void
small_draw(Dice *dice, bool lags, Small *s)
{
    *s = (Small){.capacity = {3, 2}};
    for (size_t i = 0; i < SMALL; i++) {
        s->duration_h[i] = 0.25 * (double) dice_below(dice, 13);
        s->need[i][0] = (unsigned) dice_below(dice, 4);
        s->need[i][1] = (unsigned) dice_below(dice, 3);
        for (size_t j = 0; j < i; j++)
            if (dice_share(dice) < 0.2)
                s->tie[s->ties++] =
                    (Tie){j, i, TIE_FINISH_START, lags ? 0.5 * (double) dice_below(dice, 9) : 0.0};
    }
}

static RcpspGiven
small_given(const Small *s)
{
    return (RcpspGiven){.net = {.n = SMALL, .ties = s->ties, .tie = s->tie},
                        .duration_h = s->duration_h,
                        .need = s->need,
                        .capacity = {s->capacity[0], s->capacity[1]}};
}

/* Some list gives an optimal serial schedule: all lists are tried. */
static double
least_of_lists(Rcpsp *p, size_t list[], size_t placed)
{
    double start_h[SMALL], best_h = INFINITY;
    if (placed == SMALL)
        return task_list_is_sound(rcpsp_lists(p), list) ? rcpsp_serial(p, list, start_h) : INFINITY;
    for (size_t k = placed; k < SMALL; k++) {
        size_t held = list[placed];
        list[placed] = list[k];
        list[k] = held;
        best_h = fmin(best_h, least_of_lists(p, list, placed + 1));
        list[k] = list[placed];
        list[placed] = held;
    }
    return best_h;
}

static void
small_projects_by_all_lists(void **state)
{
    (void) state;
    Dice dice = {20261126};
    for (int k = 0; k < 300; k++) {
        Small s;
        double start_h[SMALL];
        size_t list[SMALL] = {0, 1, 2, 3, 4, 5, 6}, order[SMALL];
        bool proven;
        small_draw(&dice, k >= 150, &s);
        RcpspGiven given = small_given(&s);
        Rcpsp *p = project_new(&given);
        double least_h = least_of_lists(p, list, 0);
        double found_h = rcpsp_exact(p, 0, order, start_h, &proven);
        assert_true(proven);
        assert_true(fabs(found_h - least_h) < 1e-9);
        assert_true(rcpsp_holds(p, start_h));
        /* and the search itself, without the help of a good schedule: the least deadline that is not refuted */
        int ticks = (int) lround(least_h / 0.25);
        for (int more = -1; more <= 0; more++) {
            RcpspWindow window;
            RcpspLags lags;
            int start[WINDOW_TASKS];
            rcpsp_window(p, 0.25, ticks + more, k % 2 == 1, &lags, &window);
            RcpspRefuter *r = rcpsp_window_narrow(&window) ? rcpsp_refuter_new(&window) : NULL;
            assert_int_equal(r != NULL ? rcpsp_refute(r, 1000000, start) : REFUTE_NONE,
                             more < 0 ? REFUTE_NONE : REFUTE_FOUND);
            rcpsp_refuter_free(r);
        }
        rcpsp_free(p);
    }
}

static void
what_cannot_be_proven_says_so(void **state)
{
    (void) state;
    double start_h[PSPLIB_TASKS];
    size_t list[PSPLIB_TASKS];
    bool proven;
    RcpspGiven given = psplib_given(&projects[24]); /* j3013_1 */
    Rcpsp *p = project_new(&given);
    double length_h = rcpsp_exact(p, 1, list, start_h, &proven); /* hardly any effort */
    assert_false(proven);
    assert_true(length_h >= projects[24].column[1]);
    assert_true(rcpsp_holds(p, start_h));
    rcpsp_free(p);
    double odd_h[PSPLIB_TASKS]; /* no common tick */
    for (size_t i = 0; i < projects[24].n; i++)
        odd_h[i] = given.duration_h[i] * (1.0 + 0.1 * sqrt((double) i + 0.5));
    given.duration_h = odd_h;
    p = project_new(&given);
    length_h = rcpsp_exact(p, 0, list, start_h, &proven);
    assert_false(proven);
    assert_true(isfinite(length_h) && rcpsp_holds(p, start_h));
    rcpsp_free(p);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(optima_are_proven),
        cmocka_unit_test(one_tick_less_is_refuted),
        cmocka_unit_test(small_projects_by_all_lists),
        cmocka_unit_test(what_cannot_be_proven_says_so),
    };
    psplib_read(PSPLIB, projects);
    return cmocka_run_group_tests(tests, NULL, NULL);
}
