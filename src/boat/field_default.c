/* What a field holds when the file says nothing about it.
 *
 * Invariant: without a default a number is NAN, never 0. */
#include "boat/boat_internal.h"

#include <math.h>
#include <string.h>

static int
choice_of(const Field *field, const char *word)
{
    for (int i = 0; field->choices[i].word != NULL; i++)
        if (strcmp(field->choices[i].word, word) == 0)
            return i;
    return -1;
}

static void
default_number(const Field *field, double *value, FieldState *state)
{
    *value = NAN;
    state->spread = NAN;
    if (!field->has_standard)
        return;
    *value = field->standard;
    state->origin = ORIGIN_DEFAULT;
    state->spread = field->standard_spread;
    /* Leaving `across` out states that the thing is on the centreline: as sure as a measured place, for what is
     * built in pairs or amidships is seldom off by more (judgement of this project). */
    if (field_is_place(field)) {
        state->basis = BASIS_STATED;
        state->spread = place_usual_spread(BASIS_MEASURED);
    }
}

void
field_default(const Field *field, void *data, FieldState *state)
{
    void *member = field_member(field, data);
    *state = (FieldState){.origin = ORIGIN_MISSING, .basis = BASIS_ASSUMED, .spread = NAN};
    if (field_is_number(field)) {
        default_number(field, member, state);
        return;
    }
    switch (field->type) {
    case FIELD_THREE_POINT:
        *(ThreePoint *) member = (ThreePoint){NAN, NAN, NAN};
        break;
    case FIELD_RANGE:
    case FIELD_ALONG_RANGE:
    case FIELD_ACROSS_RANGE:
    case FIELD_HEIGHT_RANGE:
        *(Range *) member = (Range){.low = NAN, .high = NAN, .basis = BASIS_ASSUMED, .spread = NAN};
        break;
    case FIELD_POSITION:
        *(EarthPosition *) member = (EarthPosition){NAN, NAN};
        break;
    case FIELD_ANY:
        *(Quantity *) member =
            (Quantity){.value = NAN, .spread = NAN, .basis = BASIS_ASSUMED, .count = 1};
        break;
    case FIELD_CHOICE:
        *(int *) member =
            field->standard_word == NULL ? -1 : choice_of(field, field->standard_word);
        break;
    case FIELD_TEXT:
        *(const char **) member = field->standard_word;
        break;
    default: /* flags, dates, references, lists, maps and rows are missing when they are all zero */
        break;
    }
    if (field->standard_word != NULL)
        state->origin = ORIGIN_DEFAULT;
}
