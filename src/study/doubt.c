/* Puts the doubt together: answers, verdicts, what to measure next.
 * Invariant: a Doubt owns all it points at; nothing of it lives in the boat or the result it was made from. */
#include "study/doubt.h"

#include <math.h>
#include <string.h>

#include "study/doubt_parts.h"

#define NAMED_FRAC 0.002 /* smaller shares are not listed */

Doubt *
doubt_ref(Doubt *doubt)
{
    DoubtStore *store = doubt->owner;
    g_atomic_ref_count_inc(&store->references);
    return doubt;
}

void
doubt_free(Doubt *doubt)
{
    if (doubt == NULL)
        return;
    DoubtStore *store = doubt->owner;
    if (!g_atomic_ref_count_dec(&store->references))
        return;
    g_string_chunk_free(store->texts);
    g_ptr_array_unref(store->blocks);
    g_free(store);
    g_free(doubt);
}

static Doubt *
doubt_new(void)
{
    DoubtStore *store = g_new0(DoubtStore, 1);
    g_atomic_ref_count_init(&store->references);
    store->texts = g_string_chunk_new(4096);
    store->blocks = g_ptr_array_new_with_free_func(g_free);
    Doubt *doubt = g_new0(Doubt, 1);
    doubt->owner = store;
    return doubt;
}

void *
doubt_block(Doubt *doubt, size_t n, size_t size)
{
    void *made = g_malloc0_n(MAX(n, 1), size);
    g_ptr_array_add(((DoubtStore *) doubt->owner)->blocks, made);
    return made;
}

const char *
doubt_keep(Doubt *doubt, const char *text)
{
    return text == NULL ? NULL
                        : g_string_chunk_insert_const(((DoubtStore *) doubt->owner)->texts, text);
}

/* ---- shares ---- */

static int
largest_first(gconstpointer a, gconstpointer b)
{
    const DoubtShare *left = a, *right = b;
    if (left->share != right->share)
        return left->share > right->share ? -1 : 1;
    return strcmp(left->path, right->path);
}

/* Inputs of one path (both ends of a range, breadths and heights of a station) count together. */
const DoubtShare *
doubt_shares(Doubt *doubt, const Spreads *spreads, size_t output, size_t *n)
{
    g_autoptr(GHashTable) at = g_hash_table_new(g_str_hash, g_str_equal);
    g_autoptr(GArray) list = g_array_new(FALSE, FALSE, sizeof(DoubtShare));
    for (size_t i = 0; i < spreads->n_inputs; i++) {
        double share = spreads_share(spreads, i, output);
        const char *path = g_array_index(spreads->inputs->input, Input, i).path;
        if (!(share > 0.0))
            continue;
        guint index = GPOINTER_TO_UINT(g_hash_table_lookup(at, path));
        if (index > 0) {
            g_array_index(list, DoubtShare, index - 1).share += share;
            continue;
        }
        DoubtShare one = {doubt_keep(doubt, path), share};
        g_array_append_val(list, one);
        g_hash_table_insert(at, (gpointer) path, GUINT_TO_POINTER(list->len));
    }
    g_array_sort(list, largest_first);
    for (*n = 0; *n < list->len && g_array_index(list, DoubtShare, *n).share >= NAMED_FRAC;)
        (*n)++;
    DoubtShare *share = doubt_block(doubt, *n, sizeof *share);
    for (size_t i = 0; i < *n; i++)
        share[i] = g_array_index(list, DoubtShare, i);
    return share;
}

static void
add_answers(Doubt *doubt, const Outputs *outputs, const Spreads *spreads)
{
    DoubtAnswer *answer = doubt_block(doubt, outputs->n, sizeof *answer);
    doubt->answer = answer;
    for (size_t k = 0; k < outputs->n; k++) {
        const Answer *from = outputs->output[k].answer;
        if (from == NULL)
            continue;
        DoubtAnswer *to = &answer[doubt->n_answers++];
        *to =
            (DoubtAnswer){.name = doubt_keep(doubt, from->name),
                          .kind = from->kind->kind,
                          .value = from->value,
                          .spread = from->kind->own_spread ? hypot(spreads->spread[k], from->spread)
                                                           : spreads->spread[k],
                          .closed = from->spread,
                          .before = spreads->before[k],
                          .moved = spreads->moved[k],
                          .sampled = spreads->sampled[k]};
        to->share = doubt_shares(doubt, spreads, k, &to->n);
    }
}

static void
add_readings(Doubt *doubt, const Readings *readings, const Spreads *spreads)
{
    DoubtReading *reading = doubt_block(doubt, readings->n, sizeof *reading);
    doubt->reading = reading;
    doubt->n_readings = readings->n;
    for (size_t i = 0; i < readings->n; i++) {
        const TrialTaken *from = &readings->taken[i];
        reading[i] = (DoubtReading){.finding = doubt_keep(doubt, from->finding),
                                    .path = doubt_keep(doubt, from->path),
                                    .where = doubt_keep(doubt, from->where),
                                    .read = from->read,
                                    .within = from->within,
                                    .reckoned = from->reckoned,
                                    .reckoned_spread = from->reckoned_spread,
                                    .outside = from->outside,
                                    .used = from->used};
        reading[i].share = doubt_shares(doubt, spreads, from->output, &reading[i].n);
    }
}

static void
add_parts(Doubt *doubt, const Inputs *inputs)
{
    DoubtPart *part = doubt_block(doubt, inputs->input->len, sizeof *part);
    doubt->part = part;
    for (guint i = 0; i < inputs->input->len; i++) {
        const char *title = g_array_index(inputs->input, Input, i).record->section->title;
        size_t at = 0;
        while (at < doubt->n_parts && strcmp(part[at].title, title) != 0)
            at++;
        if (at == doubt->n_parts)
            part[doubt->n_parts++].title = doubt_keep(doubt, title);
        part[at].n++;
    }
}

Doubt *
doubt_find(const SolveInput *solve, const Result *base, const StudyHow *how)
{
    g_autoptr(Inputs) inputs = inputs_of(solve);
    Outputs outputs = outputs_of(base);
    outputs_part(&outputs, solve);
    g_autoptr(Readings) readings = readings_of(solve, &outputs);
    g_autoptr(Spreads) spreads = spreads_find(solve, base, inputs, &outputs, readings, how);
    Doubt *doubt = spreads != NULL ? doubt_new() : NULL;
    if (doubt != NULL) {
        doubt->n_inputs = spreads->n_inputs;
        doubt->n_solves = spreads->solves;
        doubt->n_sampled = spreads->samples;
        add_parts(doubt, inputs);
        add_answers(doubt, &outputs, spreads);
        add_readings(doubt, readings, spreads);
        doubt_add_verdicts(doubt, &outputs, spreads);
        doubt_add_next(doubt, base, &outputs, spreads);
    }
    outputs_clear(&outputs);
    return doubt;
}
