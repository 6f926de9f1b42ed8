/* Workings: steps in the order they were reckoned.
 * Invariant: a symbol stands once in a working, and a formula names only symbols that stand before it. */
#include <math.h>
#include <string.h>

#include "result/result_private.h"

static const Source owner_source = {NULL, STANDING_DERIVED};

Working *
result_working(Result *result, const char *title)
{
    Working *w = result_block(result, sizeof *w);
    w->result = result;
    w->title = result_keep(result, title);
    return w;
}

const char *
working_title(const Working *working)
{
    return working->title;
}

size_t
working_steps(const Working *working)
{
    return working->steps;
}

const Step *
working_step(const Working *working, size_t i)
{
    g_return_val_if_fail(i < working->steps, NULL);
    return &working->step[i];
}

const Step *
working_find(const Working *working, const char *symbol)
{
    for (size_t i = 0; i < working->steps; i++) {
        const Step *step = &working->step[i];
        if (step->symbol[0] == symbol[0] && strcmp(step->symbol, symbol) == 0)
            return step;
    }
    return NULL;
}

const Step *
working_last(const Working *working)
{
    return working->steps > 0 ? working_step(working, working->steps - 1) : NULL;
}

Basis
working_basis(const Working *working)
{
    Basis basis = BASIS_MEASURED;
    for (size_t i = 0; i < working->steps; i++)
        basis = basis_worse(basis, working->step[i].basis);
    return basis;
}

Standing
working_standing(const Working *working)
{
    Standing standing = STANDING_DERIVED;
    for (size_t i = 0; i < working->steps; i++)
        standing = standing_worse(standing, working->step[i].source.standing);
    return standing;
}

Validity
working_validity(const Working *working)
{
    Validity validity = VALID;
    for (size_t i = 0; i < working->steps; i++)
        validity = validity_worse(validity, working->step[i].validity);
    return validity;
}

const Step *
working_unfollowed(const Working *working)
{
    for (size_t i = 0; i < working->steps; i++) {
        const Step *step = &working->step[i];
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
    g_assert(w->steps > 0);
    return &w->step[w->steps - 1];
}

static Step *
room_for_step(Working *w)
{
    if (w->steps == w->room) {
        const Step *was = w->step;
        w->room = w->room > 0 ? 2 * w->room : 4;
        w->step = result_room(w->result, w->room * sizeof *w->step);
        if (was != NULL)
            memcpy(w->step, was, w->steps * sizeof *w->step);
    }
    return &w->step[w->steps++];
}

static Step *
add(Working *w, StepType type, const char *symbol, const char *label, size_t n,
    const double value[], QuantityKind kind, const Source *source)
{
    g_assert(working_find(w, symbol) == NULL);
    double *kept = result_room(w->result, MAX(n, 1) * sizeof *kept);
    memcpy(kept, value, n * sizeof *kept);
    Step *step = room_for_step(w);
    *step = (Step){.type = type,
                   .symbol = result_keep(w->result, symbol),
                   .label = result_keep(w->result, label),
                   .n = n,
                   .value = kept,
                   .kind = kind,
                   .basis = BASIS_MEASURED,
                   .source = source != NULL ? *source : owner_source,
                   .validity = VALID,
                   .followed = true};
    step->source.text = result_keep(w->result, step->source.text);
    return step;
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
    g_assert(field != NULL);
    const FieldState *state = &record->state[field - record->section->fields];
    const double *number = record_double(record, field);
    working_given(w, symbol, field->label, number != NULL ? *number : NAN, field->kind,
                  state->spread, state->basis, NULL);
    last_step(w)->path = result_path(w->result, record, field);
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

void
working_path_of(Working *w, const Record *record, const char *key)
{
    const Field *field = section_field(record->section, key);
    g_assert(field != NULL);
    last_step(w)->path = result_path(w->result, record, field);
}
