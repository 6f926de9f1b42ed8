/* Places written as their owner would: table by hand, and there and back for every place of the demo boats. */
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
#include "boat/model.h"
#include "boat/place_text.h"
#include "boat/written.h"

#define QUARTER_INCH_m 0.00635

static Boat *
parse(const char *text, gsize length, bool must_be_right)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    Boat *boat = boat_parse(text, length, 0, NULL, notes, NULL);
    g_autofree char *said = diagnostics_text(notes, "text");
    if (boat == NULL || (must_be_right && diagnostics_errors(notes) > 0))
        fail_msg("%s", said);
    return boat;
}

/* One item in a boat with two marks (bulkhead at 5 m, sole at 0.4 m). */
static Boat *
boat_with(const char *units, const char *key, const char *written)
{
    g_autofree char *line =
        written != NULL ? g_strdup_printf("    %s: '%s'\n", key, written) : g_strdup("");
    g_autofree char *text = g_strdup_printf("careen: 1\n"
                                            "boat: {name: Her, units: %s}\n"
                                            "marks:\n"
                                            "  bulkhead: {along: 5 m}\n"
                                            "  sole: {height: 0.4 m}\n"
                                            "items:\n"
                                            "  stove:\n"
                                            "    what: stove\n%s",
                                            units, line);
    return parse(text, strlen(text), true);
}

static void
each_style_is_kept(void **state)
{
    (void) state;
    static const struct {
        const char *key, *written;
        double value_m;
        const char *expected;
    } cases[] = {
        {"along", "4.2 m", 4.2, "4.2 m"}, /* not moved */
        {"along", "4.2 m (measured, tape)", 4.2003, "4.2 m (measured, tape)"},
        {"along", "4.2 m (measured, tape)", 4.304, "4.30 m"},
        {"along", "4.2 m ± 20 mm", 4.3, "4.30 m"},
        {"along", "about 4 m", 4.346, "about 4.35 m"},
        {"along", "4 m (by-eye, from the quay)", 4.5, "about 4.50 m"},
        {"along", "4.2 m", -0.4, "0.40 m aft of stern"},
        {"along", "0.4 m aft of stern", 0.25, "0.25 m forward of stern"},
        {"along", "0.6 m aft of bulkhead", 4.25, "0.75 m aft of bulkhead"},
        {"along", "0.6 m aft of bulkhead", 5.25, "0.25 m forward of bulkhead"},
        {"along", "about 0.6 m aft of bulkhead ± 0.1 m", 5.25, "about 0.25 m forward of bulkhead"},
        {"along", "0.6 m aft of bulkhead", 5.0, "0 m forward of bulkhead"},
        {"along", "1 m forward of bulkhead (measured)", 4.0, "1.00 m aft of bulkhead"},
        {"along", "4200 mm", 4.236, "4240 mm"},
        {"along", "420 cm", 4.236, "424 cm"},
        {"along", NULL, 4.236, "4.24 m"},
        {"along", "unknown", 4.236, "4.24 m"},
        {"across", "0.8 m starboard", -0.9, "0.90 m starboard"},
        {"across", "0.8 m starboard", 0.9, "0.90 m port"},
        {"across", "about 0.8 m starboard", 0.003, "about 0 m"},
        {"across", "centreline", 0.4, "0.40 m port"},
        {"across", NULL, -0.4, "0.40 m starboard"},
        {"across", "0.8 m port", 0.0, "0 m"},
        {"height", "0.7 m", 0.9, "0.90 m"},
        {"height", "0.7 m", -0.2, "0.20 m below base"},
        {"height", "0.3 m above sole", 0.9, "0.50 m above sole"},
        {"height", "0.3 m above sole", 0.1, "0.30 m below sole"},
        /* inches: 1 in = 25.4 mm */
        {"along", "13 ft 9 in", 4.2, "13 ft 9 1/4 in"}, /* 165.35 in */
        {"along", "13 ft 9 in", 3.6576, "12 ft"},
        {"along", "6 in aft of bulkhead", 5.0508, "2 in forward of bulkhead"},
        {"height", "3 ft above sole", 0.4 + 0.0064, "1/4 in above sole"},
        {"across", "1 ft 6 in port", -0.3175, "1 ft 1/2 in starboard"},
        {"across", "1 ft 6 in port", 0.001, "0 ft"},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autoptr(Boat) boat = boat_with("metric", cases[i].key, cases[i].written);
        const Record *stove = boat_find(boat, &section_items, "stove");
        const Field *field = section_field(&section_items, cases[i].key);
        g_autofree char *text = place_text(boat, stove, field, cases[i].value_m);
        if (g_strcmp0(text, cases[i].expected) != 0)
            fail_msg("%s to %g m: \"%s\", expected \"%s\"", cases[i].written, cases[i].value_m,
                     text, cases[i].expected);
    }
}

static void
what_is_not_written_follows_the_boat(void **state)
{
    (void) state;
    g_autoptr(Boat) boat = boat_with("imperial", "along", "4.2 m");
    const Record *stove = boat_find(boat, &section_items, "stove");
    g_autofree char *along = place_text(boat, stove, section_field(&section_items, "along"), 4.0);
    g_autofree char *height =
        place_text(boat, stove, section_field(&section_items, "height"), 0.9144);
    assert_string_equal(along, "4.00 m");
    assert_string_equal(height, "3 ft");
}

static void
only_places_and_numbers_are_taken(void **state)
{
    (void) state;
    g_autoptr(Boat) boat = boat_with("metric", "along", "4.2 m");
    const Record *stove = boat_find(boat, &section_items, "stove");
    assert_null(place_text(boat, stove, section_field(&section_items, "mass"), 1.0));
    assert_null(place_text(boat, stove, section_field(&section_items, "along"), NAN));
    assert_null(place_text(boat, stove, section_field(&section_items, "along"), INFINITY));
}

static bool
is_place(const Field *field)
{
    return field->type == FIELD_ALONG || field->type == FIELD_ACROSS || field->type == FIELD_HEIGHT;
}

/* Moves one place and reads the whole boat again. */
static void
there_and_back(const Boat *boat, const Record *record, const Field *field, double value_m)
{
    g_autoptr(GError) error = NULL;
    gsize length, after;
    const char *text = document_text(boat_document(boat), &length);
    g_autofree char *place = place_text(boat, record, field, value_m);
    g_autofree char *path = g_strconcat(record->path, ".", field->key, NULL);
    Edit edit = {.path = path, .value = place};
    g_autofree char *moved = edit_apply(text, length, 1, &edit, &after, &error);
    if (moved == NULL)
        fail_msg("%s: %s: %s", path, place, error->message);
    g_autoptr(Boat) again = parse(moved, after, false);
    const Field *same;
    const Record *now = boat_at(again, path, &same);
    assert_non_null(now);
    double step =
        strstr(place, " in") != NULL || strstr(place, " ft") != NULL ? QUARTER_INCH_m : 0.01;
    if (!(fabs(record_number(now, field->key) - value_m) <= 0.5 * step + 1e-9))
        fail_msg("%s: %s reads as %.6f m, meant was %.6f m", path, place,
                 record_number(now, field->key), value_m);
}

static size_t
every_place_of(const Boat *boat)
{
    static const double by_m[] = {0.123, -2.0};
    size_t seen = 0;
    for (size_t s = 0; boat_sections[s] != NULL; s++) {
        size_t n;
        const Record *const *records = boat_records(boat, boat_sections[s], &n);
        for (size_t i = 0; i < n; i++)
            for (size_t f = 0; f < boat_sections[s]->n_fields; f++) {
                const Field *field = &boat_sections[s]->fields[f];
                if (!is_place(field) ||
                    document_find(boat_document(boat), records[i]->path) == NULL)
                    continue;
                double now = record_number(records[i], field->key);
                for (size_t k = 0; k < G_N_ELEMENTS(by_m); k++)
                    there_and_back(boat, records[i], field, (isnan(now) ? 0.0 : now) + by_m[k]);
                seen += records[i]->state[f].origin == ORIGIN_TYPED;
            }
    }
    return seen;
}

static void
demo_boats_come_back(void **state)
{
    (void) state;
    static const char *const names[] = {"dunlin.yaml", "punt.yaml", "whimbrel.yaml"};
    size_t seen = 0;
    for (size_t i = 0; i < G_N_ELEMENTS(names); i++) {
        g_autofree char *path = g_build_filename(getenv("EXAMPLES"), names[i], NULL);
        g_autofree char *text = NULL;
        gsize length;
        assert_true(g_file_get_contents(path, &text, &length, NULL));
        g_autoptr(Boat) boat = parse(text, length, true);
        seen += every_place_of(boat);
    }
    assert_true(seen > 100);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_style_is_kept),
        cmocka_unit_test(what_is_not_written_follows_the_boat),
        cmocka_unit_test(only_places_and_numbers_are_taken),
        cmocka_unit_test(demo_boats_come_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
