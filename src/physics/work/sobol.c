/* Quasi-random points. Invariant: 2^m points from the first on hit each of the 2^m slices of every dimension once. */
#include "physics/work/sobol.h"

#include <string.h>

#include "physics/memory.h"

#define SHEET "docs/methods/work.md 6.3"
const Method sobol_method = {"Sobol sequence",
                             "v_i = xor(v_(i-s), shift(v_(i-s)), sum(a_k * v_(i-k)))",
                             {"Joe and Kuo 2008; " SHEET, STANDING_SECONDARY}};
const Method halton_method = {
    "Halton sequence", "x = sum(digit_k / b^(k+1))", {"definition; " SHEET, STANDING_READ}};

static bool
row_holds(const SobolRow *row)
{
    if (row->degree < 1 || row->degree > SOBOL_DEGREE || row->code >= 1u << (row->degree - 1))
        return false;
    for (unsigned i = 0; i < row->degree; i++)
        if (row->m[i] % 2 == 0 || row->m[i] >= 2u << i)
            return false;
    return true;
}

static void
plain_directions(uint32_t v[SOBOL_BITS], const SobolRow *row)
{
    if (row == NULL) {
        for (unsigned i = 0; i < SOBOL_BITS; i++)
            v[i] = UINT32_C(1) << (31 - i);
        return;
    }
    unsigned s = row->degree;
    for (unsigned i = 0; i < s; i++)
        v[i] = row->m[i] << (31 - i);
    for (unsigned i = s; i < SOBOL_BITS; i++) {
        v[i] = v[i - s] ^ (v[i - s] >> s);
        for (unsigned k = 1; k < s; k++)
            if ((row->code >> (s - 1 - k)) & 1)
                v[i] ^= v[i - k];
    }
}

bool
sobol_open(Sobol *sobol, size_t dimensions, const SobolRow row[])
{
    *sobol = (Sobol){0};
    if (dimensions < 1 || dimensions > SOBOL_MOST)
        return false;
    for (size_t d = 1; d < dimensions; d++)
        if (!row_holds(&row[d - 1]))
            return false;
    *sobol = (Sobol){.dimensions = dimensions,
                     .v = fresh(dimensions, sizeof *sobol->v),
                     .x = fresh(dimensions, sizeof *sobol->x),
                     .shift = fresh(dimensions, sizeof *sobol->shift)};
    for (size_t d = 0; d < dimensions; d++)
        plain_directions(sobol->v[d], d == 0 ? NULL : &row[d - 1]);
    return true;
}

void
sobol_close(Sobol *sobol)
{
    free(sobol->v);
    free(sobol->x);
    free(sobol->shift);
    *sobol = (Sobol){0};
}

static uint32_t
random_word(Dice *dice)
{
    return (uint32_t) dice_below(dice, (size_t) 1 << 32);
}

/* Digit i of the result hangs on digits 0 to i of the number, on i itself always. */
static uint32_t
mixed(const uint32_t matrix[SOBOL_BITS], uint32_t number)
{
    uint32_t out = 0;
    for (unsigned i = 0; i < SOBOL_BITS; i++)
        if (__builtin_parity(matrix[i] & number) != 0)
            out |= UINT32_C(1) << (31 - i);
    return out;
}

void
sobol_scramble(Sobol *sobol, Dice *dice)
{
    sobol->index = 0;
    memset(sobol->x, 0, sobol->dimensions * sizeof *sobol->x);
    for (size_t d = 0; d < sobol->dimensions; d++) {
        uint32_t matrix[SOBOL_BITS];
        for (unsigned i = 0; i < SOBOL_BITS; i++) {
            uint32_t diagonal = UINT32_C(1) << (31 - i), before = ~(diagonal | (diagonal - 1));
            matrix[i] = diagonal | (random_word(dice) & before);
        }
        for (unsigned i = 0; i < SOBOL_BITS; i++)
            sobol->v[d][i] = mixed(matrix, sobol->v[d][i]);
        sobol->shift[d] = random_word(dice);
    }
}

static double
coordinate(uint32_t x)
{
    return (double) x / 4294967296.0;
}

void
sobol_next(Sobol *sobol, double point[])
{
    unsigned c = 0;
    for (uint64_t n = sobol->index; (n & 1) != 0 && c < SOBOL_BITS - 1; n >>= 1)
        c++;
    for (size_t d = 0; d < sobol->dimensions; d++) {
        point[d] = coordinate(sobol->x[d] ^ sobol->shift[d]);
        sobol->x[d] ^= sobol->v[d][c];
    }
    sobol->index++;
}

double
sobol_at(const Sobol *sobol, uint32_t index, size_t dimension)
{
    uint32_t gray = index ^ (index >> 1), x = sobol->shift[dimension];
    for (unsigned i = 0; gray != 0; gray >>= 1, i++)
        if ((gray & 1) != 0)
            x ^= sobol->v[dimension][i];
    return coordinate(x);
}

static bool
is_prime(unsigned n)
{
    for (unsigned k = 2; k * k <= n; k++)
        if (n % k == 0)
            return false;
    return true;
}

unsigned
halton_base(size_t dimension)
{
    unsigned base = 1;
    for (size_t found = 0; found < dimension;)
        if (is_prime(++base))
            found++;
    return base;
}

double
radical_inverse(uint64_t index, unsigned base)
{
    double place = 1.0, x = 0.0;
    for (uint64_t left = index; left > 0; left /= base) {
        place /= base;
        x += (double) (left % base) * place;
    }
    return x;
}
