/* Places as people say them, and the marks they are measured from.
 *
 * Invariant: the sign of a place comes from its words only (aft of, below, starboard), never from a
 * minus; a place whose mark cannot be found stays NAN. */
#include "boat/read_internal.h"

#include <math.h>
#include <string.h>

/* A chain of marks longer than this is a slip, and the walk along it stays shallow. */
enum { MOST_MARKS_ON_A_ROW = 32 };

Axis
field_axis(const Field *field)
{
    if (field->type == FIELD_ALONG || field->type == FIELD_ALONG_RANGE)
        return AXIS_ALONG;
    return field->type == FIELD_HEIGHT || field->type == FIELD_HEIGHT_RANGE ? AXIS_HEIGHT
                                                                            : AXIS_ACROSS;
}

static const char *
expected_form(Axis axis)
{
    static const char *const forms[] = {
        "expected a place from the stern as 3.4 m, or from a mark as 0.6 m aft of engine-bulkhead",
        "expected a place from the centreline as 0.8 m starboard or 0.8 m port",
        "expected a height as 0.7 m above the base line, or from a mark as 0.3 m above sole"};
    return forms[axis];
}

static bool
say(char **problem, char *text)
{
    *problem = text;
    return false;
}

/* Cuts ` aft of MARK` out of the text: what is left is a quantity. */
static char *
cut_mark(const char *text, Axis axis, PlaceText *place)
{
    static const struct {
        const char *words;
        double sign;
        Axis axis;
    } relation[] = {{" aft of ", -1.0, AXIS_ALONG},
                    {" forward of ", 1.0, AXIS_ALONG},
                    {" below ", -1.0, AXIS_HEIGHT},
                    {" above ", 1.0, AXIS_HEIGHT}};
    for (size_t i = 0; i < G_N_ELEMENTS(relation); i++) {
        const char *at = relation[i].axis == axis ? strstr(text, relation[i].words) : NULL;
        if (at == NULL)
            continue;
        const char *mark = at + strlen(relation[i].words);
        size_t length = strcspn(mark, " (");
        place->mark = g_strndup(mark, length);
        place->sign = relation[i].sign;
        g_autofree char *before = g_strndup(text, (gsize) (at - text));
        return g_strconcat(before, " ", mark + length, NULL);
    }
    return g_strdup(text);
}

/* Cuts the word starboard or port out; *sided says whether there was one. */
static char *
cut_side(const char *text, PlaceText *place, bool *sided)
{
    g_auto(GStrv) words = g_strsplit(text, " ", -1);
    GString *rest = g_string_new(NULL);
    *sided = false;
    for (size_t i = 0; words[i] != NULL; i++) {
        bool starboard = strcmp(words[i], "starboard") == 0;
        if (!*sided && (starboard || strcmp(words[i], "port") == 0)) {
            *sided = true;
            place->sign = starboard ? -1.0 : 1.0;
        } else {
            g_string_append_printf(rest, "%s%s", i > 0 ? " " : "", words[i]);
        }
    }
    return g_string_free(rest, FALSE);
}

static bool
take_offset(const char *text, Axis axis, PlaceText *place, char **problem)
{
    g_autofree char *why = NULL;
    if (text[0] == '-') {
        static const char *const instead[] = {"0.4 m aft of stern", "0.8 m starboard",
                                              "0.2 m below base"};
        return say(problem, g_strdup_printf("a place has no sign; write it as %s", instead[axis]));
    }
    if (!quantity_parse(text, Q_LENGTH, &place->offset, &why))
        return say(problem, g_strdup_printf("%s; %s", expected_form(axis), why));
    if (place->offset.count > 1)
        return say(problem, g_strdup_printf("one thing has one place; %s", expected_form(axis)));
    if (place->offset.value < 0.0)
        return say(problem, g_strdup_printf("a place has no sign; %s", expected_form(axis)));
    return true;
}

bool
place_parse(const char *text, Axis axis, PlaceText *place, char **problem)
{
    *place = (PlaceText){.sign = 1.0};
    bool sided = true;
    g_autofree char *trimmed = g_strstrip(g_strdup(text));
    g_autofree char *rest = NULL;
    if (axis != AXIS_ACROSS) {
        rest = cut_mark(trimmed, axis, place);
        if (place->mark != NULL && place->mark[0] == '\0') {
            g_clear_pointer(&place->mark, g_free);
            return say(problem, g_strdup_printf("a mark is missing; %s", expected_form(axis)));
        }
    } else if (g_str_has_prefix(trimmed, "centreline")) {
        rest = g_strconcat("0 m", trimmed + strlen("centreline"), NULL);
    } else {
        rest = cut_side(trimmed, place, &sided);
    }
    if (!take_offset(rest, axis, place, problem)) {
        g_clear_pointer(&place->mark, g_free);
        return false;
    }
    if (!sided && !place->offset.unknown && place->offset.value != 0.0)
        return say(problem, g_strdup_printf("starboard or port? %s", expected_form(axis)));
    return true;
}

/* --- one place -------------------------------------------------------------------------------- */

static void
settle(FieldState *state, Basis basis, double typed_spread)
{
    state->basis = basis;
    state->spread_typed = !isnan(typed_spread);
    state->spread = state->spread_typed ? typed_spread : place_usual_spread(basis);
}

void
read_place(Reader *r, const Field *field, const Node *node, void *member, FieldState *state)
{
    PlaceText place;
    char *problem = NULL;
    if (!place_parse(node->text, field_axis(field), &place, &problem)) {
        reader_error(r, node, "%s", problem);
        g_free(problem);
        return;
    }
    double *value = member;
    *value = NAN;
    state->origin = place.offset.unknown ? ORIGIN_UNKNOWN : ORIGIN_TYPED;
    state->spread = NAN;
    if (place.offset.unknown) {
        g_free(place.mark);
        return;
    }
    settle(state, place.offset.basis, place.offset.spread);
    if (place.mark == NULL) {
        *value = place.sign * place.offset.value;
        if (!within_bounds(r, field, node, *value))
            *value = NAN;
        return;
    }
    state->mark = boat_string(r->boat, place.mark);
    wait_for_mark(r, &place,
                  (MarkedPlace){.value = value,
                                .state = state,
                                .axis = field_axis(field),
                                .field = field,
                                .node = node});
}

void
wait_for_mark(Reader *r, const PlaceText *place, MarkedPlace waiting)
{
    waiting.offset = place->sign * place->offset.value;
    waiting.typed_spread = place->offset.spread;
    waiting.basis = place->offset.basis;
    waiting.mark = place->mark;
    g_array_append_val(r->places, waiting);
}

/* --- ranges ----------------------------------------------------------------------------------- */

static bool
read_end(Reader *r, const Field *field, const Node *node, const char *text, PlaceText *place)
{
    char *problem = NULL;
    if (place_parse(text, field_axis(field), place, &problem) && !place->offset.unknown)
        return true;
    reader_error(r, node, "%s",
                 problem != NULL ? problem : "`unknown` stands for a whole range, not for one end");
    g_free(problem);
    g_clear_pointer(&place->mark, g_free);
    return false;
}

static void
place_end(Reader *r, const Field *field, const Node *node, Range *range, double *end,
          const PlaceText *place)
{
    *end = place->mark == NULL ? place->sign * place->offset.value : NAN;
    if (place->mark != NULL)
        wait_for_mark(r, place,
                      (MarkedPlace){.value = end,
                                    .range = range,
                                    .axis = field_axis(field),
                                    .field = field,
                                    .node = node});
}

/* The basis stands behind the last end and speaks for both. */
static void
range_basis(const PlaceText *low, const PlaceText *high, Range *range, FieldState *state)
{
    Basis basis = low->offset.basis == BASIS_STATED
                      ? high->offset.basis
                      : basis_worse(low->offset.basis, high->offset.basis);
    settle(state, basis, fmax(low->offset.spread, high->offset.spread));
    range->basis = basis;
    range->spread = state->spread;
}

void
read_place_range(Reader *r, const Field *field, const Node *node, Range *range, FieldState *state)
{
    if (strcmp(node->text, "unknown") == 0) {
        state->origin = ORIGIN_UNKNOWN;
        return;
    }
    const char *to = strstr(node->text, " to ");
    if (to == NULL) {
        reader_error(r, node, "expected a range as %s; found `%s`",
                     field_axis(field) == AXIS_ACROSS ? "1.2 m port to 1.2 m starboard"
                                                      : "6.0 m to 10.4 m",
                     node->text);
        return;
    }
    g_autofree char *first = g_strndup(node->text, (gsize) (to - node->text));
    PlaceText low, high;
    if (!read_end(r, field, node, first, &low))
        return;
    if (!read_end(r, field, node, to + strlen(" to "), &high)) {
        g_free(low.mark);
        return;
    }
    state->origin = ORIGIN_TYPED;
    range_basis(&low, &high, range, state);
    place_end(r, field, node, range, &range->low, &low);
    place_end(r, field, node, range, &range->high, &high);
}

/* --- marks ------------------------------------------------------------------------------------ */

static bool resolve(Reader *r, MarkedPlace *place, unsigned depth);

static void
mark_missing(Reader *r, const MarkedPlace *place)
{
    size_t n;
    const Record *const *marks = boat_records(r->boat, &section_marks, &n);
    g_autoptr(GPtrArray) words = g_ptr_array_new();
    for (size_t i = 0; i < n && r->near_left > 0; i++)
        g_ptr_array_add(words, (gpointer) marks[i]->id);
    g_ptr_array_add(words, (gpointer) (place->axis == AXIS_ALONG ? "stern" : "base"));
    g_autofree char *near = reader_nearest(r, place->mark, words);
    reader_error(r, place->node, "there is no mark `%s`%s", place->mark, near);
}

/* A place is no surer than its mark. */
static void
inherit_doubt(const MarkedPlace *place, const FieldState *mark)
{
    Basis basis = mark == NULL ? place->basis : basis_worse(place->basis, mark->basis);
    double spread = place_usual_spread(basis);
    if (mark != NULL && !isnan(mark->spread))
        spread = fmax(spread, mark->spread);
    if (!isnan(place->typed_spread))
        spread = mark == NULL || isnan(mark->spread) ? place->typed_spread
                                                     : hypot(place->typed_spread, mark->spread);
    if (place->state != NULL) {
        place->state->basis = basis;
        place->state->spread = spread;
    }
    if (place->range != NULL) {
        place->range->basis = basis_worse(place->range->basis, basis);
        place->range->spread = fmax(place->range->spread, spread);
    }
}

/* Where the mark of a place is; *state is its field's, NULL for the marks that always exist. */
static bool
mark_position(Reader *r, const MarkedPlace *place, unsigned depth, double *position,
              const FieldState **state)
{
    const char *built_in = place->axis == AXIS_ALONG ? "stern" : "base";
    const char *key = place->axis == AXIS_ALONG ? "along" : "height";
    *position = 0.0;
    *state = NULL;
    if (strcmp(place->mark, built_in) == 0)
        return true;
    const Record *mark = boat_find(r->boat, &section_marks, place->mark);
    if (mark == NULL) {
        mark_missing(r, place);
        return false;
    }
    *state = record_state(mark, key);
    MarkedPlace *next = g_hash_table_lookup(r->waiting, *state);
    if (next != NULL && next->progress == PLACE_ACTIVE) {
        reader_error(r, place->node,
                     "the marks are measured from each other in a loop (through `%s`)",
                     place->mark);
        return false;
    }
    if (next != NULL && !resolve(r, next, depth + 1))
        return false;
    *position = record_number(mark, key);
    if (isnan(*position) && (*state)->origin == ORIGIN_MISSING) {
        reader_error(r, place->node, "the mark `%s` has no `%s`, from which this is measured",
                     place->mark, key);
        return false;
    }
    return true;
}

static bool
resolve_once(Reader *r, MarkedPlace *place, unsigned depth)
{
    const FieldState *mark;
    double from;
    if (depth > MOST_MARKS_ON_A_ROW) {
        reader_error(r, place->node, "more than %d marks are measured one from the other",
                     MOST_MARKS_ON_A_ROW);
        return false;
    }
    if (!mark_position(r, place, depth, &from, &mark))
        return false;
    if (isnan(from)) { /* the mark's place is unknown, so this one is */
        if (place->state != NULL)
            place->state->origin = ORIGIN_UNKNOWN;
        return true;
    }
    if (!within_bounds(r, place->field, place->node, from + place->offset))
        return false;
    *place->value = from + place->offset;
    inherit_doubt(place, mark);
    return true;
}

static bool
resolve(Reader *r, MarkedPlace *place, unsigned depth)
{
    if (place->progress == PLACE_FRESH) {
        place->progress = PLACE_ACTIVE;
        place->progress = resolve_once(r, place, depth) ? PLACE_DONE : PLACE_FAILED;
    }
    return place->progress == PLACE_DONE;
}

void
places_resolve(Reader *r)
{
    if (r->patch)
        return;
    r->waiting = g_hash_table_new(NULL, NULL);
    for (size_t i = 0; i < r->places->len; i++) {
        MarkedPlace *place = &g_array_index(r->places, MarkedPlace, i);
        if (place->state != NULL)
            g_hash_table_insert(r->waiting, place->state, place);
    }
    for (size_t i = 0; i < r->places->len; i++)
        resolve(r, &g_array_index(r->places, MarkedPlace, i), 0);
    g_clear_pointer(&r->waiting, g_hash_table_unref);
}
