/* A root held between two ends: found whatever the shape of the function, never lost, in few steps. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <stdlib.h>

#include "hulls.h"

#include "physics/bracket.h"

typedef struct {
    const char *id;
    double (*f)(double x);
    double a, b, root; /* root known by hand */
} Case;

static double
line(double x)
{
    return 3.0 * x - 1.5;
}

static double
falling(double x)
{
    return 2.0 - x * x;
}

/* Flat near its root: false position alone keeps one end for ever. */
static double
ninth(double x)
{
    double u = x - 0.25;
    return u * u * u * u * u * u * u * u * u;
}

static double
corner(double x)
{
    return x < 0.7 ? 0.001 * (x - 0.7) : 1000.0 * (x - 0.7);
}

static double
steep(double x)
{
    return exp(40.0 * x) - exp(8.0);
}

static double
jump(double x)
{
    return x < 0.3 ? -1.0 : 2.0;
}

static const Case cases[] = {
    {"line", line, 0.0, 1.0, 0.5},          {"falling", falling, 0.0, 2.0, M_SQRT2},
    {"ninth power", ninth, 0.0, 1.0, 0.25}, {"corner", corner, 0.0, 1.0, 0.7},
    {"steep", steep, 0.0, 1.0, 0.2},        {"jump", jump, 0.0, 1.0, 0.3},
};

/* Until the interval is shorter than 1e-9 or the function is 0; gives the steps it took. */
static int
close_in(const Case *c, double *root)
{
    Bracket k = {c->a, c->b, c->f(c->a), c->f(c->b), 0};
    double best = fabs(k.f_a) < fabs(k.f_b) ? k.a : k.b, least = fmin(fabs(k.f_a), fabs(k.f_b));
    for (int i = 1; i <= 500; i++) {
        double length = k.b - k.a, x = bracket_next(&k), f = c->f(x);
        assert_true(x > k.a && x < k.b);
        if (fabs(f) <= least) {
            least = fabs(f);
            best = x;
        }
        *root = best;
        if (f == 0.0)
            return i;
        bracket_narrow(&k, x, f);
        assert_true(k.b - k.a < length);
        assert_true(k.a < k.b);
        /* The weights that were halved keep their signs, and the root stays inside. */
        assert_true((k.f_a > 0.0) != (k.f_b > 0.0));
        assert_true(c->root >= k.a - 1e-15 && c->root <= k.b + 1e-15);
        if (k.b - k.a < 1e-9)
            return i;
    }
    return 500;
}

static void
root_is_found(void **state)
{
    (void) state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        double root = NAN;
        int steps = close_in(&cases[i], &root);
        assert_true(steps < 200);
        /* x^9 is 1e-81 at 1e-9 from its root, and still not 0. */
        assert_close(root, cases[i].root, 2e-9);
    }
}

/* The quickest of all: a straight line needs one step, a smooth function few. */
static void
smooth_functions_need_few_steps(void **state)
{
    (void) state;
    double root;
    assert_int_equal(close_in(&cases[0], &root), 1);
    Bracket k = {0.0, 2.0, falling(0.0), falling(2.0), 0};
    int steps = 0;
    double x, f;
    do {
        x = bracket_next(&k);
        f = falling(x);
        bracket_narrow(&k, x, f);
        steps++;
    } while (fabs(f) > 1e-12);
    assert_true(steps <= 10); /* halving needs 41 */
    assert_close(x, M_SQRT2, 1e-12);
}

/* One end is the root already, and ends that are given the wrong way round in sign are taken as they are. */
static void
root_at_an_end(void **state)
{
    (void) state;
    Bracket k = {0.5, 1.0, line(0.5), line(1.0), 0};
    for (int i = 0; i < 40; i++) {
        double x = bracket_next(&k);
        assert_true(x > k.a && x < k.b);
        bracket_narrow(&k, x, line(x));
    }
    assert_close(k.a, 0.5, 1e-15);
    assert_close(k.b, 0.5, 1e-9);
}

/* Halving saves it where false position creeps: an end that was kept BRACKET_PATIENCE times halves the interval. */
static void
nothing_creeps(void **state)
{
    (void) state;
    Bracket k = {0.0, 1.0, ninth(0.0), ninth(1.0), 0};
    double at = 1.0;
    for (int i = 0; i < 100; i++) {
        if (i > 0 && i % (2 * BRACKET_PATIENCE + 2) == 0) {
            assert_true(k.b - k.a <= 0.5 * at);
            at = k.b - k.a;
        }
        double x = bracket_next(&k), f = ninth(x);
        if (f == 0.0)
            return;
        bracket_narrow(&k, x, f);
    }
    assert_true(k.b - k.a < 1e-2);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(root_is_found),
        cmocka_unit_test(smooth_functions_need_few_steps),
        cmocka_unit_test(root_at_an_end),
        cmocka_unit_test(nothing_creeps),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
