/* Many solves on all cores.
 * Invariant: a worker changes only its own copy of the boat, and leaves it as it was before the next move. */
#include "study/sweep.h"

#include <string.h>

bool
study_cancelled(const StudyHow *how)
{
    return how != NULL && how->cancel != NULL && g_atomic_int_get(how->cancel) != 0;
}

typedef struct {
    size_t n;
    void (*job)(size_t i, void *data);
    void *data;
    const StudyHow *how;
    gint next, done;
    GMutex telling;
} Pool;

static void
tell(Pool *pool)
{
    gint done = g_atomic_int_add(&pool->done, 1) + 1;
    if (pool->how == NULL || pool->how->progress == NULL)
        return;
    g_mutex_lock(&pool->telling);
    pool->how->progress((size_t) done, pool->n, pool->how->data);
    g_mutex_unlock(&pool->telling);
}

static gpointer
work(gpointer data)
{
    Pool *pool = data;
    while (!study_cancelled(pool->how)) {
        gint i = g_atomic_int_add(&pool->next, 1);
        if ((size_t) i >= pool->n)
            break;
        pool->job((size_t) i, pool->data);
        tell(pool);
    }
    return NULL;
}

static unsigned
threads_for(size_t n, const StudyHow *how)
{
    unsigned threads = how != NULL && how->threads > 0 ? how->threads : g_get_num_processors();
    return (unsigned) MIN((size_t) threads, n);
}

bool
study_each(size_t n, void (*job)(size_t i, void *data), void *data, const StudyHow *how)
{
    Pool pool = {.n = n, .job = job, .data = data, .how = how};
    g_mutex_init(&pool.telling);
    unsigned threads = threads_for(n, how);
    g_autoptr(GPtrArray) others = g_ptr_array_new();
    for (unsigned t = 1; t < threads; t++)
        g_ptr_array_add(others, g_thread_new("study", work, &pool));
    work(&pool);
    for (guint t = 0; t < others->len; t++)
        g_thread_join(others->pdata[t]);
    g_mutex_clear(&pool.telling);
    return !study_cancelled(how);
}

typedef struct {
    const SolveInput *base;
    const Inputs *inputs;
    const Outputs *outputs;
    Move *move;
    GAsyncQueue *copies; /* Boat *: whoever solves takes one and gives it back unmoved */
} Sweep;

/* The one discipline that reads all of what a move moves, or NULL: several do. */
static const char *
discipline_of(const Sweep *s, const Move *move)
{
    const char *first = NULL;
    for (size_t k = 0; k < move->n; k++) {
        const Input *input = &g_array_index(s->inputs->input, Input, move->nudge[k].input);
        if (first != NULL && strcmp(first, input->discipline) != 0)
            return NULL;
        first = input->discipline;
    }
    return first;
}

static void
solve_move(size_t i, void *data)
{
    Sweep *s = data;
    Move *move = &s->move[i];
    Boat *copy = g_async_queue_try_pop(s->copies);
    if (copy == NULL)
        copy = boat_copy(s->base->boat);
    for (size_t k = 0; k < move->n; k++)
        input_move(&g_array_index(s->inputs->input, Input, move->nudge[k].input), copy,
                   move->nudge[k].delta);
    SolveInput input = *s->base;
    input.boat = copy;
    input.only = discipline_of(s, move);
    input.brief = true;
    g_autoptr(Result) result = solve(&input);
    outputs_read(s->outputs, result, input.only, move->value, move->governor);
    for (size_t k = 0; k < move->n; k++)
        input_move(&g_array_index(s->inputs->input, Input, move->nudge[k].input), copy, 0.0);
    g_async_queue_push(s->copies, copy);
}

bool
sweep(const SolveInput *base, const Inputs *inputs, const Outputs *outputs, size_t n, Move move[],
      const StudyHow *how)
{
    Sweep s = {base, inputs, outputs, move, g_async_queue_new_full((GDestroyNotify) boat_free)};
    bool whole = study_each(n, solve_move, &s, how);
    g_async_queue_unref(s.copies);
    return whole;
}
