/* Stretches in which a hand is taken. Invariant: they rise and do not touch. */
#include "physics/work/plan_busy.h"

#include <stdlib.h>
#include <string.h>

void
plan_busy_clear(Busy *b)
{
    b->n = b->n_spells = 0;
}

void
plan_busy_free(Busy *b)
{
    free(b->from);
    free(b->to);
    free(b->spell_to);
    free(b->spell_task);
}

size_t
plan_busy_at(const Busy *b, int32_t at)
{
    if (b->n == 0 || b->to[b->n - 1] <= at)
        return b->n;
    size_t low = 0, high = b->n - 1;
    while (low < high) {
        size_t middle = (low + high) / 2;
        if (b->to[middle] > at)
            high = middle;
        else
            low = middle + 1;
    }
    return low;
}

static void *
grown(void *memory, size_t n, size_t size)
{
    void *more = realloc(memory, n * size);
    if (more == NULL)
        abort();
    return more;
}

static void
note_spell(Busy *b, int32_t to, uint32_t task)
{
    if (b->n_spells == b->spell_room) {
        b->spell_room = 2 * b->spell_room + 32;
        b->spell_to = grown(b->spell_to, b->spell_room, sizeof *b->spell_to);
        b->spell_task = grown(b->spell_task, b->spell_room, sizeof *b->spell_task);
    }
    b->spell_to[b->n_spells] = to;
    b->spell_task[b->n_spells++] = task;
}

static void
insert(Busy *b, size_t at, int32_t from, int32_t to)
{
    if (b->n == b->room) {
        b->room = 2 * b->room + 32;
        b->from = grown(b->from, b->room, sizeof *b->from);
        b->to = grown(b->to, b->room, sizeof *b->to);
    }
    memmove(&b->from[at + 1], &b->from[at], (b->n - at) * sizeof *b->from);
    memmove(&b->to[at + 1], &b->to[at], (b->n - at) * sizeof *b->to);
    b->from[at] = from;
    b->to[at] = to;
    b->n++;
}

static void
drop(Busy *b, size_t at)
{
    memmove(&b->from[at], &b->from[at + 1], (b->n - at - 1) * sizeof *b->from);
    memmove(&b->to[at], &b->to[at + 1], (b->n - at - 1) * sizeof *b->to);
    b->n--;
}

void
plan_busy_add(Busy *b, int32_t from, int32_t to, uint32_t task)
{
    note_spell(b, to, task);
    size_t at = plan_busy_at(b, from);
    if (at > 0 && b->to[at - 1] == from)
        b->to[--at] = to;
    else
        insert(b, at, from, to);
    if (at + 1 < b->n && b->from[at + 1] == to) {
        b->to[at] = b->to[at + 1];
        drop(b, at + 1);
    }
}

uint32_t
plan_busy_ends(const Busy *b, int32_t at)
{
    for (size_t k = b->n_spells; k-- > 0;)
        if (b->spell_to[k] == at)
            return b->spell_task[k];
    return UINT32_MAX;
}
