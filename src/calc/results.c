/* Results of a run. Invariant: see results.h. */
#include "calc/results.h"

#include <math.h>
#include <string.h>

const char *const figures_words[] = {"read", "memory", NULL};

struct CalcResults {
    const Calculator *calculator;
    Validity validity;
    gboolean partly; /* refused, yet some values hold */
    char *reason, *error;
    GArray *values;      /* CalcValue */
    GStringChunk *texts; /* words of outputs whose words no list holds */
};

static void
clear_value(gpointer value)
{
    g_free(((CalcValue *) value)->index);
}

CalcResults *
results_new(const Calculator *calculator)
{
    CalcResults *results = g_new0(CalcResults, 1);
    results->calculator = calculator;
    results->validity = VALID;
    results->values = g_array_new(FALSE, FALSE, sizeof(CalcValue));
    g_array_set_clear_func(results->values, clear_value);
    results->texts = g_string_chunk_new(64);
    return results;
}

void
results_free(CalcResults *results)
{
    if (results == NULL)
        return;
    g_array_unref(results->values);
    g_string_chunk_free(results->texts);
    g_free(results->reason);
    g_free(results->error);
    g_free(results);
}

static const Output *
output_of(const CalcResults *results, const char *name, gboolean word, gboolean listed)
{
    const Output *output = calculator_output(results->calculator, name);
    g_assert(output != NULL && (output->unit == NULL) == word && output->listed == listed);
    return output;
}

static void
add(CalcResults *results, const Output *output, char *index, double value, const char *word)
{
    CalcValue v = {output, index, value, word};
    if ((results->validity == REFUSED && !results->partly) || (word == NULL && !isfinite(value)))
        g_free(index);
    else
        g_array_append_val(results->values, v);
}

void
results_set(CalcResults *results, const char *name, double value)
{
    add(results, output_of(results, name, FALSE, FALSE), NULL, value, NULL);
}

void
results_set_at(CalcResults *results, const char *name, size_t index, double value)
{
    add(results, output_of(results, name, FALSE, TRUE), g_strdup_printf("%zu", index), value, NULL);
}

void
results_set_of(CalcResults *results, const char *name, const char *index, double value)
{
    add(results, output_of(results, name, FALSE, TRUE), g_strdup(index), value, NULL);
}

/* The output's own spelling of a word, or a copy of a word that no list holds. */
static const char *
own_word(CalcResults *results, const Output *output, const char *word)
{
    if (output->words == NULL)
        return g_string_chunk_insert_const(results->texts, word);
    for (size_t i = 0; output->words[i] != NULL; i++)
        if (strcmp(output->words[i], word) == 0)
            return output->words[i];
    g_assert_not_reached();
}

void
results_word(CalcResults *results, const char *name, const char *word)
{
    const Output *output = output_of(results, name, TRUE, FALSE);
    add(results, output, NULL, NAN, own_word(results, output, word));
}

void
results_word_at(CalcResults *results, const char *name, size_t index, const char *word)
{
    const Output *output = output_of(results, name, TRUE, TRUE);
    add(results, output, g_strdup_printf("%zu", index), NAN, own_word(results, output, word));
}

void
results_word_of(CalcResults *results, const char *name, const char *index, const char *word)
{
    const Output *output = output_of(results, name, TRUE, TRUE);
    add(results, output, g_strdup(index), NAN, own_word(results, output, word));
}

void
results_limit(CalcResults *results, Validity validity)
{
    results->validity = validity_worse(results->validity, validity);
    if (results->validity == REFUSED)
        g_array_set_size(results->values, 0);
}

void
results_refuse(CalcResults *results, const char *reason)
{
    if (results->reason == NULL)
        results->reason = g_strdup(reason);
    results_limit(results, REFUSED);
}

void
results_refuse_but(CalcResults *results, const char *reason)
{
    results_refuse(results, reason);
    results->partly = TRUE;
}

void
results_error(CalcResults *results, const char *what)
{
    if (results->error == NULL)
        results->error = g_strdup(what);
}

const char *
results_error_said(const CalcResults *results)
{
    return results->error;
}

const Calculator *
results_calculator(const CalcResults *results)
{
    return results->calculator;
}

Validity
results_validity(const CalcResults *results)
{
    return results->validity;
}

const char *
results_reason(const CalcResults *results)
{
    return results->reason;
}

size_t
results_count(const CalcResults *results)
{
    return results->values->len;
}

const CalcValue *
results_value(const CalcResults *results, size_t i)
{
    return &g_array_index(results->values, CalcValue, i);
}

const CalcValue *
results_find(const CalcResults *results, const char *address)
{
    const char *open = strchr(address, '[');
    size_t length = open != NULL ? (size_t) (open - address) : strlen(address);
    g_autofree char *index = NULL;
    if (open != NULL) {
        size_t rest = strlen(open);
        if (open[rest - 1] != ']')
            return NULL;
        index = g_strndup(open + 1, rest - 2);
        g_strstrip(index);
    }
    for (size_t i = 0; i < results->values->len; i++) {
        const CalcValue *v = results_value(results, i);
        if (strlen(v->output->name) != length || strncmp(v->output->name, address, length) != 0)
            continue;
        if (index == NULL ? v->index == NULL
                          : v->index != NULL && g_ascii_strcasecmp(index, v->index) == 0)
            return v;
    }
    return NULL;
}

void
results_figures(CalcResults *results, Standing worst)
{
    results_word(results, "figures", worst == STANDING_MEMORY ? "memory" : "read");
}
