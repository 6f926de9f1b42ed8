/* One field of a record from its node.
 *
 * Invariant: a value that cannot be read leaves the field as if nothing were written, and an error
 * in the notes. */
#include "boat/read_internal.h"

#include <math.h>
#include <string.h>

#include "base/number.h"

bool
within_bounds(Reader *r, const Field *field, const Node *node, double value)
{
    bool bounded = field->min != 0.0 || field->max != 0.0;
    if (!isfinite(value)) {
        reader_error(r, node, "the number is not finite");
        return false;
    }
    if (!bounded || (value >= field->min && value <= field->max))
        return true;
    g_autofree char *low = number_show(field->min, 0.0, field->kind, UNITS_METRIC);
    g_autofree char *high = number_show(field->max, 0.0, field->kind, UNITS_METRIC);
    reader_error(r, node, "expected between %s and %s; found `%s`", low, high, node->text);
    return false;
}

/* A ` #` ends a value: the owner may have meant it as part of the text, or as a number sign. */
void
warn_hash(Reader *r, const Field *field, const Node *node)
{
    if (!node->plain || node->end >= r->length)
        return;
    size_t at = node->end;
    while (at < r->length && (r->text[at] == ' ' || r->text[at] == '\t'))
        at++;
    if (at == node->end || at + 1 >= r->length || r->text[at] != '#')
        return;
    if (field->type == FIELD_TEXT || g_ascii_isdigit(r->text[at + 1]))
        reader_warn(r, node,
                    "what stands behind # is a comment and not part of the value; put the whole in "
                    "quotes if it belongs to it");
}

static void
settle(const Field *field, FieldState *state, const Quantity *quantity)
{
    state->origin = quantity->unknown ? ORIGIN_UNKNOWN : ORIGIN_TYPED;
    state->basis = quantity->basis;
    state->spread_typed = !isnan(quantity->spread);
    state->spread = quantity->unknown ? NAN
                    : state->spread_typed
                        ? quantity->spread
                        : quantity_usual_spread(field->kind, quantity->basis, quantity->value);
}

static bool
read_number(Reader *r, const Field *field, const Node *node, double *value, FieldState *state)
{
    Quantity quantity;
    g_autofree char *problem = NULL;
    bool read = field->type == FIELD_DENSITY ? words_density(node->text, &quantity, &problem)
                : field->type == FIELD_WIRE
                    ? words_wire(node->text, &quantity, &problem)
                    : quantity_parse(node->text, field->kind, &quantity, &problem);
    if (!read) {
        reader_error(r, node, "%s", problem);
        return false;
    }
    if (!quantity.unknown && !within_bounds(r, field, node, quantity.value))
        return false;
    *value = quantity.value;
    settle(field, state, &quantity);
    return true;
}

static void
refuse_word(Reader *r, const Field *field, const Node *node)
{
    g_autoptr(GPtrArray) words = g_ptr_array_new();
    g_autoptr(GString) list = g_string_new(NULL);
    for (int i = 0; field->choices[i].word != NULL; i++) {
        g_ptr_array_add(words, (gpointer) field->choices[i].word);
        g_string_append_printf(list, "%s%s", i > 0 ? ", " : "", field->choices[i].word);
    }
    g_autofree char *near = reader_nearest(r, node->text, words);
    reader_error(r, node, "expected one of %s; found `%s`%s", list->str, node->text, near);
}

/* Which of the words of the field stands there; -1 after an error. */
static int
find_word(Reader *r, const Field *field, const Node *node)
{
    for (int i = 0; field->choices[i].word != NULL; i++)
        if (strcmp(field->choices[i].word, node->text) == 0)
            return i;
    refuse_word(r, field, node);
    return -1;
}

static void
read_choice(Reader *r, const Field *field, const Node *node, int *value, FieldState *state)
{
    state->origin = ORIGIN_UNKNOWN;
    *value = -1;
    if (strcmp(node->text, "unknown") == 0)
        return;
    *value = find_word(r, field, node);
    if (*value < 0)
        return;
    state->origin = ORIGIN_TYPED;
    state->basis = BASIS_STATED;
}

static void
read_words(Reader *r, const Field *field, const Node *node, unsigned *bits, FieldState *state)
{
    *bits = 0;
    for (size_t i = 0; i < node_n_children(node); i++) {
        const Node *child = node_nth(node, i);
        int word = -1;
        if (child->type != NODE_SCALAR)
            reader_error(r, child, "expected a word");
        else
            word = find_word(r, field, child);
        if (word >= 0)
            *bits |= 1u << word;
    }
    state->origin = ORIGIN_TYPED;
    state->basis = BASIS_STATED;
}

static bool
read_spans(Reader *r, const Field *field, const Node *node, void *member, char **problem)
{
    if (field->type == FIELD_THREE_POINT) {
        ThreePoint *points = member;
        return three_point_parse(node->text, field->kind, points, problem) &&
               within_bounds(r, field, node, points->low) &&
               within_bounds(r, field, node, points->high);
    }
    Range *range = member;
    return range_parse(node->text, field->kind, range, problem) &&
           within_bounds(r, field, node, range->low) && within_bounds(r, field, node, range->high);
}

static bool
read_form(Reader *r, const Field *field, const Node *node, void *member, char **problem)
{
    QuantityKind kind;
    Quantity *any = member;
    switch (field->type) {
    case FIELD_FLAG:
        return words_flag(node->text, member, problem);
    case FIELD_DATE:
        return words_date(node->text, member, problem);
    case FIELD_POSITION:
        return words_position(node->text, member, problem);
    case FIELD_TIME:
        return words_time(node->text, member, problem);
    case FIELD_ANY:
        if (!words_any(node->text, any, &kind, problem))
            return false;
        if (isnan(any->spread))
            any->spread = quantity_usual_spread(kind, any->basis, any->value);
        return true;
    default:
        return read_spans(r, field, node, member, problem);
    }
}

static void
read_text(Reader *r, const Field *field, const Node *node, void *member, FieldState *state)
{
    if (field->type == FIELD_REFERENCE) {
        WaitingReference waiting = {node, node->text, field->refers_to};
        ((Reference *) member)->id = boat_string(r->boat, node->text);
        g_array_append_val(r->references, waiting);
    } else {
        *(const char **) member = boat_string(r->boat, node->text);
    }
    state->origin = ORIGIN_TYPED;
    state->basis = BASIS_STATED;
}

static void
read_scalar(Reader *r, const Field *field, const Node *node, void *member, FieldState *state)
{
    bool unknown = strcmp(node->text, "unknown") == 0;
    char *problem = NULL;
    warn_hash(r, field, node);
    if (field_is_place(field)) {
        read_place(r, field, node, member, state);
    } else if (field->type == FIELD_ALONG_RANGE || field->type == FIELD_ACROSS_RANGE ||
               field->type == FIELD_HEIGHT_RANGE) {
        read_place_range(r, field, node, member, state);
    } else if (field_is_number(field) && field->type != FIELD_TIME) {
        read_number(r, field, node, member, state);
    } else if (field->type == FIELD_CHOICE) {
        read_choice(r, field, node, member, state);
    } else if (unknown && field->type != FIELD_FLAG) {
        *state = (FieldState){
            .origin = ORIGIN_UNKNOWN, .basis = BASIS_ASSUMED, .spread = NAN, .node = node};
        if (field->type == FIELD_TEXT)
            *(const char **) member = NULL;
    } else if (field->type == FIELD_TEXT || field->type == FIELD_REFERENCE) {
        read_text(r, field, node, member, state);
    } else if (read_form(r, field, node, member, &problem)) {
        state->origin = unknown ? ORIGIN_UNKNOWN : ORIGIN_TYPED;
        state->basis = BASIS_STATED;
    } else if (problem != NULL) {
        reader_error(r, node, "%s", problem);
    }
    g_free(problem);
}

static bool
is_of_lines(const Field *field)
{
    return field->type == FIELD_ROWS || field->type == FIELD_LIST || field->type == FIELD_WORDS ||
           field->type == FIELD_MAP;
}

void
read_field(Reader *r, Record *record, const Field *field, const Node *node)
{
    FieldState *state = &record->state[field - record->section->fields];
    void *member = field_member(field, record->data);
    bool removal =
        r->patch && node->type == NODE_SCALAR && node->plain && strcmp(node->text, "remove") == 0;
    if (removal)
        return;
    bool blank = node->type == NODE_SCALAR && node->text[strspn(node->text, " \t\r\n")] == '\0';
    if (node->type == NODE_EMPTY || blank) {
        reader_warn(r, node, "nothing stands here: it counts as missing");
        return;
    }
    state->node = node;
    if (is_of_lines(field) && node->type == NODE_SCALAR && strcmp(node->text, "unknown") == 0) {
        state->origin = ORIGIN_UNKNOWN;
        return;
    }
    if (field->type == FIELD_ROWS && node->type == NODE_LIST)
        read_rows(r, record, field, node, member, state);
    else if (field->type == FIELD_LIST && node->type == NODE_LIST)
        read_list(r, field, node, member, state);
    else if (field->type == FIELD_WORDS && node->type == NODE_LIST)
        read_words(r, field, node, member, state);
    else if (field->type == FIELD_MAP && node->type == NODE_MAP)
        read_map(r, field, node, member, state);
    else if (!is_of_lines(field) && node->type == NODE_SCALAR)
        read_scalar(r, field, node, member, state);
    else
        reader_error(r, node, "expected %s",
                     field->type == FIELD_MAP ? "entries of the form `name: value`, one a line"
                     : is_of_lines(field)     ? "a list such as [first, second]"
                                              : "one value, not a list or group");
}
