/* Workings: steps in the order they were reckoned.
 * Invariant: a symbol stands once in a working, and a formula names only symbols that stand before it. */
#include <math.h>
#include <string.h>

#include "result/result_private.h"

static const Source owner_source = {NULL, STANDING_DERIVED};

Working *
result_working(Result *result, const char *title)
{
    Working *w = g_new0(Working, 1);
    w->result = result;
    w->title = result_keep(result, title);
    w->steps = g_array_sized_new(FALSE, TRUE, sizeof(Step), 20);
    g_ptr_array_add(result->workings, w);
    return w;
}

void
working_free(Working *working)
{
    g_array_unref(working->steps);
    g_free(working);
}

const char *
working_title(const Working *working)
{
    return working->title;
}

size_t
working_steps(const Working *working)
{
    return working->steps->len;
}

const Step *
working_step(const Working *working, size_t i)
{
    g_return_val_if_fail(i < working->steps->len, NULL);
    return &g_array_index(working->steps, Step, i);
}

const Step *
working_find(const Working *working, const char *symbol)
{
    for (guint i = 0; i < working->steps->len; i++) {
        const Step *step = &g_array_index(working->steps, Step, i);
        if (step->symbol[0] == symbol[0] && strcmp(step->symbol, symbol) == 0)
            return step;
    }
    return NULL;
}

const Step *
working_last(const Working *working)
{
    return working->steps->len > 0 ? working_step(working, working->steps->len - 1) : NULL;
}

Basis
working_basis(const Working *working)
{
    Basis basis = BASIS_MEASURED;
    for (guint i = 0; i < working->steps->len; i++)
        basis = basis_worse(basis, g_array_index(working->steps, Step, i).basis);
    return basis;
}

Standing
working_standing(const Working *working)
{
    Standing standing = STANDING_DERIVED;
    for (guint i = 0; i < working->steps->len; i++)
        standing = standing_worse(standing, g_array_index(working->steps, Step, i).source.standing);
    return standing;
}

Validity
working_validity(const Working *working)
{
    Validity validity = VALID;
    for (guint i = 0; i < working->steps->len; i++)
        validity = validity_worse(validity, g_array_index(working->steps, Step, i).validity);
    return validity;
}

const Step *
working_unfollowed(const Working *working)
{
    for (guint i = 0; i < working->steps->len; i++) {
        const Step *step = &g_array_index(working->steps, Step, i);
        if (step->type == STEP_GIVEN && !step->followed)
            return step;
    }
    return NULL;
}

const char *
working_settle_path(const Working *working)
{
    return working->settle_path;
}

const char *
working_settle_text(const Working *working)
{
    return working->settle_text;
}

void
working_settles(Working *w, const char *path, const char *text)
{
    w->settle_path = result_keep(w->result, path);
    w->settle_text = result_keep(w->result, text);
}

static Step *
last_step(Working *w)
{
    g_assert(w->steps->len > 0);
    return &g_array_index(w->steps, Step, w->steps->len - 1);
}

static Step *
add(Working *w, StepType type, const char *symbol, const char *label, size_t n,
    const double value[], QuantityKind kind, const Source *source)
{
    g_assert(working_find(w, symbol) == NULL);
    double *kept = result_block(w->result, MAX(n, 1) * sizeof *kept);
    memcpy(kept, value, n * sizeof *kept);
    Step step = {.type = type,
                 .symbol = result_keep(w->result, symbol),
                 .label = result_keep(w->result, label),
                 .n = n,
                 .value = kept,
                 .kind = kind,
                 .basis = BASIS_MEASURED,
                 .source = source != NULL ? *source : owner_source,
                 .validity = VALID,
                 .followed = true};
    step.source.text = result_keep(w->result, step.source.text);
    g_array_append_val(w->steps, step);
    return last_step(w);
}

static bool
settled(Basis basis)
{
    return basis < BASIS_BY_EYE;
}

void
working_given(Working *w, const char *symbol, const char *label, double value, QuantityKind kind,
              double spread, Basis basis, const Source *source)
{
    Step *step = add(w, STEP_GIVEN, symbol, label, 1, &value, kind, source);
    step->spread = spread;
    step->basis = basis;
    step->followed = spread > 0.0 || settled(basis);
}

void
working_from_boat(Working *w, const char *symbol, const Record *record, const char *key)
{
    const Field *field = section_field(record->section, key);
    const FieldState *state = record_state(record, key);
    g_assert(field != NULL && state != NULL);
    working_given(w, symbol, field->label, record_number(record, key), field->kind, state->spread,
                  state->basis, NULL);
    g_autofree char *path = g_strconcat(record->path, ".", key, NULL);
    last_step(w)->path = g_string_chunk_insert(w->result->texts, path);
}

void
working_list(Working *w, const char *symbol, const char *label, size_t n, const double value[],
             const char *const names[], QuantityKind kind, Basis basis, const Source *source)
{
    Step *step = add(w, STEP_GIVEN, symbol, label, n, value, kind, source);
    step->basis = basis;
    step->followed = settled(basis);
    if (names != NULL) {
        const char **kept = result_block(w->result, MAX(n, 1) * sizeof *kept);
        for (size_t i = 0; i < n; i++)
            kept[i] = result_keep(w->result, names[i]);
        step->names = kept;
    }
}

void
working_reckon(Working *w, const char *symbol, const char *label, const char *expression,
               double value, QuantityKind kind, double spread, const Source *source)
{
    Step *step = add(w, STEP_EQUALS, symbol, label, 1, &value, kind, source);
    step->expression = result_keep(w->result, expression);
    step->spread = spread;
}

void
working_equals(Working *w, const char *symbol, const char *label, double value, QuantityKind kind,
               double spread, const Method *method)
{
    const char *equals = strchr(method->formula, '=');
    g_assert(equals != NULL);
    g_autofree char *left = g_strstrip(g_strndup(method->formula, equals - method->formula));
    g_assert(strcmp(left, symbol) == 0);
    g_autofree char *right = g_strstrip(g_strdup(equals + 1));
    working_reckon(w, symbol, label, right, value, kind, spread, &method->source);
}

void
working_found(Working *w, const char *symbol, const char *label, const char *equation, double value,
              QuantityKind kind, double spread, const Source *source, Validity validity)
{
    Step *step = add(w, STEP_FOUND, symbol, label, 1, &value, kind, source);
    step->expression = result_keep(w->result, equation);
    step->spread = spread;
    step->validity = validity;
}

void
working_validity_is(Working *w, Validity validity)
{
    last_step(w)->validity = validity;
}

void
working_followed_is(Working *w, bool followed)
{
    last_step(w)->followed = followed;
}

void
working_path_is(Working *w, const char *path)
{
    last_step(w)->path = result_keep(w->result, path);
}
