/* Sparse systems against dense elimination by LAPACK, and the ways in which KLU does not say that a matrix is singular. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "physics/sparse.h"

extern void dgesv_(const int *n, const int *nrhs, double *a, const int *lda, int *ipiv, double *b,
                   const int *ldb, int *info);

enum { MOST = 60 };

static double
draw(uint64_t *seed)
{
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    return (double) (*seed >> 11) / 9007199254740992.0;
}

typedef struct {
    size_t n, entries, row[MOST * 8], column[MOST * 8];
    double value[MOST * 8], dense[MOST * MOST];
} System;

/* Every column has a diagonal; some places stand twice and must add. */
static void
system_draw(System *s, uint64_t *seed)
{
    s->n = 2 + (size_t) (draw(seed) * (MOST - 2));
    s->entries = 0;
    for (size_t k = 0; k < s->n; k++)
        s->row[s->entries] = s->column[s->entries] = k, s->entries++;
    for (size_t e = 0; e < 5 * s->n; e++, s->entries++) {
        s->row[s->entries] = (size_t) (draw(seed) * (double) s->n);
        s->column[s->entries] = (size_t) (draw(seed) * (double) s->n);
    }
}

static void
values_draw(System *s, double diagonal, uint64_t *seed)
{
    memset(s->dense, 0, sizeof s->dense);
    for (size_t e = 0; e < s->entries; e++) {
        s->value[e] =
            (draw(seed) - 0.5) * pow(10.0, 4.0 * draw(seed) - 2.0) + (e < s->n ? diagonal : 0.0);
        s->dense[s->column[e] * s->n + s->row[e]] += s->value[e];
    }
}

static bool
dense_solve(System *s, double x[])
{
    int n = (int) s->n, one = 1, pivot[MOST], info;
    dgesv_(&n, &one, s->dense, &n, pivot, x, &n, &info);
    return info == 0;
}

/* What is left of b, over what A and x could leave by rounding alone. */
static double
misfit(const System *s, const double x[], const double b[])
{
    double most = 0.0;
    for (size_t r = 0; r < s->n; r++) {
        double left = b[r], size = fabs(b[r]);
        for (size_t e = 0; e < s->entries; e++)
            if (s->row[e] == r) {
                left -= s->value[e] * x[s->column[e]];
                size += fabs(s->value[e] * x[s->column[e]]);
            }
        most = fmax(most, fabs(left) / size);
    }
    return most;
}

/* With a heavy diagonal the unknowns are compared; without one they hang on the last digit of the matrix, and the equations are. */
static void
agrees_with_dense(void **state)
{
    (void) state;
    static System s;
    uint64_t seed = 7;
    for (int round = 0; round < 60; round++) {
        system_draw(&s, &seed);
        Sparse *m = sparse_new(s.n, s.entries, s.row, s.column);
        for (int again = 0; again < 6; again++) { /* other values, the pattern stays */
            double x[MOST], y[MOST], b[MOST], diagonal = round % 2 == 0 ? 400.0 : 0.0;
            values_draw(&s, diagonal, &seed);
            for (size_t k = 0; k < s.n; k++)
                x[k] = y[k] = b[k] = draw(&seed) - 0.5;
            sparse_clear(m);
            for (size_t e = 0; e < s.entries; e++)
                sparse_add(m, e, s.value[e]);
            assert_true(sparse_factor(m));
            sparse_solve(m, x);
            assert_true(dense_solve(&s, y));
            double size = 0.0;
            for (size_t k = 0; k < s.n; k++)
                size = fmax(size, fabs(y[k]));
            for (size_t k = 0; k < s.n && diagonal > 0.0; k++)
                assert_true(fabs(x[k] - y[k]) <= 1e-12 * size);
            assert_true(misfit(&s, x, b) < 1e-11);
        }
        sparse_free(m);
    }
}

static void
singular_is_told(void **state)
{
    (void) state;
    static const size_t row[] = {0, 1, 0, 1, 2}, column[] = {0, 0, 1, 1, 2};
    static const double good[] = {1, 2, 3, 4, 5}, equal[] = {1, 2, 2, 4, 5},
                        no_pivot[] = {1, 2, 3, 4, 0}, nan_in[] = {1, 2, 3, 4, NAN};
    const double *const turns[] = {good, equal, good, no_pivot, good, nan_in, good};
    Sparse *m = sparse_new(3, 5, row, column);
    for (size_t t = 0; t < sizeof turns / sizeof *turns; t++) {
        sparse_clear(m);
        for (size_t e = 0; e < 5; e++)
            sparse_add(m, e, turns[t][e]);
        assert_int_equal(sparse_factor(m), turns[t] == good);
        if (turns[t] == no_pivot)
            assert_int_equal(sparse_singular(m), 2);
        double x[] = {1.0, 2.0, 10.0};
        if (turns[t] == good) {
            sparse_solve(m, x);
            assert_true(fabs(x[0] - 1.0) < 1e-14 && fabs(x[1]) < 1e-14 && fabs(x[2] - 2.0) < 1e-14);
        }
    }
    sparse_free(m);
}

static void
empty_columns_are_singular(void **state)
{
    (void) state;
    static const size_t row[] = {0, 2, 2}, column[] = {0, 0, 2};
    Sparse *m = sparse_new(3, 3, row, column);
    for (size_t e = 0; e < 3; e++)
        sparse_add(m, e, 1.0);
    assert_false(sparse_factor(m));
    sparse_free(m);
    m = sparse_new(0, 0, row, column);
    assert_false(sparse_factor(m));
    sparse_free(m);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(agrees_with_dense),
        cmocka_unit_test(singular_is_told),
        cmocka_unit_test(empty_columns_are_singular),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
