/* When a hand is taken, counted in its own open time, so that nights do not part a spell. */
#pragma once

#include <stddef.h>
#include <stdint.h>

typedef struct {
    int32_t *from, *to; /* rising, apart */
    size_t n, room;
    int32_t *spell_to; /* of every spell as it was added, and the task it is of */
    uint32_t *spell_task;
    size_t n_spells, spell_room;
} Busy;

void plan_busy_clear(Busy *busy);
void plan_busy_free(Busy *busy);
/* The first stretch that ends after at; n when there is none. */
size_t plan_busy_at(const Busy *busy, int32_t at);
void plan_busy_add(Busy *busy, int32_t from, int32_t to, uint32_t task);
/* The task whose spell ends there, the latest added; UINT32_MAX when none does. */
uint32_t plan_busy_ends(const Busy *busy, int32_t at);
