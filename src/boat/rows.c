/* Rows of a list that are more than one number: points of a station, readings, and plain lists and
 * maps.
 *
 * Invariant: a row that cannot be read is reported and left out; the others keep their order. */
#include "boat/read_internal.h"

#include <math.h>
#include <string.h>

static char *
joined(char *const words[], size_t from, size_t to)
{
    GString *text = g_string_new(NULL);
    for (size_t i = from; i < to; i++)
        g_string_append_printf(text, "%s%s", i > from ? " " : "", words[i]);
    return g_string_free(text, FALSE);
}

static char **
words_of(const char *text)
{
    g_autoptr(GPtrArray) words = g_ptr_array_new();
    g_auto(GStrv) parts = g_strsplit_set(text, " \t\n", -1);
    for (size_t i = 0; parts[i] != NULL; i++)
        if (parts[i][0] != '\0')
            g_ptr_array_add(words, g_strdup(parts[i]));
    g_ptr_array_add(words, NULL);
    return (char **) g_ptr_array_free(g_steal_pointer(&words), FALSE);
}

static bool
two_lengths(char *const words[], size_t n, size_t cut, Quantity *first, Quantity *second)
{
    /* A number opens each part: it saves looking for units in words that are none. */
    if (strchr("0123456789.-+", words[cut][0]) == NULL && strcmp(words[cut], "about") != 0)
        return false;
    g_autofree char *a = joined(words, 0, cut);
    g_autofree char *b = joined(words, cut, n);
    return quantity_parse(a, Q_LENGTH, first, NULL) && quantity_parse(b, Q_LENGTH, second, NULL) &&
           !first->unknown && !second->unknown && first->count == 1 && second->count == 1;
}

static bool
is_way(const char *word)
{
    return strcmp(word, "forward") == 0 || strcmp(word, "aft") == 0;
}

/* Words cut into two lengths, or three; how many cuts can be read so. */
static unsigned
cut_lengths(char *const words[], size_t n, bool three, Quantity part[3])
{
    unsigned taken = 0;
    for (size_t cut = 1; cut < n && n <= 12; cut++) {
        Quantity first, second, later[3] = {{0}};
        if (!three) {
            if (!two_lengths(words, n, cut, &first, &second))
                continue;
            part[0] = first;
            part[1] = second;
            taken++;
            continue;
        }
        g_autofree char *before = joined(words, 0, cut);
        unsigned ways = cut_lengths(words + cut, n - cut, false, later);
        if (ways == 0 || !quantity_parse(before, Q_LENGTH, &first, NULL) || first.unknown ||
            first.count != 1)
            continue;
        part[0] = first;
        part[1] = later[0];
        part[2] = later[1];
        taken += ways;
    }
    return taken;
}

/* Inward and below the rail, and `40 mm forward` where the hull was touched elsewhere; then the name of a knuckle. */
static bool
read_plumb(Reader *r, const Field *field, const Node *node, Row *row)
{
    g_auto(GStrv) words = words_of(node->text);
    size_t n = g_strv_length(words), ends = 0;
    Quantity part[3];
    while (ends < n && strcmp(words[ends], "knuckle") != 0)
        ends++;
    row->knuckle = ends < n;
    row->name = ends + 1 < n ? boat_string(r->boat, words[ends + 1]) : NULL;
    bool touched = ends > 0 && is_way(words[ends - 1]);
    if (ends + 2 < n || cut_lengths(words, touched ? ends - 1 : ends, touched, part) != 1) {
        reader_error(
            r, node,
            "expected inward and below the rail as 0.12 m 0.90 m, with `40 mm forward` or "
            "`40 mm aft` where the hull was touched elsewhere and `knuckle NAME` where the "
            "plating bends; found `%s`",
            node->text);
        return false;
    }
    row->across_m = part[0].value;
    row->height_m = part[1].value;
    if (touched)
        row->along_m = strcmp(words[ends - 1], "aft") == 0 ? -part[2].value : part[2].value;
    return within_bounds(r, field, node, fabs(row->across_m)) &&
           within_bounds(r, field, node, row->height_m + 20.0);
}

/* A station's point: half breadth and height, `knuckle` and its name where the plating bends. */
static bool
read_point(Reader *r, const Field *field, const Node *node, Row *row)
{
    g_auto(GStrv) words = words_of(node->text);
    size_t n = g_strv_length(words), n_lengths = n;
    for (size_t i = 0; i < n; i++)
        if (strcmp(words[i], "knuckle") == 0) {
            n_lengths = i;
            row->knuckle = true;
            row->name = i + 1 < n ? boat_string(r->boat, words[i + 1]) : NULL;
            if (i + 2 < n)
                n_lengths = 0; /* more than a name stands behind the word */
            break;
        }
    Quantity part[3] = {{0}};
    bool taken = cut_lengths(words, n_lengths, false, part) == 1;
    const Quantity half = part[0], height = part[1];
    if (!taken) {
        reader_error(r, node,
                     "expected half breadth and height as 1.80 m 0.22 m, with `knuckle NAME` where "
                     "the plating bends; "
                     "found `%s`",
                     node->text);
        return false;
    }
    if (half.value < 0.0) {
        reader_error(r, node, "a half breadth is not negative: both sides of the hull are alike");
        return false;
    }
    row->across_m = half.value;
    row->height_m = height.value;
    return within_bounds(r, field, node, half.value) &&
           within_bounds(r, field, node, height.value + 20.0);
}

/* `up` or `down` before the length, which only a trial has (rules.c). */
static size_t
skip_way(char *const words[], size_t n, size_t at, Row *row)
{
    if (at < n && strcmp(words[at], "down") == 0)
        row->way = 1;
    else if (at < n && strcmp(words[at], "up") == 0)
        row->way = -1;
    return row->way != 0 ? at + 1 : at;
}

/* A reading: `12 m port 1.30 m`; the place may be measured from a mark. */
static bool
read_reading(Reader *r, const Field *field, const Node *node, Row *row, PlaceText *along)
{
    g_auto(GStrv) words = words_of(node->text);
    size_t n = g_strv_length(words), side = 0;
    while (side < n && strcmp(words[side], "port") != 0 && strcmp(words[side], "starboard") != 0 &&
           strcmp(words[side], "centreline") != 0)
        side++;
    g_autofree char *place = joined(words, 0, MIN(side, n));
    size_t length = skip_way(words, n, side + 1, row);
    g_autofree char *reading = joined(words, MIN(length, n), n);
    g_autofree char *problem = NULL;
    if (side == n || !place_parse(place, AXIS_ALONG, along, &problem)) {
        reader_error(r, node, "expected along, side and reading as 12 m port 1.30 m; found `%s`",
                     node->text);
        return false;
    }
    row->side = strcmp(words[side], "port") == 0        ? 1
                : strcmp(words[side], "starboard") == 0 ? -1
                                                        : 0;
    if (along->offset.unknown || !quantity_parse(reading, Q_LENGTH, &row->value, &problem) ||
        row->value.unknown) {
        reader_error(r, node, "expected along, side and reading as 12 m port 1.30 m; found `%s`",
                     node->text);
        g_clear_pointer(&along->mark, g_free);
        return false;
    }
    if (isnan(row->value.spread))
        row->value.spread = quantity_usual_spread(Q_LENGTH, row->value.basis, row->value.value);
    row->along_m = along->mark == NULL ? along->sign * along->offset.value : NAN;
    if (!within_bounds(r, field, node, row->value.value)) {
        g_clear_pointer(&along->mark, g_free);
        return false;
    }
    return true;
}

/* A move of a heel test: `90 kg 2.4 m starboard 38 mm`. */
static bool
read_move(Reader *r, const Field *field, const Node *node, Row *row)
{
    g_auto(GStrv) words = words_of(node->text);
    size_t n = g_strv_length(words), side = 0;
    while (side < n && strcmp(words[side], "port") != 0 && strcmp(words[side], "starboard") != 0)
        side++;
    g_autofree char *deflection = joined(words, MIN(side + 1, n), n);
    bool taken = false;
    for (size_t cut = 1; side < n && cut < side && !taken; cut++) {
        g_autofree char *mass = joined(words, 0, cut);
        g_autofree char *distance = joined(words, cut, side);
        taken = quantity_parse(mass, Q_MASS, &row->mass, NULL) &&
                quantity_parse(distance, Q_LENGTH, &row->distance, NULL) && !row->mass.unknown &&
                !row->distance.unknown;
    }
    if (!taken || !quantity_parse(deflection, Q_LENGTH, &row->value, NULL) || row->value.unknown) {
        reader_error(
            r, node,
            "expected weight, way, side and reading as 90 kg 2.4 m starboard 38 mm; found `%s`",
            node->text);
        return false;
    }
    if (row->mass.value < 0.0 || row->distance.value < 0.0) {
        reader_error(r, node,
                     "a weight and the way it was moved are not negative: the side says which way");
        return false;
    }
    row->side = strcmp(words[side], "port") == 0 ? 1 : -1;
    if (isnan(row->value.spread))
        row->value.spread = quantity_usual_spread(Q_LENGTH, row->value.basis, row->value.value);
    return within_bounds(r, field, node, row->value.value);
}

void
read_rows(Reader *r, const Record *record, const Field *field, const Node *node, Rows *rows,
          FieldState *state)
{
    static const Field along_field = {
        .key = "along", .type = FIELD_ALONG, .kind = Q_LENGTH, .min = -20.0, .max = 200.0};
    size_t n = node_n_children(node);
    Row *row = boat_block(r->boat, n, sizeof *row);
    rows->n = 0;
    for (size_t i = 0; i < n; i++) {
        const Node *child = node_nth(node, i);
        Row read = {.along_m = NAN,
                    .across_m = NAN,
                    .height_m = NAN,
                    .line = child->line,
                    .column = child->column};
        PlaceText along = {0};
        if (child->type != NODE_SCALAR) {
            reader_error(r, child, "expected one row of text");
            continue;
        }
        bool taken = record->section == &section_stations ? read_point(r, field, child, &read)
                     : record->section == &section_plumb  ? read_plumb(r, field, child, &read)
                     : strcmp(field->key, "moves") == 0
                         ? read_move(r, field, child, &read)
                         : read_reading(r, field, child, &read, &along);
        if (!taken)
            continue;
        row[rows->n] = read;
        if (along.mark != NULL)
            wait_for_mark(r, &along,
                          (MarkedPlace){.value = &row[rows->n].along_m,
                                        .axis = AXIS_ALONG,
                                        .field = &along_field,
                                        .node = child});
        rows->n++;
    }
    rows->row = row;
    state->origin = ORIGIN_TYPED;
    state->basis = BASIS_STATED;
}

static void
refer(Reader *r, const Node *node, const char *id, const char *refers_to)
{
    WaitingReference waiting = {node, id, refers_to};
    g_array_append_val(r->references, waiting);
}

void
read_list(Reader *r, const Field *field, const Node *node, List *list, FieldState *state)
{
    size_t n = node_n_children(node);
    const char **ids = boat_block(r->boat, n, sizeof *ids);
    list->n = 0;
    for (size_t i = 0; i < n; i++) {
        const Node *child = node_nth(node, i);
        if (child->type != NODE_SCALAR) {
            reader_error(r, child, "expected a name");
            continue;
        }
        ids[list->n++] = boat_string(r->boat, child->text);
        refer(r, child, child->text, field->refers_to);
    }
    list->id = ids;
    state->origin = ORIGIN_TYPED;
    state->basis = BASIS_STATED;
}

static bool
read_entry(Reader *r, const Field *field, const Node *node, MapEntry *entry)
{
    g_autofree char *problem = NULL;
    entry->text = boat_string(r->boat, node->text);
    entry->value = (Quantity){.value = NAN, .spread = NAN, .basis = BASIS_STATED, .count = 1};
    if (field->kind == Q_NONE)
        return true;
    bool taken = field->per_day ? words_share_of_day(node->text, &entry->value, &problem)
                                : quantity_parse(node->text, field->kind, &entry->value, &problem);
    if (!taken) {
        reader_error(r, node, "%s", problem);
        return false;
    }
    if (!entry->value.unknown && isnan(entry->value.spread))
        entry->value.spread =
            quantity_usual_spread(field->kind, entry->value.basis, entry->value.value);
    return entry->value.unknown || within_bounds(r, field, node, entry->value.value);
}

void
read_map(Reader *r, const Field *field, const Node *node, Map *map, FieldState *state)
{
    size_t n = node_n_children(node);
    MapEntry *entries = boat_block(r->boat, n, sizeof *entries);
    map->n = 0;
    for (size_t i = 0; i < n; i++) {
        const Node *child = node_nth(node, i);
        if (child->type == NODE_EMPTY) {
            reader_warn(r, child, "nothing stands here: it counts as missing");
            continue;
        }
        if (child->type != NODE_SCALAR) {
            reader_error(r, child, "expected one value");
            continue;
        }
        if (r->patch && child->plain && strcmp(child->text, "remove") == 0)
            continue;
        warn_hash(r, field, child);
        MapEntry entry = {.key = boat_string(r->boat, child->key), .line = child->line};
        if (field->refers_to != NULL)
            refer(r, child, child->key, field->refers_to);
        if (read_entry(r, field, child, &entry))
            entries[map->n++] = entry;
    }
    map->entry = entries;
    state->origin = ORIGIN_TYPED;
    state->basis = BASIS_STATED;
}
