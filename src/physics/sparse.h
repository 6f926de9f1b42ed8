/* Square systems of linear equations with few entries a row, analysed once, factored and solved often (KLU).
 *
 *     A x = b
 *
 * Given    n unknowns; the places of the entries, several of which may be one place: their values add
 * Gives    sparse_add on an entry; x in place of b
 * Returns  sparse_factor false when the matrix is singular or holds a NAN
 * Note     KLU's refactor reports success on a zero pivot and on NAN: only its condition estimate tells, so old pivots
 *          are kept only while they grow little and are well conditioned. One object, one thread
 * Source   Davis and Palamadai Natarajan, Algorithm 907: KLU, ACM TOMS 37 (2010)
 * Checked  against LAPACK in tests/physics/test_sparse.c */
#pragma once

#include <stdbool.h>
#include <stddef.h>

typedef struct Sparse Sparse;

/* Never NULL. */
Sparse *sparse_new(size_t n, size_t entries, const size_t row[], const size_t column[]);
void sparse_free(Sparse *matrix);

void sparse_clear(Sparse *matrix); /* all values 0 */
void sparse_add(Sparse *matrix, size_t entry, double value);
bool sparse_factor(Sparse *matrix);
size_t
sparse_singular(const Sparse *matrix); /* column without a pivot, or n when it cannot be told */
void sparse_solve(Sparse *matrix, double x[]); /* after sparse_factor returned true */
