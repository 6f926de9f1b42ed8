/* The contract of the JSON: what outside programs rely on, read back by another parser. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>
#include <json-glib/json-glib.h>

#include "demo_result.h"
#include "report/json.h"

static JsonParser *
parsed(const GString *text)
{
    JsonParser *parser = json_parser_new();
    GError *error = NULL;
    if (!json_parser_load_from_data(parser, text->str, (gssize) text->len, &error))
        fail_msg("%s in %s", error->message, text->str);
    return parser;
}

static void
check_has_its_members(void **state G_GNUC_UNUSED)
{
    Demo *demo = demo_new(false);
    g_autoptr(GString) text = g_string_new(NULL);
    write_check_json(demo->result, &demo->asked, text);
    g_autoptr(JsonParser) parser = parsed(text);
    JsonObject *root = json_node_get_object(json_parser_get_root(parser));
    assert_string_equal(json_object_get_string_member(root, "careen"), CAREEN_VERSION);
    assert_string_equal(json_object_get_string_member(root, "boat"), "Demo");
    assert_string_equal(json_object_get_string_member(root, "stage"), "done");
    JsonArray *options = json_object_get_array_member(root, "options");
    assert_int_equal(json_array_get_length(options), 1);
    assert_string_equal(json_array_get_string_element(options, 0), "electric-drive");

    JsonObject *answers = json_object_get_object_member(root, "answers");
    JsonObject *d = json_object_get_object_member(answers, "afloat.displacement");
    assert_string_equal(json_object_get_string_member(d, "name"), "displacement");
    assert_float_equal(json_object_get_double_member(d, "value"), 10000.0, 0.0);
    assert_string_equal(json_object_get_string_member(d, "unit"), "kg");
    assert_float_equal(json_object_get_double_member(d, "spread"), 950.0, 0.0);
    assert_string_equal(json_object_get_string_member(d, "basis"), "by-eye");
    assert_string_equal(json_object_get_string_member(d, "validity"), "valid");
    assert_string_equal(json_object_get_string_member(d, "standing"), "derived");
    assert_true(json_object_has_member(answers, "afloat.opening-height.engine-vent@party"));
    assert_true(json_object_has_member(answers, "afloat.opening-height"));
    JsonObject *none = json_object_get_object_member(answers, "afloat.gz-range");
    assert_true(json_object_get_null_member(none, "value"));
    assert_true(json_object_get_null_member(none, "spread"));
    demo_free(demo);
}

static void
findings_worst_first(void **state G_GNUC_UNUSED)
{
    Demo *demo = demo_new(false);
    g_autoptr(GString) text = g_string_new(NULL);
    write_check_json(demo->result, &demo->asked, text);
    g_autoptr(JsonParser) parser = parsed(text);
    JsonArray *findings = json_object_get_array_member(
        json_node_get_object(json_parser_get_root(parser)), "findings");
    assert_int_equal(json_array_get_length(findings), 4);
    JsonObject *f = json_array_get_object_element(findings, 0);
    assert_string_equal(json_object_get_string_member(f, "id"), "afloat.openings.engine-vent");
    assert_string_equal(json_object_get_string_member(f, "level"), "danger");
    assert_string_equal(json_object_get_string_member(f, "discipline"), "afloat");
    assert_string_equal(json_object_get_string_member(f, "about"), "openings.engine-vent");
    assert_string_equal(json_object_get_string_member(f, "situation"), "party");
    assert_string_equal(json_object_get_string_member(f, "standing"), "memory");
    assert_string_equal(json_object_get_string_member(f, "source"), "A rule that was recalled");
    JsonObject *value = json_object_get_object_member(f, "value");
    assert_float_equal(json_object_get_double_member(value, "value"), 0.35, 0.0);
    assert_string_equal(json_object_get_string_member(value, "unit"), "m");
    JsonObject *limit = json_object_get_object_member(f, "limit");
    assert_float_equal(json_object_get_double_member(limit, "value"), 0.5, 0.0);
    assert_int_equal(json_array_get_length(json_object_get_array_member(f, "remedies")), 0);
    assert_string_equal(
        json_object_get_string_member(f, "title"),
        "Vent of the engine room stands 0.35 m above the water (six people on the aft deck); "
        "0.5 m is asked, 0.15 m more, by the rule.");
    JsonObject *said = json_array_get_object_element(findings, 1);
    assert_string_equal(json_object_get_string_member(said, "level"), "fault");
    assert_true(json_object_get_null_member(said, "value"));
    assert_true(json_object_get_null_member(said, "limit"));
    assert_string_equal(json_object_get_string_member(said, "cause"),
                        "afloat.openings.engine-vent");
    demo_free(demo);
}

static JsonArray *
steps_of(JsonParser *parser)
{
    return json_object_get_array_member(json_node_get_object(json_parser_get_root(parser)),
                                        "steps");
}

static void
why_gives_numbers_unrounded(void **state G_GNUC_UNUSED)
{
    Demo *demo = demo_new(false);
    g_autoptr(GString) text = g_string_new(NULL);
    assert_true(write_why_json(demo->result, "afloat.displacement", text));
    g_autoptr(JsonParser) parser = parsed(text);
    JsonArray *steps = steps_of(parser);
    assert_int_equal(json_array_get_length(steps), 4);
    JsonObject *list = json_array_get_object_element(steps, 0);
    assert_string_equal(json_object_get_string_member(list, "type"), "given");
    assert_int_equal(json_array_get_length(json_object_get_array_member(list, "value")), 3);
    assert_true(json_object_get_null_member(list, "expression"));
    JsonObject *centre = json_array_get_object_element(steps, 3);
    assert_string_equal(json_object_get_string_member(centre, "symbol"), "LCG");
    assert_string_equal(json_object_get_string_member(centre, "expression"), "sum(m * x) / M");
    assert_float_equal(json_object_get_double_member(centre, "value"), 6.0725, 0.0);
    assert_string_equal(json_object_get_string_member(centre, "unit"), "m");
    assert_string_equal(json_object_get_string_member(centre, "source"), "mechanics");
    assert_string_equal(json_object_get_string_member(centre, "standing"), "derived");
    JsonObject *inputs = json_object_get_object_member(centre, "inputs");
    assert_int_equal(json_object_get_size(inputs), 3);
    assert_float_equal(json_object_get_double_member(inputs, "M"), 10000.0, 0.0);
    JsonArray *m = json_object_get_array_member(inputs, "m");
    JsonArray *x = json_object_get_array_member(inputs, "x");
    double sum = 0.0;
    for (guint i = 0; i < json_array_get_length(m); i++)
        sum += json_array_get_double_element(m, i) * json_array_get_double_element(x, i);
    assert_float_equal(sum / 10000.0, 6.0725, 1e-12);
    demo_free(demo);
}

static void
why_of_a_finding(void **state G_GNUC_UNUSED)
{
    Demo *demo = demo_new(false);
    g_autoptr(GString) text = g_string_new(NULL);
    assert_true(write_why_json(demo->result, "afloat.openings.engine-vent", text));
    g_autoptr(JsonParser) parser = parsed(text);
    JsonArray *steps = steps_of(parser);
    JsonObject *found = json_array_get_object_element(steps, 3);
    assert_string_equal(json_object_get_string_member(found, "type"), "found");
    assert_string_equal(json_object_get_string_member(found, "validity"), "extrapolated");
    assert_int_equal(json_object_get_size(json_object_get_object_member(found, "inputs")), 0);
    JsonObject *last = json_array_get_object_element(steps, 4);
    JsonObject *inputs = json_object_get_object_member(last, "inputs");
    assert_int_equal(json_object_get_size(inputs), 4); /* z T s phi, not sin */
    assert_false(json_object_has_member(inputs, "sin"));
    JsonObject *z = json_array_get_object_element(steps, 0);
    assert_string_equal(json_object_get_string_member(z, "path"), "openings.engine-vent.height");

    g_autoptr(GString) empty = g_string_new(NULL);
    assert_true(write_why_json(demo->result, "afloat.stern-load", empty));
    g_autoptr(JsonParser) second = parsed(empty);
    assert_int_equal(json_array_get_length(steps_of(second)), 0);
    g_string_truncate(empty, 0);
    assert_false(write_why_json(demo->result, "afloat.nothing", empty));
    assert_int_equal(empty->len, 0);
    demo_free(demo);
}

static void
answers_by_name(void **state G_GNUC_UNUSED)
{
    Demo *demo = demo_new(false);
    static const char *const names[] = {"afloat.displacement", "afloat.nothing"};
    g_autoptr(GString) text = g_string_new(NULL);
    write_answers_json(demo->result, 2, names, text);
    g_autoptr(JsonParser) parser = parsed(text);
    JsonObject *root = json_node_get_object(json_parser_get_root(parser));
    assert_int_equal(json_object_get_size(root), 1);
    assert_true(json_object_has_member(root, "afloat.displacement"));
    demo_free(demo);
}

/* Each text comes back as it was typed, and no control character stands in the output. */
static void
hostile_texts(void **state G_GNUC_UNUSED)
{
    Demo *demo = demo_new(true);
    g_autoptr(GString) text = g_string_new(NULL);
    write_check_json(demo->result, &demo->asked, text);
    g_autoptr(JsonParser) parser = parsed(text);
    JsonObject *root = json_node_get_object(json_parser_get_root(parser));
    assert_string_equal(json_object_get_string_member(root, "boat"), "<b>&\"\\ ]]>");
    const char *option =
        json_array_get_string_element(json_object_get_array_member(root, "options"), 0);
    assert_string_equal(option, "\033[31mred\a");
    for (gsize i = 0; i < text->len; i++)
        assert_true((unsigned char) text->str[i] >= 0x20 || text->str[i] == '\n');
    demo_free(demo);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(check_has_its_members),
                                       cmocka_unit_test(findings_worst_first),
                                       cmocka_unit_test(why_gives_numbers_unrounded),
                                       cmocka_unit_test(why_of_a_finding),
                                       cmocka_unit_test(answers_by_name),
                                       cmocka_unit_test(hostile_texts)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
