/* Remedies as plain data that owns itself.
 * Invariant: nothing of it lives in the boat, the result or the search it came from. */
#include <string.h>

#include "study/remedy_parts.h"

typedef struct {
    gatomicrefcount references;
    GPtrArray *blocks;
    GStringChunk *texts;
} Store;

static void *
block(Store *store, size_t n, size_t size)
{
    void *made = g_malloc0_n(MAX(n, 1), size);
    g_ptr_array_add(store->blocks, made);
    return made;
}

static const char *
keep(Store *store, const char *text)
{
    return text != NULL ? g_string_chunk_insert_const(store->texts, text) : NULL;
}

static const char *const *
ids(Store *store, const GPtrArray *list)
{
    const char **copy = block(store, list->len, sizeof *copy);
    for (guint i = 0; i < list->len; i++)
        copy[i] = keep(store, list->pdata[i]);
    return copy;
}

static const RemedyPart *
parts(Store *store, const GArray *from)
{
    RemedyPart *part = block(store, from->len, sizeof *part);
    for (guint i = 0; i < from->len; i++) {
        part[i] = g_array_index(from, RemedyPart, i);
        part[i].path = keep(store, part[i].path);
        part[i].from = keep(store, part[i].from);
        part[i].to = keep(store, part[i].to);
    }
    return part;
}

static const RemedyEdit *
edits(Store *store, const GArray *from)
{
    RemedyEdit *edit = block(store, from->len, sizeof *edit);
    for (guint i = 0; i < from->len; i++) {
        const RemedyEdit *one = &g_array_index(from, RemedyEdit, i);
        edit[i] = (RemedyEdit){keep(store, one->path), keep(store, one->value)};
    }
    return edit;
}

static const RemedyMove *
moves(Store *store, const GArray *from)
{
    RemedyMove *move = block(store, from->len, sizeof *move);
    for (guint i = 0; i < from->len; i++) {
        move[i] = g_array_index(from, RemedyMove, i);
        move[i].answer = keep(store, move[i].answer);
    }
    return move;
}

static const Remedy *
remedies_of_list(Store *store, const GPtrArray *list)
{
    Remedy *remedy = block(store, list->len, sizeof *remedy);
    for (guint i = 0; i < list->len; i++) {
        const Tried *tried = list->pdata[i];
        remedy[i] = tried->remedy;
        remedy[i].because = keep(store, tried->remedy.because);
        remedy[i].n_parts = tried->part->len;
        remedy[i].part = parts(store, tried->part);
        remedy[i].n_edits = tried->edit->len;
        remedy[i].edit = edits(store, tried->edit);
        remedy[i].n_moves = tried->move->len;
        remedy[i].move = moves(store, tried->move);
        remedy[i].n_gained = tried->gained->len;
        remedy[i].gained = ids(store, tried->gained);
        remedy[i].n_lost = tried->lost->len;
        remedy[i].lost = ids(store, tried->lost);
        remedy[i].n_exchanged = tried->exchanged->len;
        remedy[i].exchanged = ids(store, tried->exchanged);
    }
    return remedy;
}

Remedies *
remedies_gather(RemedyWork *work)
{
    Store *store = g_new0(Store, 1);
    g_atomic_ref_count_init(&store->references);
    store->blocks = g_ptr_array_new_with_free_func(g_free);
    store->texts = g_string_chunk_new(4096);
    Remedies *remedies = g_new0(Remedies, 1);
    remedies->owner = store;
    remedies->n = work->n_lists;
    remedies->solves = (size_t) g_atomic_int_get(&work->solves);
    RemediesOf *of = block(store, work->n_lists, sizeof *of);
    remedies->of = of;
    for (size_t i = 0; i < work->n_lists; i++) {
        const RemedyList *list = &work->list[i];
        of[i] = (RemediesOf){.finding = keep(store, list->finding),
                             .n_remedies = list->good->len,
                             .n_rejected = list->rejected->len,
                             .remedy = remedies_of_list(store, list->good),
                             .rejected = remedies_of_list(store, list->rejected),
                             .levers = list->levers,
                             .nothing = list->nothing};
    }
    return remedies;
}

Remedies *
remedies_ref(Remedies *remedies)
{
    g_atomic_ref_count_inc(&((Store *) remedies->owner)->references);
    return remedies;
}

void
remedies_free(Remedies *remedies)
{
    if (remedies == NULL)
        return;
    Store *store = remedies->owner;
    if (!g_atomic_ref_count_dec(&store->references))
        return;
    g_ptr_array_unref(store->blocks);
    g_string_chunk_free(store->texts);
    g_free(store);
    g_free(remedies);
}
