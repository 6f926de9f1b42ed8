/* Order, loops and passes of networks, against plain methods on small networks drawn by chance. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <stdlib.h>

#include "physics/dice.h"
#include "physics/work/critical_path.h"
#include "physics/work/task_list.h"

enum { N = 7, MOST_TIES = 14 };

typedef struct {
    Tie tie[MOST_TIES];
    double duration_h[N], release_h[N];
    TaskNetwork net;
} Drawn;

static void
draw(Dice *dice, bool forward, Drawn *d)
{
    size_t ties = dice_below(dice, MOST_TIES + 1);
    for (size_t k = 0; k < ties; k++) {
        size_t a = dice_below(dice, N), b = dice_below(dice, N);
        if (forward && a == b)
            b = (a + 1) % N;
        if (forward && a > b) {
            size_t held = a;
            a = b;
            b = held;
        }
        d->tie[k] = (Tie){a, b, (TieKind) dice_below(dice, TIE_APART + 1),
                          (double) dice_below(dice, 6) - 1.0};
    }
    for (size_t i = 0; i < N; i++) {
        d->duration_h[i] = (double) dice_below(dice, 6);
        d->release_h[i] = dice_share(dice) < 0.3 ? (double) dice_below(dice, 5) : 0.0;
    }
    d->net = (TaskNetwork){N, ties, d->tie, d->release_h};
}

/* Fewest ties from a back to a, by powers of the adjacency. */
static size_t
shortest_loop(const TaskNetwork *net)
{
    bool one[N][N] = {{false}}, reach[N][N] = {{false}};
    for (size_t k = 0; k < net->ties; k++)
        if (tie_orders(&net->tie[k]))
            one[net->tie[k].from][net->tie[k].to] = reach[net->tie[k].from][net->tie[k].to] = true;
    for (size_t length = 1; length <= N; length++) {
        bool next[N][N] = {{false}};
        for (size_t i = 0; i < N; i++)
            if (reach[i][i])
                return length;
        for (size_t i = 0; i < N; i++)
            for (size_t j = 0; j < N; j++)
                for (size_t k = 0; k < N; k++)
                    next[i][k] = next[i][k] || (reach[i][j] && one[j][k]);
        for (size_t i = 0; i < N; i++)
            for (size_t k = 0; k < N; k++)
                reach[i][k] = next[i][k];
    }
    return 0;
}

static void
loop_is_one(const TaskNetwork *net, size_t length, const size_t task[], const size_t tie[])
{
    for (size_t k = 0; k < length; k++) {
        const Tie *t = &net->tie[tie[k]];
        assert_true(tie_orders(t));
        assert_int_equal(t->from, task[k]);
        assert_int_equal(t->to, task[(k + 1) % length]);
        assert_true(task[0] <= task[k]);
    }
}

static void
orders_and_loops(void **state)
{
    (void) state;
    Dice dice = {1};
    int loops = 0, orders = 0;
    for (int k = 0; k < 5000; k++) {
        Drawn d;
        size_t order[N], place[N], task[N], tie[N];
        draw(&dice, false, &d);
        size_t length = shortest_loop(&d.net);
        assert_int_equal(task_loop(&d.net, task, tie), length);
        assert_int_equal(task_order(&d.net, order), length == 0);
        loop_is_one(&d.net, length, task, tie);
        TaskLists *lists = task_lists_new(&d.net);
        assert_int_equal(lists != NULL, length == 0);
        if (length > 0) {
            loops++;
            continue;
        }
        orders++;
        assert_true(task_list_is_sound(lists, order));
        for (size_t i = 0; i < N; i++)
            place[order[i]] = i;
        for (size_t i = 0; i < d.net.ties; i++)
            assert_true(!tie_orders(&d.tie[i]) || place[d.tie[i].from] < place[d.tie[i].to]);
        task_lists_free(lists);
    }
    assert_true(loops > 500 && orders > 500);
}

/* S_to - S_from >= w as a full matrix, longest ways by Floyd and Warshall. */
static bool
longest_ways(const Drawn *d, double way[N][N])
{
    for (size_t i = 0; i < N; i++)
        for (size_t j = 0; j < N; j++)
            way[i][j] = i == j ? 0.0 : -INFINITY;
    for (size_t k = 0; k < d->net.ties; k++) {
        const Tie *t = &d->tie[k];
        double from = d->duration_h[t->from], to = d->duration_h[t->to], w = 0.0;
        size_t a = t->from, b = t->to;
        switch (t->kind) {
        case TIE_FINISH_START:
            w = from + t->lag_h;
            break;
        case TIE_START_START:
            w = t->lag_h;
            break;
        case TIE_FINISH_FINISH:
            w = from + t->lag_h - to;
            break;
        case TIE_START_FINISH:
            w = t->lag_h - to;
            break;
        case TIE_NO_LATER:
            w = -(from + t->lag_h);
            a = t->to;
            b = t->from;
            break;
        case TIE_APART:
            continue;
        }
        way[a][b] = fmax(way[a][b], w);
    }
    for (size_t k = 0; k < N; k++)
        for (size_t i = 0; i < N; i++)
            for (size_t j = 0; j < N; j++)
                way[i][j] = fmax(way[i][j], way[i][k] + way[k][j]);
    for (size_t i = 0; i < N; i++)
        if (way[i][i] > 0.0)
            return false;
    return true;
}

/* What the task may slip without moving any that follows, greatest lags left out, in the words of each kind of tie. */
static double
free_float(const Drawn *d, const TaskDates dates[], size_t task, double last_h)
{
    double least = last_h - dates[task].early_finish_h;
    for (size_t k = 0; k < d->net.ties; k++) {
        const Tie *t = &d->tie[k];
        const TaskDates *a = &dates[t->from], *b = &dates[t->to];
        if (t->from != task)
            continue;
        if (t->kind == TIE_FINISH_START)
            least = fmin(least, b->early_start_h - a->early_finish_h - t->lag_h);
        if (t->kind == TIE_START_START)
            least = fmin(least, b->early_start_h - a->early_start_h - t->lag_h);
        if (t->kind == TIE_FINISH_FINISH)
            least = fmin(least, b->early_finish_h - a->early_finish_h - t->lag_h);
        if (t->kind == TIE_START_FINISH)
            least = fmin(least, b->early_finish_h - a->early_start_h - t->lag_h);
    }
    return least;
}

static void
dates_agree(const Drawn *d, double way[N][N], const TaskDates dates[], double length_h)
{
    double early_h[N], last_h = 0.0, least = INFINITY;
    for (size_t j = 0; j < N; j++) {
        early_h[j] = 0.0;
        for (size_t i = 0; i < N; i++)
            early_h[j] = fmax(early_h[j], d->release_h[i] + way[i][j]);
        last_h = fmax(last_h, early_h[j] + d->duration_h[j]);
    }
    assert_true(fabs(length_h - last_h) < 1e-9);
    for (size_t i = 0; i < N; i++) {
        double late_h = INFINITY;
        for (size_t j = 0; j < N; j++)
            late_h = fmin(late_h, last_h - d->duration_h[j] - way[i][j]);
        assert_true(fabs(dates[i].early_start_h - early_h[i]) < 1e-9);
        assert_true(fabs(dates[i].late_start_h - late_h) < 1e-9);
        assert_true(fabs(dates[i].free_float_h - free_float(d, dates, i, last_h)) < 1e-9);
        least = fmin(least, late_h - early_h[i]);
    }
    for (size_t i = 0; i < N; i++)
        assert_int_equal(dates[i].critical, dates[i].total_float_h <= least + 1e-9);
}

static void
passes_agree_with_longest_ways(void **state)
{
    (void) state;
    Dice dice = {2};
    int tight = 0, done = 0;
    for (int k = 0; k < 5000; k++) {
        Drawn d;
        double way[N][N], length_h;
        TaskDates dates[N];
        draw(&dice, true, &d);
        bool possible = longest_ways(&d, way);
        PassesOutcome outcome = critical_path(&d.net, d.duration_h, NAN, dates, &length_h);
        assert_int_equal(outcome, possible ? PASSES_DONE : PASSES_TIGHT);
        assert_true(possible || isnan(length_h));
        if (possible)
            dates_agree(&d, way, dates, length_h);
        done += possible;
        tight += !possible;
    }
    assert_true(tight > 200 && done > 1000);
}

static void
nonsense_is_bad(void **state)
{
    (void) state;
    double d_h[2] = {1.0, -1.0}, length_h;
    TaskDates dates[2];
    Tie tie = {0, 1, TIE_FINISH_START, 0.0};
    TaskNetwork net = {.n = 2, .ties = 1, .tie = &tie};
    assert_int_equal(critical_path(&net, d_h, NAN, dates, &length_h), PASSES_BAD);
    d_h[1] = NAN;
    assert_int_equal(critical_path(&net, d_h, NAN, dates, &length_h), PASSES_BAD);
    d_h[1] = 1.0;
    tie.lag_h = NAN;
    assert_int_equal(critical_path(&net, d_h, NAN, dates, &length_h), PASSES_BAD);
    tie = (Tie){0, 2, TIE_FINISH_START, 0.0};
    assert_int_equal(critical_path(&net, d_h, NAN, dates, &length_h), PASSES_BAD);
}

/* 20,000 tasks, each tied to three before it: the time of a pass must not grow with the square. */
static void
large_networks_are_quick(void **state)
{
    (void) state;
    enum { MANY = 20000 };
    Tie *tie = calloc(MANY, 3 * sizeof *tie);
    double *duration_h = calloc(MANY, sizeof *duration_h), length_h;
    TaskDates *dates = calloc(MANY, sizeof *dates);
    size_t *task = calloc(MANY, sizeof *task), *by = calloc(MANY, sizeof *by), ties = 0;
    Dice dice = {3};
    for (size_t i = 0; i < MANY; i++) {
        duration_h[i] = 1.0;
        for (size_t k = 0; i > 0 && k < 3; k++)
            tie[ties++] = (Tie){k == 0 ? i - 1 : dice_below(&dice, i), i, TIE_FINISH_START, 0.0};
    }
    TaskNetwork net = {.n = MANY, .ties = ties, .tie = tie};
    assert_int_equal(critical_path(&net, duration_h, NAN, dates, &length_h), PASSES_DONE);
    assert_true(length_h == MANY);
    tie[0] = (Tie){MANY - 1, 0, TIE_FINISH_START, 0.0};
    assert_int_equal(critical_path(&net, duration_h, NAN, dates, &length_h), PASSES_LOOP);
    assert_true(task_loop(&net, task, by) > 1);
    free(tie);
    free(duration_h);
    free(dates);
    free(task);
    free(by);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(orders_and_loops),
        cmocka_unit_test(passes_agree_with_longest_ways),
        cmocka_unit_test(nonsense_is_bad),
        cmocka_unit_test(large_networks_are_quick),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
