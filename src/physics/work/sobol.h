/* Points of the Sobol sequence, plain or scrambled.
 *
 *     v_i = m_i 2^(32-i), i <= s;   v_i = v_(i-s) xor (v_(i-s) >> s) xor sum_k bit(s-1-k of a) v_(i-k)
 *     x_0 = 0;   x_(n+1) = x_n xor v_c, c the place of the lowest zero bit of n
 *
 * Scrambling: a random lower triangular binary matrix with unit diagonal on the digits, then a random digital shift (Matousek). Take
 * 2^m points from the first on: skipping or thinning loses the balance.
 * Given    dimensions 1 to SOBOL_MOST; row[dimensions - 1], the polynomial and first numbers of dimension 2 and up: degree s 1 to
 *          SOBOL_DEGREE, code a, m odd and below 2^i; index below 2^32
 * Gives    coordinates 0 <= x < 1
 * Source   Joe and Kuo, SIAM J. Sci. Comput. 30 (2008) 2635-2654; Antonov and Saleev 1979 (order), from memory; docs/methods/work.md 6.3
 * Checked  sequence-point in tests/cases/work.csv; tests/physics/test_sequences.c: balance of every dimension */
#pragma once

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/source.h"
#include "physics/dice.h"

enum { SOBOL_MOST = 129, SOBOL_DEGREE = 10, SOBOL_BITS = 32 };

typedef struct {
    unsigned degree, code;
    uint32_t m[SOBOL_DEGREE];
} SobolRow;

typedef struct {
    size_t dimensions;
    uint64_t index;            /* of the point that comes next */
    uint32_t (*v)[SOBOL_BITS]; /* [dimensions] */
    uint32_t *x, *shift;       /* [dimensions] */
} Sobol;

/* False, and nothing to free, when dimensions or rows are outside the ranges above. */
bool sobol_open(Sobol *sobol, size_t dimensions, const SobolRow row[]);
void sobol_close(Sobol *sobol);
/* From here on the points are scrambled, and start anew. May be called again. */
void sobol_scramble(Sobol *sobol, Dice *dice);
/* point[dimensions]. */
void sobol_next(Sobol *sobol, double point[]);
/* Coordinate of one point, counted from dimension 0; plain or scrambled as the sequence is. */
double sobol_at(const Sobol *sobol, uint32_t index, size_t dimension);

/* Halton's coordinates: the digits of index in a prime base, mirrored behind the point. One prime to a dimension, counted from 1; above
 * prime 10 the points stand in stripes.
 * Source   Halton 1960, definition; docs/methods/work.md 6.3 */
enum { HALTON_MOST = 1000, HALTON_GOOD = 10 };
unsigned halton_base(size_t dimension); /* 1 to HALTON_MOST */
double radical_inverse(uint64_t index, unsigned base);

extern const Method sobol_method, halton_method;
