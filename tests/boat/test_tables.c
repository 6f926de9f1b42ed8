/* The section tables themselves: nothing is missing from a row, and what is written by a row is read by it. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "base/unit.h"
#include "boat/boat.h"
#include "boat/edit.h"
#include "boat/model.h"
#include "boat/work.h"

typedef void (*Visit)(const Section *section, const Field *field);

static void
each_field(Visit visit)
{
    for (size_t i = 0; boat_sections[i] != NULL; i++)
        for (size_t j = 0; j < boat_sections[i]->n_fields; j++)
            visit(boat_sections[i], &boat_sections[i]->fields[j]);
}

static void
judge_words(const Section *section, const Field *field)
{
    if (field->label == NULL || field->label[0] == '\0' || field->help == NULL ||
        field->help[0] == '\0' || field->unit == NULL)
        fail_msg("%s.%s lacks label, help or unit", section->key, field->key);
    else if (field->help[strlen(field->help) - 1] != '.')
        fail_msg("%s.%s: the help is no sentence", section->key, field->key);
    for (const char *p = field->key; *p != '\0'; p++)
        assert_true(g_ascii_islower(*p) || *p == '-');
    assert_ptr_equal(section_field(section, field->key), field);
    assert_null(section_sub(section, field->key));
    assert_false(pending_key(section, field->key));
}

static void
judge_bounds(const Section *section, const Field *field)
{
    bool counted =
        field->kind != Q_NONE &&
        (field_is_number(field) || field->type == FIELD_MAP || field->type == FIELD_ROWS ||
         field->type == FIELD_ALONG_RANGE || field->type == FIELD_ACROSS_RANGE ||
         field->type == FIELD_HEIGHT_RANGE || field->type == FIELD_RANGE);
    if (counted && !(field->min < field->max))
        fail_msg("%s.%s has no bounds", section->key, field->key);
    if (field->has_standard)
        assert_true(field->standard >= field->min && field->standard <= field->max);
}

static void
judge_unit(const Section *section, const Field *field)
{
    Unit unit;
    char *problem = NULL;
    Quantity quantity;
    if (field->kind == Q_NONE || field->type == FIELD_TIME)
        return;
    g_autofree char *sample = g_strdup_printf("2 %s", field->unit);
    if (!quantity_parse(sample, field->kind, &quantity, &problem))
        fail_msg("%s.%s: %s", section->key, field->key, problem);
    if (field->kind != Q_COUNT && field->kind != Q_MONEY && field->kind != Q_MONEY_RATE &&
        !unit_parse(field->unit, field->kind, &unit, &problem))
        fail_msg("%s.%s: %s", section->key, field->key, problem);
}

static void
judge_choices(const Section *section, const Field *field)
{
    bool standard = field->standard_word == NULL;
    bool words = field->type == FIELD_CHOICE || field->type == FIELD_WORDS;
    assert_true(words == (field->choices != NULL));
    for (const Choice *c = field->choices; c != NULL && c->word != NULL; c++) {
        standard |= field->standard_word != NULL && strcmp(c->word, field->standard_word) == 0;
        if (c->meaning == NULL || c->meaning[0] == '\0')
            fail_msg("%s.%s: %s has no meaning", section->key, field->key, c->word);
        for (const Choice *d = field->choices; d < c; d++)
            assert_string_not_equal(c->word, d->word);
    }
    if (field->type == FIELD_CHOICE)
        assert_true(standard);
}

static void
judge_references(const Section *section, const Field *field)
{
    (void) section;
    g_auto(GStrv) keys = g_strsplit(field->refers_to == NULL ? "" : field->refers_to, " ", -1);
    for (size_t i = 0; keys[i] != NULL; i++) {
        bool found = false;
        for (size_t j = 0; boat_sections[j] != NULL; j++)
            found |= strcmp(boat_sections[j]->key, keys[i]) == 0;
        assert_true(found);
    }
    if (field->type == FIELD_REFERENCE || field->type == FIELD_LIST)
        assert_non_null(field->refers_to);
}

static void
rows_are_whole(void **state)
{
    (void) state;
    each_field(judge_words);
    each_field(judge_bounds);
    each_field(judge_unit);
    each_field(judge_choices);
    each_field(judge_references);
}

static void
sections_are_whole(void **state)
{
    (void) state;
    for (size_t i = 0; boat_sections[i] != NULL; i++) {
        const Section *section = boat_sections[i];
        assert_true(section->size > 0 && section->n_fields > 0);
        assert_non_null(section->title);
        assert_non_null(section->what);
        if (section->role_of == NULL) {
            assert_ptr_equal(section_find(section->key), section);
            assert_false(pending_key(NULL, section->key));
        } else {
            assert_ptr_equal(section_sub(section_find(section->role_of), section->key), section);
            assert_false(pending_key(section_find(section->role_of), section->key));
        }
    }
}

/* Words stand in the order of their enumeration. */
static void
words_match_the_enumerations(void **state)
{
    (void) state;
    static const struct {
        const Section *section;
        const char *key, *word;
        int value;
    } expected[] = {
        {&section_boat, "kind", "keeled-barge", KIND_KEELED_BARGE},
        {&section_boat, "kind", "tug", KIND_TUG},
        {&section_boat, "kind", "open-boat", KIND_OPEN_BOAT},
        {&section_boat, "kind", "pontoon", KIND_PONTOON},
        {&section_boat, "kind", "other", KIND_OTHER},
        {&section_boat, "waters", "canal", WATERS_CANAL},
        {&section_boat, "waters", "sheltered", WATERS_SHELTERED},
        {&section_boat, "waters", "open-sea", WATERS_OPEN_SEA},
        {&section_boat, "deck", "open", VESSEL_OPEN},
        {&section_boat, "units", "imperial", UNITS_IMPERIAL},
        {&section_boat, "use", "hire", USE_HIRE},
        {&section_openings, "closes", "never", CLOSES_NEVER},
        {&section_openings, "closes", "watertight", CLOSES_WATERTIGHT},
        {&section_openings, "kind", "other", OPENING_OTHER},
        {&section_openings, "kind", "gland", OPENING_GLAND},
        {&section_items, "state", "aboard", ITEM_ABOARD},
        {&section_items, "state", "to-fit", ITEM_TO_FIT},
        {&section_items, "state", "gone", ITEM_GONE},
        {&section_tank, "holds", "sewage", HOLDS_SEWAGE},
        {&section_tank, "holds", "other", HOLDS_OTHER},
        {&section_ballast, "held", "loose", BALLAST_LOOSE},
        {&section_battery, "chemistry", "lfp", BATTERY_LFP},
        {&section_load, "draws", "motor", DRAWS_MOTOR},
        {&section_load, "use", "starter", LOAD_STARTER},
        {&section_sources, "kind", "bank", SOURCE_BANK},
        {&section_sources, "kind", "inverter-charger", SOURCE_INVERTER_CHARGER},
        {&section_circuit_protect, "kind", "none", PROTECT_NONE},
        {&section_circuit_protect, "class", "nh-gg", FUSE_NH_GG},
        {&section_busbar_protect, "curve", "D", PROTECT_CURVE_D},
        {&section_shore, "earthing", "tt", SHORE_TT},
        {&section_sources, "neutral-bond", "with-source", BOND_WITH_SOURCE},
        {&section_busbars, "neutral-bond", "never", BOND_NEVER},
        {&section_sources, "shore-earth", "isolation-transformer", EARTH_TRANSFORMER},
        {&section_busbars, "kind", "transfer", BUSBAR_TRANSFER},
        {&section_busbars, "output", "passed-on", OUTPUT_PASSED_ON},
        {&section_source_protect, "curve", "C", PROTECT_CURVE_C},
        {&section_circuits, "fixing", "rack", FIXED_RACK},
        {&section_circuits, "polarity", "reversed", POLARITY_REVERSED},
        {&section_circuits, "wires", "negative", WIRES_NEGATIVE},
        {&section_circuits, "strands", "solid", STRANDS_SOLID},
        {&section_circuits, "copper", "plain", COPPER_PLAIN},
        {&section_circuits, "runs", "engine-space", RUNS_ENGINE_SPACE},
        {&section_circuits, "laid", "sheathed", LAID_SHEATHED},
        {&section_situations, "stage", "now", SITUATION_NOW},
        {&section_situations, "stage", "done", SITUATION_DONE},
        {&section_situations, "loose-ballast", "ashore", LOOSE_ASHORE},
        {&section_form, "type", "round-bilge", SHAPE_ROUND_BILGE},
        {&section_form, "ends", "full", ENDS_ARE_FULL},
        {&section_form, "stern", "counter", STERN_IS_COUNTER},
        {&section_measured, "kind", "roll", MEASURED_ROLL},
        {&section_berth, "lies", "ashore", LIES_ASHORE},
        {&section_work, "layer", "in-front", LAYER_IN_FRONT},
        {&section_work, "side", "on-deck", SIDE_ON_DECK},
        {&section_work, "split", "not", SPLIT_NOT},
        {&section_work, "state", "dropped", WORK_DROPPED},
        {&section_hands, "kind", "trade", HAND_TRADE},
        {&section_slots, "kind", "lift", SLOT_LIFT},
        {&section_purchases, "state", "in-hand", PURCHASE_IN_HAND},
        {&section_milestones, "kind", "other", MILESTONE_OTHER},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(expected); i++)
        assert_string_equal(
            section_field(expected[i].section, expected[i].key)->choices[expected[i].value].word,
            expected[i].word);
}

/* --- read, write, read ------------------------------------------------------------------------ */

static char *
sample_of(const Field *field)
{
    switch (field->type) {
    case FIELD_COUNT:
        return g_strdup(field->min > 3.0 ? "1957" : "3");
    case FIELD_MONEY:
        return g_strdup(field->kind == Q_MONEY_RATE ? "310 per month" : "1250");
    case FIELD_TEXT:
        return g_strdup("owner's: \"text\" #2, ± é");
    case FIELD_CHOICE:
        return g_strdup(field->choices[1].word);
    case FIELD_FLAG:
        return g_strdup("yes (seen 2026-04-12)");
    case FIELD_DATE:
        return g_strdup("2028-02-29");
    case FIELD_TIME:
        return g_strdup("17:30");
    case FIELD_POSITION:
        return g_strdup("52.1 N, 4.6 E");
    case FIELD_REFERENCE:
        return g_strdup(strcmp(field->refers_to, "situations") == 0   ? "people-aft"
                        : strstr(field->refers_to, "busbars") != NULL ? "lamp"
                                                                      : "fresh");
    case FIELD_LIST:
        return g_strdup("[fresh]");
    case FIELD_WORDS:
        return g_strdup_printf("[%s, %s]", field->choices[1].word, field->choices[2].word);
    case FIELD_THREE_POINT:
        return g_strdup_printf("2 / 3 / 5 %s", field->unit);
    case FIELD_WIRE:
        return g_strdup("about 2/0 AWG ± 5 % (seller)");
    case FIELD_DENSITY:
        return g_strdup("1008 kg/m3 ± 2 kg/m3 (measured)");
    case FIELD_ANY:
        return g_strdup("300 mm ± 10 mm");
    case FIELD_ALONG:
        return g_strdup("0.6 m ± 0.1 m forward of stern");
    case FIELD_ACROSS:
        return g_strdup("0.8 m starboard (measured)");
    case FIELD_HEIGHT:
        return g_strdup("2 ft 3 in above base");
    case FIELD_ALONG_RANGE:
    case FIELD_HEIGHT_RANGE:
        return g_strdup("1 m to 2.5 m (measured)");
    case FIELD_ACROSS_RANGE:
        return g_strdup("1.2 m port to 1.2 m starboard");
    case FIELD_ROWS:
        if (strcmp(field->key, "moves") == 0)
            return g_strdup("[0 kg 0 m port 0 mm, 90 kg 2.4 m starboard 38 mm]");
        return g_strdup(field->min == 0.0 ? "[0 m 0 m, 1.8 m 0.2 m knuckle chine, 2 m 2 m]"
                                          : "[1 m aft of stern port 1.3 m]");
    default:
        if (field->kind == Q_TEMPERATURE)
            return g_strdup(field->max > 363.0 ? "90 degC ± 2 degC (maker)"
                                               : "18 degC ± 2 degC (maker)");
        return g_strdup_printf("%g %s ± 5 %% (maker)",
                               field->kind == Q_FRACTION || field->kind == Q_SMALL_LENGTH ? 20.0
                               : field->kind == Q_DENSITY                                 ? 900.0
                                                                                          : 2.5,
                               field->unit);
    }
}

static Boat *
read_text(const char *text, gsize length)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    Boat *boat = boat_parse(text, length, 0, NULL, notes, NULL);
    g_autofree char *said = diagnostics_text(notes, "written");
    if (boat == NULL || diagnostics_errors(notes) > 0)
        fail_msg("%s in\n%s", said, text);
    return boat;
}

static const char base[] =
    "careen: 1\nboat:\n  name: X\nspaces:\n  saloon: {}\n  fresh: {}\nitems:\n  lamp: {}\n  "
    "fresh:\n    tank: "
    "{}\n    "
    "person-place: {}\n    battery: {}\nsources:\n  fresh:\n    kind: shore\n"
    "hull:\n  form:\n    type: punt\n  stations:\n    one:\n      along: 9 m\n      points: [0 m 0 "
    "m, 1 m 1 m]\n  plumb:\n    fresh:\n      along: 1 m\n"
    "limits:\n  one:\n    value: 3 m\n"
    "work:\n  fresh:\n    state: doing\n    may-find:\n      fresh:\n        chance: 1 %\n"
    "        takes: 1 h / 1 h / 1 h\nhands:\n  fresh: {}\nmilestones:\n  fresh: {}\n"
    "log:\n  fresh:\n    date: 2027-01-01\n"
    "berth:\n  slots:\n    fresh:\n      from: 2027-01-01\n";

static char *
path_of(const Section *section, const Field *field)
{
    const char *id = section == &section_stations || section == &section_limits ? ".one" : ".fresh";
    if (section->role_of == NULL)
        return g_strconcat(section->key, section->keyed ? id : "", ".", field->key, NULL);
    bool of_keyed = section_find(section->role_of)->keyed;
    if (section->keyed)
        return g_strconcat(section->role_of, of_keyed ? id : "", ".", section->key, id, ".",
                           field->key, NULL);
    return g_strconcat(section->role_of, of_keyed ? id : "", ".", section->key, ".", field->key,
                       NULL);
}

static void
same_member(const Field *field, const Record *a, const Record *b)
{
    const FieldState *first = &a->state[field - a->section->fields],
                     *second = &b->state[field - b->section->fields];
    assert_int_equal(first->origin, ORIGIN_TYPED);
    assert_int_equal(second->origin, ORIGIN_TYPED);
    assert_int_equal(first->basis, second->basis);
    assert_true(first->spread == second->spread || (isnan(first->spread) && isnan(second->spread)));
    const double *x = record_double(a, field), *y = record_double(b, field);
    if (x != NULL) {
        assert_true(isfinite(*x) && *x == *y);
        assert_true(*x >= field->min && *x <= field->max);
    }
    if (field->type == FIELD_TEXT)
        assert_string_equal(*(const char **) ((char *) a->data + field->offset),
                            "owner's: \"text\" #2, ± é");
}

/* An entry of a map: its key and its value. */
static void
entry_of(const Field *field, const char **key, const char **value)
{
    *key = field->refers_to != NULL && g_str_has_prefix(field->refers_to, "spaces") ? "saloon"
                                                                                    : "fresh";
    *value = field->kind == Q_FRACTION ? "60 %" : "2";
    if (field->kind == Q_TEMPERATURE) {
        *key = "jan";
        *value = "4 degC";
    } else if (strcmp(field->key, "week") == 0 || strcmp(field->key, "hours") == 0) {
        *key = "mon";
        *value = "9:00 to 13:00, 14:00 to 17:30";
    } else if (strcmp(field->key, "away") == 0 || strcmp(field->key, "closed") == 0) {
        *value = "2027-07-03 to 2027-07-17";
    }
}

static void
write_and_read(const Section *section, const Field *field)
{
    g_autofree char *path = path_of(section, field);
    const char *key, *value;
    entry_of(field, &key, &value);
    bool map = field->type == FIELD_MAP;
    g_autofree char *sample = map ? g_strdup(value) : sample_of(field);
    g_autofree char *entry = map ? g_strconcat(path, ".", key, NULL) : g_strdup(path);
    Edit edit = {entry, sample};
    gsize length, length_again;
    g_autoptr(GError) error = NULL;
    g_autofree char *text = edit_apply(base, strlen(base), 1, &edit, &length, &error);
    if (text == NULL)
        fail_msg("%s: %s", path, error->message);
    g_autoptr(Boat) boat = read_text(text, length);
    const Field *found;
    const Record *record = boat_at(boat, path, &found);
    assert_ptr_equal(found, field);
    const Node *node = document_find(boat_document(boat), entry);
    g_autofree char *exact = node->type == NODE_LIST
                                 ? g_strndup(text + node->start, node->end - node->start)
                                 : g_strdup(node->text);
    edit.value = exact;
    g_autofree char *again = edit_apply(text, length, 1, &edit, &length_again, NULL);
    assert_string_equal(again, text);
    g_autoptr(Boat) twin = read_text(again, length_again);
    same_member(field, record, boat_at(twin, path, &found));
}

static void
what_is_written_is_read(void **state)
{
    (void) state;
    each_field(write_and_read);
}

/* --- the reference ---------------------------------------------------------------------------- */

static void
reference_is_up_to_date(void **state)
{
    (void) state;
    g_autofree char *kept = NULL;
    g_autofree char *made = fields_markdown();
    assert_true(g_file_get_contents(getenv("FIELDS"), &kept, NULL, NULL));
    if (strcmp(kept, made) != 0)
        fail_msg(
            "docs/boat-file.md differs from the tables; run test_boat_tables docs/boat-file.md");
}

static void
reference_names_every_field(void **state)
{
    (void) state;
    g_autofree char *all = fields_text(NULL);
    for (size_t i = 0; boat_sections[i] != NULL; i++) {
        g_autofree char *one = fields_text(boat_sections[i]->key);
        g_auto(GStrv) unticked = g_strsplit(boat_sections[i]->what, "`", -1);
        g_autofree char *what = g_strjoinv("", unticked);
        assert_non_null(strstr(all, what));
        for (size_t j = 0; j < boat_sections[i]->n_fields; j++) {
            g_autofree char *line = g_strdup_printf("\n  %s: ", boat_sections[i]->fields[j].key);
            assert_non_null(strstr(one, line));
        }
    }
    assert_null(fields_text("nothing"));
}

/* With a file name: writes the reference there instead, after a table has changed. */
int
main(int argc, char **argv)
{
    g_autofree char *reference = fields_markdown();
    if (argc > 1)
        return g_file_set_contents(argv[1], reference, -1, NULL) ? 0 : 1;
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows_are_whole),
        cmocka_unit_test(sections_are_whole),
        cmocka_unit_test(words_match_the_enumerations),
        cmocka_unit_test(what_is_written_is_read),
        cmocka_unit_test(reference_is_up_to_date),
        cmocka_unit_test(reference_names_every_field),
    };
    return cmocka_run_group_tests_name("tables", tests, NULL, NULL);
}
