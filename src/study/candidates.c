/* Candidates: inputs that one measurement settles together.
 * Invariant: every candidate has an instrument. */
#include "study/candidates.h"

#include <math.h>
#include <string.h>

#include "boat/model.h"
#include "study/words.h"

static void
candidate_free(gpointer data)
{
    Candidate *candidate = data;
    g_free(candidate->text);
    g_free(candidate->input);
    g_free(candidate);
}

static char *
words_for(const Input *input, const Instrument *with)
{
    g_autofree char *name = study_name(input->record);
    g_autofree char *label = g_utf8_strdown(input->field->label, -1);
    if (input->part == PART_STRAY || input->part == PART_RISE ||
        input->record->section == &section_stations)
        return g_strdup_printf("%s the stations", with->verb);
    if (input->record->section == &section_boat || input->record->section == &section_route)
        return g_strdup_printf("%s %s of %s", with->verb, label, name);
    if (strcmp(input->field->key, "mass") == 0)
        return g_strdup_printf("%s: %s", with->verb, name);
    return g_strdup_printf("%s %s (%s)", with->verb, name, label);
}

Candidates *
candidates_of(const Spreads *spreads)
{
    Candidates *made = g_new0(Candidates, 1);
    g_autoptr(GHashTable) at = g_hash_table_new(g_str_hash, g_str_equal);
    made->spreads = spreads;
    made->list = g_ptr_array_new_with_free_func(candidate_free);
    made->left = g_new(double, spreads->n_inputs + 1);
    for (size_t i = 0; i < spreads->n_inputs; i++) {
        const Input *input = &g_array_index(spreads->inputs->input, Input, i);
        const Instrument *with = instrument_for(input);
        made->left[i] = 1.0;
        if (with == NULL)
            continue;
        Candidate *candidate = g_hash_table_lookup(at, input->measure);
        if (candidate == NULL) {
            candidate = g_new0(Candidate, 1);
            candidate->path = input->measure;
            candidate->with = with;
            candidate->text = words_for(input, with);
            g_ptr_array_add(made->list, candidate);
            g_hash_table_insert(at, (gpointer) input->measure, candidate);
        }
        candidate->input = g_renew(size_t, candidate->input, candidate->n + 1);
        candidate->input[candidate->n++] = i;
    }
    return made;
}

void
candidates_free(Candidates *candidates)
{
    if (candidates == NULL)
        return;
    g_ptr_array_unref(candidates->list);
    g_free(candidates->left);
    g_free(candidates);
}

double
candidate_takes(const Candidates *candidates, const Candidate *candidate, size_t output)
{
    const Spreads *spreads = candidates->spreads;
    double all = spreads_variance(spreads, output);
    if (!(all > 0.0))
        return 0.0;
    for (size_t i = 0; i < candidate->n; i++) {
        size_t at = candidate->input[i];
        candidates->left[at] = instrument_left(&g_array_index(spreads->inputs->input, Input, at));
    }
    double left = spreads_variance_left(spreads, candidates->left, output);
    for (size_t i = 0; i < candidate->n; i++)
        candidates->left[candidate->input[i]] = 1.0;
    return CLAMP(1.0 - left / all, 0.0, 1.0);
}

const Candidate *
candidates_best(const Candidates *candidates, size_t output)
{
    const Candidate *best = NULL;
    double most = 0.01;
    for (guint i = 0; i < candidates->list->len; i++) {
        double takes = candidate_takes(candidates, candidates->list->pdata[i], output);
        if (takes > most) {
            most = takes;
            best = candidates->list->pdata[i];
        }
    }
    return best;
}
