/* Every typed value of the demo boats on every basis: the value stays, the basis is the one asked for. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "boat/boat.h"
#include "boat/edit.h"
#include "boat/read_internal.h"
#include "boat/written.h"

static bool
same_number(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

static void
assert_only_basis(const char *typed, const char *rebased, const Quantity *before,
                  const Quantity *after, Basis basis)
{
    if (!same_number(after->value, before->value) || !same_number(after->spread, before->spread) ||
        after->count != before->count || after->basis != basis)
        fail_msg("%s became %s", typed, rebased);
}

/* Reads what a field of one number or place holds; false: it is of another form. */
static bool
read_one(const Field *field, const char *text, Quantity *out)
{
    PlaceText place;
    QuantityKind kind;
    char *problem = NULL;
    bool read = false;
    switch (field->type) {
    case FIELD_QUANTITY:
    case FIELD_COUNT:
    case FIELD_MONEY:
        read = quantity_parse(text, field->kind, out, &problem);
        break;
    case FIELD_DENSITY:
        read = strpbrk(text, "0123456789") != NULL && words_density(text, out, &problem);
        break;
    case FIELD_ANY:
        read = words_any(text, out, &kind, &problem);
        break;
    case FIELD_ALONG:
    case FIELD_ACROSS:
    case FIELD_HEIGHT:
        read = place_parse(text, field_axis(field), &place, &problem);
        *out = place.offset;
        out->value *= place.sign;
        g_free(place.mark);
        break;
    default:
        break;
    }
    g_free(problem);
    return read && !out->unknown;
}

static void
on_every_basis(const Field *field, const char *typed, const Quantity *before)
{
    for (Basis basis = BASIS_MEASURED; basis <= BASIS_ASSUMED; basis++) {
        Quantity after = {.value = NAN};
        g_autofree char *rebased = quantity_text_rebased(typed, basis);
        if (rebased == NULL || !read_one(field, rebased, &after))
            fail_msg("%s on %s: %s", typed, basis_word(basis), rebased);
        assert_only_basis(typed, rebased, before, &after, basis);
        g_autofree char *first = quantity_text_rebased(typed, BASIS_MEASURED);
        g_autofree char *direct = quantity_text_rebased(first, basis);
        assert_string_equal(direct, rebased); /* no trace of the one in between */
    }
}

static bool
is_range(const Field *field)
{
    return field->type == FIELD_RANGE || field->type == FIELD_ALONG_RANGE ||
           field->type == FIELD_ACROSS_RANGE || field->type == FIELD_HEIGHT_RANGE;
}

/* A range is read with its boat. */
static void
range_on_a_basis(const Boat *boat, const Record *record, const Field *field, Basis basis)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    gsize length, after;
    const char *text = document_text(boat_document(boat), &length);
    g_autofree char *typed = field_written(boat, record, field);
    g_autofree char *rebased = quantity_text_rebased(typed, basis);
    g_autofree char *path = g_strconcat(record->path, ".", field->key, NULL);
    Edit edit = {.path = path, .value = rebased};
    g_autofree char *edited = edit_apply(text, length, 1, &edit, &after, NULL);
    assert_non_null(edited);
    g_autoptr(Boat) again = boat_parse(edited, after, 0, NULL, notes, NULL);
    assert_int_equal(diagnostics_errors(notes), 0);
    const Field *same;
    const Record *now = boat_at(again, path, &same);
    const Range *old = (const void *) ((const char *) record->data + field->offset),
                *new = (const void *) ((const char *) now->data + field->offset);
    assert_true(new->low == old->low &&new->high == old->high);
    assert_int_equal(record_state(now, field->key)->basis, basis);
}

static size_t
every_value_of(const Boat *boat)
{
    size_t seen = 0;
    for (size_t s = 0; boat_sections[s] != NULL; s++) {
        size_t n;
        const Record *const *records = boat_records(boat, boat_sections[s], &n);
        for (size_t i = 0; i < n; i++)
            for (size_t f = 0; f < boat_sections[s]->n_fields; f++) {
                const Field *field = &boat_sections[s]->fields[f];
                const FieldState *state = &records[i]->state[f];
                Quantity before = {.value = NAN};
                if (state->origin != ORIGIN_TYPED || state->node->type != NODE_SCALAR)
                    continue;
                if (is_range(field)) {
                    range_on_a_basis(boat, records[i], field, BASIS_BY_EYE);
                    range_on_a_basis(boat, records[i], field, BASIS_PLATE);
                } else if (read_one(field, state->node->text, &before) &&
                           strcmp(state->node->text, "centreline") != 0) {
                    on_every_basis(field, state->node->text, &before);
                    seen++;
                }
            }
    }
    return seen;
}

static void
demo_boats_keep_their_values(void **state)
{
    (void) state;
    static const char *const names[] = {"dunlin.yaml", "punt.yaml", "whimbrel.yaml"};
    size_t seen = 0;
    for (size_t i = 0; i < G_N_ELEMENTS(names); i++) {
        g_autoptr(Diagnostics) notes = diagnostics_new();
        g_autofree char *path = g_build_filename(getenv("EXAMPLES"), names[i], NULL);
        g_autoptr(Boat) boat = boat_load(path, 0, NULL, notes, NULL);
        assert_non_null(boat);
        seen += every_value_of(boat);
    }
    assert_true(seen > 200);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(demo_boats_keep_their_values)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
