/* The door to KLU. Invariant: `place` of an entry is its value in the compressed columns; each place stands once. The
 * same values are not factored twice. */
#include "physics/sparse.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <suitesparse/klu.h>

#include "physics/memory.h"

struct Sparse {
    size_t n, entries, places;
    int *start, *row; /* compressed columns */
    size_t *place;    /* [entries] */
    double *value;    /* [places] */
    double *factored; /* [places] those of the numeric part, when it is good */
    bool good;
    bool sound; /* analysed: no column is structurally empty */
    klu_common common;
    klu_symbolic *symbolic;
    klu_numeric *numeric;
};

/* Entries in the order of their keys, entries of one key in the order given: a counting sort. */
static void
sort_by(size_t keys, size_t entries, const size_t key[], const size_t order[], size_t sorted[])
{
    size_t *next = fresh(keys + 1, sizeof *next);
    for (size_t e = 0; e < entries; e++)
        next[key[e] + 1]++;
    for (size_t k = 0; k < keys; k++)
        next[k + 1] += next[k];
    for (size_t i = 0; i < entries; i++)
        sorted[next[key[order[i]]]++] = order[i];
    free(next);
}

static void
compress(Sparse *m, const size_t row[], const size_t column[])
{
    size_t *as_given = fresh(m->entries, sizeof *as_given),
           *by_row = fresh(m->entries, sizeof *by_row), *sorted = fresh(m->entries, sizeof *sorted);
    for (size_t e = 0; e < m->entries; e++)
        as_given[e] = e;
    sort_by(m->n, m->entries, row, as_given, by_row);
    sort_by(m->n, m->entries, column, by_row, sorted);
    for (size_t i = 0; i < m->entries; i++) {
        size_t e = sorted[i], before = sorted[i > 0 ? i - 1 : 0];
        if (i == 0 || row[e] != row[before] || column[e] != column[before]) {
            m->row[m->places++] = (int) row[e];
            m->start[column[e] + 1] = (int) m->places;
        }
        m->place[e] = m->places - 1;
    }
    for (size_t k = 1; k <= m->n; k++) /* an empty column ends where it begins */
        if (m->start[k] < m->start[k - 1])
            m->start[k] = m->start[k - 1];
    free(as_given);
    free(by_row);
    free(sorted);
}

Sparse *
sparse_new(size_t n, size_t entries, const size_t row[], const size_t column[])
{
    Sparse *m = fresh(1, sizeof *m);
    m->n = n;
    m->entries = entries;
    m->start = fresh(n + 1, sizeof *m->start);
    m->row = fresh(entries, sizeof *m->row);
    m->place = fresh(entries, sizeof *m->place);
    m->value = fresh(entries, sizeof *m->value);
    m->factored = fresh(entries, sizeof *m->factored);
    compress(m, row, column);
    klu_defaults(&m->common);
    m->common.tol =
        0.1; /* the diagonal is kept only where it is not small: an odd matrix costs digits else */
    m->symbolic = n > 0 ? klu_analyze((int) n, m->start, m->row, &m->common) : NULL;
    m->sound = m->symbolic != NULL && m->common.structural_rank == (int) n;
    return m;
}

void
sparse_free(Sparse *m)
{
    if (m == NULL)
        return;
    klu_free_numeric(&m->numeric, &m->common);
    klu_free_symbolic(&m->symbolic, &m->common);
    free(m->start);
    free(m->row);
    free(m->place);
    free(m->value);
    free(m->factored);
    free(m);
}

void
sparse_clear(Sparse *m)
{
    memset(m->value, 0, m->places * sizeof *m->value);
}

void
sparse_add(Sparse *m, size_t entry, double value)
{
    m->value[m->place[entry]] += value;
}

/* rcond is that of the pivots after KLU's own scaling of rows; a NAN in the matrix makes it 0. */
static bool
pivots_still_serve(Sparse *m)
{
    return m->numeric != NULL &&
           klu_refactor(m->start, m->row, m->value, m->symbolic, m->numeric, &m->common) &&
           klu_rgrowth(m->start, m->row, m->value, m->symbolic, m->numeric, &m->common) &&
           m->common.rgrowth > 1e-3 && klu_rcond(m->symbolic, m->numeric, &m->common) &&
           m->common.rcond > 1e-12;
}

static bool
factor_anew(Sparse *m)
{
    if (pivots_still_serve(m))
        return true;
    klu_free_numeric(&m->numeric, &m->common);
    m->numeric = klu_factor(m->start, m->row, m->value, m->symbolic, &m->common);
    return m->numeric != NULL && klu_rcond(m->symbolic, m->numeric, &m->common) &&
           m->common.rcond > 1e-16;
}

bool
sparse_factor(Sparse *m)
{
    if (!m->sound)
        return false;
    size_t bytes = m->places * sizeof *m->value;
    if (m->good && memcmp(m->value, m->factored, bytes) == 0)
        return true;
    m->good = factor_anew(m);
    memcpy(m->factored, m->value, bytes);
    return m->good;
}

size_t
sparse_singular(const Sparse *m)
{
    bool told = m->common.status == KLU_SINGULAR && m->common.singular_col >= 0;
    return told ? (size_t) m->common.singular_col : m->n;
}

void
sparse_solve(Sparse *m, double x[])
{
    klu_solve(m->symbolic, m->numeric, (int) m->n, 1, x, &m->common);
}
