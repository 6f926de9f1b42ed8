/* Schedules with ties of every kind, dates and windows, against every vector of starts on a grid of hours. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <string.h>

#include "physics/work/critical_path.h"
#include "physics/work/timed_schedule.h"

enum { N = 4, HORIZON = 20 };

typedef struct {
    double duration_h[N], release_h[N], due_h[N];
    unsigned need[N][RCPSP_KINDS];
    Tie tie[N * N];
    TimedWindow window[2 * N];
    TimedGiven given;
} Case;

static void
case_draw(Dice *dice, Case *c)
{
    memset(c, 0, sizeof *c);
    size_t ties = 0, windows = 0;
    for (size_t i = 0; i < N; i++) {
        c->duration_h[i] = (double) dice_below(dice, 4);
        c->release_h[i] = dice_share(dice) < 0.3 ? (double) dice_below(dice, 4) : 0.0;
        c->due_h[i] = dice_share(dice) < 0.3 ? 4.0 + (double) dice_below(dice, 6) : INFINITY;
        c->need[i][0] = (unsigned) dice_below(dice, 3);
        for (size_t j = 0; j < i; j++)
            if (dice_share(dice) < 0.5)
                c->tie[ties++] = (Tie){j, i, (TieKind) dice_below(dice, TIE_APART + 1),
                                       (double) dice_below(dice, 5) - 1.0};
        if (dice_share(dice) < 0.25)
            for (int k = 0; k < 2; k++) {
                double opens_h = (double) dice_below(dice, 8);
                c->window[windows++] =
                    (TimedWindow){i, opens_h, opens_h + 1.0 + (double) dice_below(dice, 4)};
            }
    }
    c->given = (TimedGiven){.net = {N, ties, c->tie, c->release_h},
                            .duration_h = c->duration_h,
                            .due_h = c->due_h,
                            .need = (const unsigned(*)[RCPSP_KINDS]) c->need,
                            .capacity = {2},
                            .windows = windows,
                            .window = c->window};
}

static bool
tie_holds(const Case *c, const Tie *tie, const double s[])
{
    double f_from = s[tie->from] + c->duration_h[tie->from];
    double f_to = s[tie->to] + c->duration_h[tie->to];
    switch (tie->kind) {
    case TIE_FINISH_START:
        return s[tie->to] >= f_from + tie->lag_h;
    case TIE_START_START:
        return s[tie->to] >= s[tie->from] + tie->lag_h;
    case TIE_FINISH_FINISH:
        return f_to >= f_from + tie->lag_h;
    case TIE_START_FINISH:
        return f_to >= s[tie->from] + tie->lag_h;
    case TIE_NO_LATER:
        return s[tie->to] <= f_from + tie->lag_h;
    case TIE_APART:
        return s[tie->to] >= f_from + tie->lag_h || f_to <= s[tie->from];
    }
    return false;
}

static bool
dates_hold(const Case *c, const double s[])
{
    for (size_t i = 0; i < N; i++) {
        bool inside = false, any = false;
        double finish_h = s[i] + c->duration_h[i];
        for (size_t k = 0; k < c->given.windows; k++)
            if (c->window[k].task == i) {
                any = true;
                inside =
                    inside || (s[i] >= c->window[k].opens_h && finish_h <= c->window[k].closes_h);
            }
        if (s[i] < c->release_h[i] || finish_h > c->due_h[i] || (any && !inside))
            return false;
    }
    return true;
}

static bool
holds(const Case *c, const double s[])
{
    for (size_t k = 0; k < c->given.net.ties; k++)
        if (!tie_holds(c, &c->tie[k], s))
            return false;
    if (!dates_hold(c, s))
        return false;
    for (int now = 0; now < 2 * HORIZON; now++) {
        unsigned used = 0;
        for (size_t i = 0; i < N; i++)
            used += s[i] <= now && now < s[i] + c->duration_h[i] ? c->need[i][0] : 0;
        if (used > c->given.capacity[0])
            return false;
    }
    return true;
}

static double
least(const Case *c)
{
    double best_h = INFINITY, s[N];
    for (int code = 0; code < HORIZON * HORIZON * HORIZON * HORIZON; code++) {
        double end_h = 0.0;
        for (int i = 0, rest = code; i < N; i++, rest /= HORIZON) {
            s[i] = rest % HORIZON;
            end_h = fmax(end_h, s[i] + c->duration_h[i]);
        }
        if (end_h < best_h && holds(c, s))
            best_h = end_h;
    }
    return best_h;
}

static void
small_projects_by_all_starts(void **state)
{
    (void) state;
    Dice dice = {7};
    int possible = 0, impossible = 0;
    for (int k = 0; k < 250; k++) {
        Case c;
        TaskDates dates[N];
        double start_h[N], length_h;
        bool proven;
        case_draw(&dice, &c);
        double best_h = least(&c);
        if (critical_path(&c.given.net, c.duration_h, NAN, dates, &length_h) != PASSES_DONE) {
            assert_true(isinf(best_h));
            continue;
        }
        double found_h = timed_schedule(&c.given, 0, INFINITY, start_h, &proven);
        assert_true(proven);
        if (isinf(best_h) ? isfinite(found_h) : fabs(found_h - best_h) > 1e-9)
            fail_msg("case %d: %g found, %g is the least", k, found_h, best_h);
        possible += isfinite(found_h);
        impossible += isinf(found_h);
        assert_true(isinf(found_h) || holds(&c, start_h));
        assert_true(isinf(found_h) || found_h >= length_h);
    }
    assert_true(possible > 80 && impossible > 40);
}

static void
a_known_schedule_is_not_lost(void **state)
{
    (void) state;
    const double d_h[2] = {2.0, 3.0};
    const unsigned need[2][RCPSP_KINDS] = {{1}, {1}};
    const TimedGiven given = {.net = {.n = 2}, .duration_h = d_h, .need = need, .capacity = {1}};
    double start_h[2] = {0.0, 2.0};
    bool proven;
    assert_true(timed_schedule(&given, 0, 5.0, start_h, &proven) == 5.0);
    assert_true(proven);
    assert_true(start_h[0] == 0.0 && start_h[1] == 2.0);
    assert_true(timed_schedule(&given, 0, 9.0, start_h, &proven) == 5.0);
    assert_true(timed_schedule(&given, 1, INFINITY, start_h, &proven) == INFINITY);
    assert_false(proven); /* one node: cut short */
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(small_projects_by_all_starts),
        cmocka_unit_test(a_known_schedule_is_not_lost),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
