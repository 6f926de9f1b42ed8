/* The binding example: every way of writing is read as it is meant. Numbers follow from the file by hand. */
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

static Boat *
example(size_t n, const char *const options[])
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(GError) error = NULL;
    Boat *boat = boat_load(getenv("FORMS"), n, options, notes, &error);
    g_autofree char *said = diagnostics_text(notes, "forms.yaml");
    if (boat == NULL || diagnostics_count(notes) > 0)
        fail_msg("%s%s", error == NULL ? "" : error->message, said);
    return boat;
}

static Boat *
parse(const char *text)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    Boat *boat = boat_parse(text, strlen(text), 0, NULL, notes, NULL);
    g_autofree char *said = diagnostics_text(notes, "text");
    if (boat == NULL || diagnostics_errors(notes) > 0)
        fail_msg("%s", said);
    return boat;
}

static void
near(double found, double expected)
{
    if (!(fabs(found - expected) <= 1e-12 * fmax(1.0, fabs(expected))))
        fail_msg("expected %.17g, found %.17g", expected, found);
}

static void
values_are_read(void **state)
{
    (void) state;
    static const struct {
        const char *path;
        double value, spread;
        Basis basis;
    } expected[] = {
        {"boat.density", 1012.0, 12.0, BASIS_ASSUMED},
        {"boat.people", 4.0, 0.0, BASIS_STATED},
        {"boat.growth", 0.0, 0.0, BASIS_ASSUMED},
        {"berth.cost", 310.0 * 12.0 / 365.0, 0.0, BASIS_STATED},
        {"route.low-bridge.air-draught", 3.4, 0.0, BASIS_STATED},
        {"marks.engine-bulkhead.along", 5.2, 0.3, BASIS_STATED},
        {"hull.within", 0.015, 0.0, BASIS_STATED},
        {"openings.engine-vent.across", -1.8, 0.3, BASIS_STATED},
        {"openings.engine-vent.size", 0.150, 0.0, BASIS_STATED},
        {"items.old-engine.mass", 1150.0, 460.0, BASIS_BY_EYE},
        {"items.old-engine.across", 0.0, 0.1, BASIS_STATED}, /* left out: on the centreline */
        {"items.rebuilt-engine.mass", 1080.0, 40.0, BASIS_STATED},
        {"items.calorifier.along", 4.6, 0.3, BASIS_STATED},
        {"items.calorifier.across", -0.8, 0.3, BASIS_STATED},
        {"items.calorifier.height", 0.85, 0.3, BASIS_STATED},
        {"items.calorifier.mass", 31.0, 31.0 * 0.06, BASIS_PLATE},
        {"items.calorifier.tank.volume", 0.055, 0.0, BASIS_STATED},
        {"items.house-bank.mass", 108.0, 108.0 * 0.06, BASIS_MAKER},
        {"items.rudder-blade.along", -0.4, 0.3, BASIS_STATED},
        {"items.rudder-blade.mass", 85.0, 34.0, BASIS_BY_EYE},
        {"berth.shore.current", 10.0, 0.0, BASIS_STATED},
        {"items.calorifier.heater.power", 1200.0, 0.0, BASIS_STATED},
        {"items.house-bank.battery.capacity", 220.0 * 3600.0, 0.0, BASIS_STATED},
        {"items.house-bank.battery.charge", 0.8, 0.2, BASIS_ASSUMED},
        {"busbars.grid-only-board.protect.rating", 10.0, 0.0, BASIS_STATED},
        {"circuits.calorifier-feed.area", 2.5e-6, 0.0, BASIS_STATED},
        {"circuits.calorifier-feed.insulation", 333.15, 0.0, BASIS_ASSUMED},
        {"circuits.calorifier-feed.protect.from-source", 0.2, 0.0, BASIS_STATED},
        {"circuits.bilge-pump-feed.measured-drop.voltage", 0.9, 0.0, BASIS_STATED},
        {"measured.freeboards-april.density", 1008.0, 0.0, BASIS_MEASURED},
    };
    g_autoptr(Boat) boat = example(0, NULL);
    for (size_t i = 0; i < G_N_ELEMENTS(expected); i++) {
        const Field *field;
        const Record *record = boat_at(boat, expected[i].path, &field);
        assert_non_null(record);
        const FieldState *found = record_state(record, field->key);
        near(*record_double(record, field), expected[i].value);
        near(found->spread, expected[i].spread);
        assert_int_equal(found->basis, expected[i].basis);
    }
    assert_string_equal(record_state(boat_find(boat, &section_items, "calorifier"), "along")->mark,
                        "engine-bulkhead");
    assert_true(
        record_state(boat_find(boat, &section_items, "rebuilt-engine"), "mass")->spread_typed);
}

static void
missing_mass_stays_a_gap(void **state)
{
    (void) state;
    g_autoptr(Boat) boat = example(0, NULL);
    const Record *pump = boat_find(boat, &section_items, "bilge-pump");
    assert_true(isnan(record_number(pump, "mass")));
    assert_int_equal(record_state(pump, "mass")->origin, ORIGIN_MISSING);
    assert_string_equal(((const Item *) pump->data)->kind, "bilge-pump");
}

static void
structures_are_read(void **state)
{
    (void) state;
    g_autoptr(Boat) boat = example(0, NULL);
    size_t n;
    const Record *const *stations = boat_records(boat, &section_stations, &n);
    assert_int_equal(n, 5);
    const StationSection *chined = stations[1]->data;
    assert_int_equal(chined->points.n, 3);
    near(chined->points.row[1].across_m, 1.80);
    near(chined->points.row[1].height_m, 0.22);
    assert_true(chined->points.row[1].knuckle);
    assert_string_equal(chined->points.row[1].name, "chine");
    assert_false(chined->points.row[2].knuckle);
    near(record_state(stations[1], "points")->spread, 0.015);

    const House *house = boat_find(boat, &section_houses, "wheelhouse")->data;
    near(house->across.low, -1.2);
    near(house->across.high, 1.2);
    near(house->height.high, 4.1);
    assert_int_equal(house->weathertight, FLAG_NO);

    const Measurement *measured = boat_find(boat, &section_measured, "freeboards-april")->data;
    assert_int_equal(measured->readings.n, 4);
    near(measured->readings.row[1].value.value, 0.95);
    assert_int_equal(measured->readings.row[1].side, -1);
    near(measured->readings.row[2].along_m, 12.0);
    assert_int_equal(measured->date.month, 4);
    assert_string_equal(measured->situation.id, "evening-at-berth");

    const Situation *evening = boat_find(boat, &section_situations, "evening-at-berth")->data;
    assert_string_equal(evening->people.entry[0].key, "saloon");
    near(evening->people.entry[0].value.value, 2.0);
    near(evening->tanks.entry[0].value.value, 0.6);
    assert_int_equal(evening->stage, SITUATION_BOTH);

    assert_int_equal(evening->sources.n, 1);
    assert_string_equal(evening->sources.id[0], "shore");
    assert_string_equal(evening->running.entry[0].key, "calorifier");
    near(evening->running.entry[0].value.value, 1.0);
    near(evening->running.entry[1].value.value, 4.0 / 24.0);

    const Berth *berth = boat_single(boat, &section_berth)->data;
    near(berth->place.latitude_rad, 52.1 * G_PI / 180.0);
    assert_int_equal(berth->until.year, 2027);

    Quantity limit;
    char *problem = NULL;
    const Record *own = boat_find(boat, &section_limits, "downflooding-height");
    near(((const OwnLimit *) own->data)->value.value, 0.3);
    assert_true(limit_value(own, Q_LENGTH, &limit, &problem));
    near(limit.value, 0.3);
    assert_false(limit_value(own, Q_MASS, &limit, &problem));
    assert_non_null(problem);
    g_free(problem);
}

static void
wiring_is_read(void **state)
{
    (void) state;
    g_autoptr(Boat) boat = example(0, NULL);
    const SourceSection *house = boat_find(boat, &section_sources, "house")->data;
    assert_int_equal(house->kind, SOURCE_BANK);
    assert_string_equal(house->of.id, "house-bank");
    assert_string_equal(
        ((const Busbar *) boat_find(boat, &section_busbars, "grid-only-board")->data)->fed_by.id,
        "shore");
    const Record *feed = boat_find(boat, &section_circuits, "calorifier-feed");
    const Protection *protect = record_role(feed, &section_circuit_protect)->data;
    assert_int_equal(protect->kind, PROTECT_BREAKER);
    assert_int_equal(protect->curve, PROTECT_CURVE_B);
    assert_string_equal(((const Circuit *) feed->data)->to.id, "calorifier");
    const Record *pump = boat_find(boat, &section_circuits, "bilge-pump-feed");
    assert_int_equal(record_state(pump, "area")->origin, ORIGIN_UNKNOWN);
    assert_true(isnan(record_number(pump, "one-way")));
    const MeasuredDrop *drop = record_role(pump, &section_measured_drop)->data;
    assert_int_equal(drop->date.day, 12);
}

static void
look_ups_find(void **state)
{
    (void) state;
    g_autoptr(Boat) boat = example(0, NULL);
    const Field *field;
    assert_string_equal(boat_at(boat, "items.fresh.tank", &field)->path, "items.fresh.tank");
    assert_null(field);
    assert_string_equal(boat_at(boat, "hull.stations.s0.points", &field)->id, "s0");
    assert_string_equal(field->key, "points");
    boat_at(boat, "situations.evening-at-berth.tanks.fresh", &field);
    assert_string_equal(field->key, "tanks");
    assert_null(boat_at(boat, "items.fresh.nothing", &field));
    assert_null(boat_at(boat, "items.nothing", &field));
    assert_null(boat_at(boat, "", &field));
    assert_ptr_equal(boat_find(boat, &section_tank, "fresh")->parent,
                     boat_find(boat, &section_items, "fresh"));
    assert_ptr_equal(record_role(boat_find(boat, &section_items, "fresh"), &section_tank),
                     boat_find(boat, &section_tank, "fresh"));
    assert_null(record_role(boat_find(boat, &section_items, "lights"), &section_tank));
    const Section *section;
    assert_string_equal(section_field_at("options.o.changes.items.x.tank.volume", &section)->key,
                        "volume");
    assert_ptr_equal(section, &section_tank);
    assert_null(section_field_at("items.x", &section));
    assert_ptr_equal(section, &section_items);
    assert_null(section_field_at("hull.stations", &section));
    assert_null(section_field_at("nothing.at.all", &section));
}

#define BOAT "careen: 1\nboat:\n  name: X\n"

/* Circular mils of ASTM B258 and of SAE J1128 as printed in cable catalogues, to their last digit. */
static void
wires_are_read_by_gauge(void **state)
{
    (void) state;
    static const struct {
        const char *typed;
        double circular_mils, spread_frac, digits_frac;
        Basis basis;
    } wires[] = {
        {"8 AWG", 16510.0, 0.0, 1e-3, BASIS_STATED},
        {"18 AWG", 1620.0, 0.0, 3e-3, BASIS_STATED},
        {"2/0 AWG (plate)", 133100.0, 0.0, 1e-3, BASIS_PLATE},
        {"about 8 SAE", 14810.0, 0.2, 1e-12, BASIS_BY_EYE},
        {"4/0 SAE ± 5 %", 205500.0, 0.05, 1e-12, BASIS_STATED},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(wires); i++) {
        g_autofree char *text =
            g_strdup_printf(BOAT "circuits:\n  c:\n    area: %s\n", wires[i].typed);
        g_autoptr(Boat) boat = parse(text);
        const Record *c = boat_find(boat, &section_circuits, "c");
        double expected = wires[i].circular_mils * 5.067075e-10, found = record_number(c, "area");
        assert_true(fabs(found / expected - 1.0) < wires[i].digits_frac + 1e-7);
        assert_true(fabs(record_state(c, "area")->spread - wires[i].spread_frac * found) < 1e-12);
        assert_int_equal(record_state(c, "area")->basis, wires[i].basis);
    }
}

static void
wrong_wiring_is_refused(void **state)
{
    (void) state;
    static const char *const lines[] = {
        "circuits:\n  c:\n    area: 8 GWA\n",
        "circuits:\n  c:\n    area: 41 AWG\n",
        "circuits:\n  c:\n    area: 5/0 AWG\n",
        "circuits:\n  c:\n    area: 3 SAE\n",
        "circuits:\n  c:\n    area: 2.5\n",
        "circuits:\n  c:\n    one-way: 0 m\n",
        "circuits:\n  c:\n    contacts: -1 mohm\n",
        "circuits:\n  c:\n    to: nowhere\n",
        "items:\n  lamp: {}\ncircuits:\n  c:\n    from: lamp\n    to: lamp\n",
        "items:\n  lamp: {}\nsources:\n  s:\n    kind: bank\n    of: lamp\n",
        "busbars:\n  b:\n    fed-by: b\n",
        "situations:\n  s:\n    sources: [none-such]\n",
        "items:\n  lamp: {}\nsituations:\n  s:\n    running:\n      lamp: 4 kg\n",
        "items:\n  lamp: {}\nsituations:\n  s:\n    running:\n      lamp: 25 h\n",
    };
    for (size_t i = 0; i < G_N_ELEMENTS(lines); i++) {
        g_autofree char *text = g_strconcat(BOAT, lines[i], NULL);
        g_autoptr(Diagnostics) notes = diagnostics_new();
        g_autoptr(Boat) boat = boat_parse(text, strlen(text), 0, NULL, notes, NULL);
        if (diagnostics_errors(notes) != 1)
            fail_msg("%zu errors in\n%s", diagnostics_errors(notes), text);
    }
}

static void
defaults_follow_the_waters(void **state)
{
    (void) state;
    static const struct {
        const char *lines;
        double density;
        int deck;
    } cases[] = {
        {"", 1025.0, VESSEL_FLUSH},
        {"  waters: canal\n", 1000.0, VESSEL_FLUSH},
        {"  waters: river\n  kind: open-boat\n", 1000.0, VESSEL_OPEN},
        {"  waters: sheltered\n  kind: open-boat\n  deck: stepped\n", 1012.0, VESSEL_STEPPED},
        {"  waters: coastal\n", 1025.0, VESSEL_FLUSH},
        {"  waters: open-sea\n  density: fresh\n", 1000.0, VESSEL_FLUSH},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *text = g_strconcat(BOAT, cases[i].lines, NULL);
        g_autoptr(Boat) boat = parse(text);
        const Vessel *vessel = boat_single(boat, &section_boat)->data;
        near(vessel->density_kg_per_m3, cases[i].density);
        assert_int_equal(vessel->deck, cases[i].deck);
        near(vessel->people, 2.0);
        assert_string_equal(vessel->currency, "EUR");
    }
}

static void
unknown_is_a_gap(void **state)
{
    (void) state;
    g_autoptr(Boat) boat = parse(
        BOAT
        "  density: unknown\n  waters: unknown\nmarks:\n  m:\n    along: unknown\nitems:\n  a:\n"
        "    mass: unknown\n    across: unknown\n    along: 1 m aft of m\n    what: unknown\n");
    const Record *item = boat_find(boat, &section_items, "a");
    static const char *const keys[] = {"mass", "across", "along", "what"};
    for (size_t i = 0; i < G_N_ELEMENTS(keys); i++) {
        assert_int_equal(record_state(item, keys[i])->origin, ORIGIN_UNKNOWN);
        assert_true(isnan(record_number(item, keys[i])));
    }
    const Vessel *vessel = boat_single(boat, &section_boat)->data;
    assert_true(isnan(vessel->density_kg_per_m3));
    assert_int_equal(vessel->waters, -1);
}

/* A place is no surer than its mark. */
static void
spreads_follow_the_marks(void **state)
{
    (void) state;
    g_autoptr(Boat) boat = parse(
        BOAT
        "marks:\n"
        "  b: {along: 1 m aft of a}\n"
        "  a: {along: 5 m ± 40 mm (measured)}\n"
        "items:\n"
        "  on-a: {along: 2 m ± 30 mm forward of a (measured)}\n"
        "  on-b: {along: 0.5 m aft of b (measured)}\n"
        "  taped: {along: 3 m (measured), height: 0.2 m below base, across: 0.4 m ± 10 mm port}\n");
    near(record_number(boat_find(boat, &section_marks, "b"), "along"), 4.0);
    const Record *on_a = boat_find(boat, &section_items, "on-a");
    near(record_number(on_a, "along"), 7.0);
    near(record_state(on_a, "along")->spread, 0.05);
    assert_int_equal(record_state(on_a, "along")->basis, BASIS_MEASURED);
    const Record *on_b = boat_find(boat, &section_items, "on-b");
    near(record_number(on_b, "along"), 3.5);
    near(record_state(on_b, "along")->spread, 0.3);
    assert_int_equal(record_state(on_b, "along")->basis, BASIS_STATED);
    const Record *taped = boat_find(boat, &section_items, "taped");
    near(record_state(taped, "along")->spread, 0.1);
    near(record_number(taped, "height"), -0.2);
    near(record_number(taped, "across"), 0.4);
    near(record_state(taped, "across")->spread, 0.01);
}

static void
feet_and_ranges_are_read(void **state)
{
    (void) state;
    g_autoptr(Boat) boat = parse(
        "\xEF\xBB\xBF"
        "careen: 1\r\nboat:\r\n  name: Дуб ünï\r\nhull:\r\n  stations:\r\n    s:\r\n"
        "      along: 5 ft 6 in\r\n      points:\r\n      - 0 m 0 m\r\n      - 5 ft 6 in 2 ft 3 "
        "in\r\n"
        "      - 5 ft 1 1/2 ft knuckle\r\nmarks:\r\n  m: {along: 4 m}\r\nspaces:\r\n  a:\r\n"
        "    along: 0.4 m aft of m to 1 m forward of m\r\n    across: 0 m to 1.5 m starboard\r\n"
        "houses:\r\n  h:\r\n    weathertight: yes (hose test 2026-03-01)\r\n");
    const StationSection *station = boat_find(boat, &section_stations, "s")->data;
    near(station->along_m, 66 * 0.0254);
    assert_int_equal(station->points.n, 3);
    near(station->points.row[1].across_m, 66 * 0.0254);
    near(station->points.row[1].height_m, 27 * 0.0254);
    near(station->points.row[2].across_m, 60 * 0.0254);
    near(station->points.row[2].height_m, 18 * 0.0254);
    assert_true(station->points.row[2].knuckle);
    assert_null(station->points.row[2].name);
    const Space *space = boat_find(boat, &section_spaces, "a")->data;
    near(space->along.low, 3.6);
    near(space->along.high, 5.0);
    near(space->across.low, -1.5);
    near(space->across.high, 0.0);
    assert_int_equal(((const House *) boat_find(boat, &section_houses, "h")->data)->weathertight,
                     FLAG_YES_SHOWN);
    assert_string_equal(((const Vessel *) boat_single(boat, &section_boat)->data)->name, "Дуб ünï");
}

/* Every scalar of the example written again by the editor reads as before, byte for byte where it was plain. */
static void
reading_and_writing_is_the_identity(void **state)
{
    (void) state;
    g_autoptr(Boat) boat = example(0, NULL);
    gsize length;
    const char *text = document_text(boat_document(boat), &length);
    size_t n_values = 0;
    for (size_t s = 0; boat_sections[s] != NULL; s++) {
        size_t n;
        const Record *const *records = boat_records(boat, boat_sections[s], &n);
        for (size_t i = 0; i < n; i++)
            for (size_t f = 0; f < boat_sections[s]->n_fields; f++) {
                const Node *node = records[i]->state[f].node;
                if (node == NULL || node->type != NODE_SCALAR)
                    continue;
                g_autofree char *path = node_path(node);
                Edit edit = {path, node->text};
                gsize new_length;
                g_autofree char *again = edit_apply(text, length, 1, &edit, &new_length, NULL);
                assert_int_equal(new_length, length);
                assert_memory_equal(again, text, length);
                n_values++;
            }
    }
    assert_true(n_values > 60);
}

static void
plumb_readings_are_read(void **state)
{
    (void) state;
    g_autoptr(Boat) boat =
        parse("careen: 1\nboat:\n  name: X\nhull:\n  plumb:\n    p1:\n      from: string\n"
              "      readings: [0.12 m 0.90 m, -30 mm 3 ft 40 mm forward, 5 in 1.4 m 0.1 m aft "
              "knuckle chine, 0 m 2 m knuckle]\n");
    const PlumbSection *p = boat_find(boat, &section_plumb, "p1")->data;
    assert_int_equal(p->from, INWARD_FROM_STRING);
    assert_int_equal(p->readings.n, 4);
    near(p->readings.row[0].across_m, 0.12);
    near(p->readings.row[0].height_m, 0.90);
    assert_true(isnan(p->readings.row[0].along_m));
    near(p->readings.row[1].across_m, -0.03);
    near(p->readings.row[1].height_m, 3 * 0.3048);
    near(p->readings.row[1].along_m, 0.04);
    near(p->readings.row[2].across_m, 5 * 0.0254);
    near(p->readings.row[2].along_m, -0.1);
    assert_string_equal(p->readings.row[2].name, "chine");
    assert_true(p->readings.row[3].knuckle && p->readings.row[3].name == NULL);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(values_are_read),
        cmocka_unit_test(missing_mass_stays_a_gap),
        cmocka_unit_test(structures_are_read),
        cmocka_unit_test(wiring_is_read),
        cmocka_unit_test(wires_are_read_by_gauge),
        cmocka_unit_test(wrong_wiring_is_refused),
        cmocka_unit_test(look_ups_find),
        cmocka_unit_test(defaults_follow_the_waters),
        cmocka_unit_test(unknown_is_a_gap),
        cmocka_unit_test(spreads_follow_the_marks),
        cmocka_unit_test(feet_and_ranges_are_read),
        cmocka_unit_test(plumb_readings_are_read),
        cmocka_unit_test(reading_and_writing_is_the_identity),
    };
    return cmocka_run_group_tests_name("forms", tests, NULL, NULL);
}
