/* Tables for a spreadsheet: read back by our own reader of RFC 4180 tables they hold what the result holds, and no cell of an
 * owner's is one that a spreadsheet would reckon. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <math.h>
#include <string.h>

#include <cmocka.h>

#include "base/csv.h"
#include "boat/model.h"
#include "demo_result.h"
#include "example.h"
#include "report/tables_csv.h"
#include "report/words.h"

static Csv *
table(const GString *text)
{
    GError *error = NULL;
    Csv *csv = csv_parse(text->str, text->len, &error);
    if (csv == NULL)
        fail_msg("%s", error->message);
    size_t ends = 0;
    for (const char *at = text->str; (at = strstr(at, "\r\n")) != NULL; at++)
        ends++;
    assert_int_equal(ends, csv_rows(csv) + 1);
    return csv;
}

static const char *
at(const Csv *csv, size_t row, const char *header)
{
    int column = csv_column(csv, header);
    assert_true(column >= 0);
    return csv_cell(csv, row, (size_t) column);
}

static double
number_at(const Csv *csv, size_t row, const char *header)
{
    char *end;
    const char *text = at(csv, row, header);
    double number = g_ascii_strtod(text, &end);
    assert_true(end > text && *end == '\0');
    return number;
}

static void
near(double a, double b)
{
    assert_true(fabs(a - b) <= 1e-5 * fmax(fabs(b), 1e-9));
}

/* 1 ft = 0.3048 m and 1 lb = 0.45359237 kg by definition. */
static void
answers(void **state G_GNUC_UNUSED)
{
    Demo *demo = demo_new(false);
    g_autoptr(GString) metric = g_string_new(NULL);
    g_autoptr(GString) imperial = g_string_new(NULL);
    write_answers_csv(demo->result, UNITS_METRIC, metric);
    write_answers_csv(demo->result, UNITS_IMPERIAL, imperial);
    g_autoptr(Csv) si = table(metric);
    g_autoptr(Csv) own = table(imperial);
    assert_int_equal(csv_rows(si), result_answers(demo->result));
    assert_int_equal(csv_columns(si), 7);
    for (size_t i = 0; i < csv_rows(si); i++) {
        const Answer *answer = result_answer(demo->result, i);
        g_autofree char *words = answer_words(demo->result, answer);
        assert_string_equal(at(si, i, "answer"), words);
        assert_string_equal(at(si, i, "name"), answer->name);
        assert_string_equal(at(si, i, "how sure"), basis_word(answer->basis));
        assert_string_equal(at(si, i, "standing"), standing_word(answer->standing));
        if (isnan(answer->value)) {
            assert_string_equal(at(si, i, "value"), "");
            assert_string_equal(at(si, i, "spread"), "");
            continue;
        }
        bool mass = answer->kind->kind == Q_MASS;
        near(number_at(si, i, "value"), answer->value);
        near(number_at(si, i, "spread"), answer->spread);
        assert_string_equal(at(si, i, "unit"), mass ? "kg" : "m");
        assert_string_equal(at(own, i, "unit"), mass ? "lb" : "ft");
        near(number_at(own, i, "value"), answer->value / (mass ? 0.45359237 : 0.3048));
        near(number_at(own, i, "spread"), answer->spread / (mass ? 0.45359237 : 0.3048));
    }
    demo_free(demo);
}

static void
findings(void **state G_GNUC_UNUSED)
{
    Demo *demo = demo_new(false);
    g_autoptr(GString) text = g_string_new(NULL);
    write_findings_csv(demo->result, UNITS_METRIC, text);
    g_autoptr(Csv) csv = table(text);
    assert_int_equal(csv_rows(csv), result_findings(demo->result));
    for (size_t i = 0; i < csv_rows(csv); i++) {
        const Finding *f = result_finding(demo->result, i);
        g_autofree char *sentence = finding_sentence(demo->result, f, UNITS_METRIC);
        assert_string_equal(at(csv, i, "level"), level_word(f->level));
        assert_string_equal(at(csv, i, "sentence"), sentence);
        assert_string_equal(at(csv, i, "path"), f->about);
        if (!f->measured) {
            assert_string_equal(at(csv, i, "value"), "");
            assert_string_equal(at(csv, i, "unit"), "");
        } else if (f->kind == Q_LENGTH) {
            near(number_at(csv, i, "value"), f->value);
            near(number_at(csv, i, "limit"), f->limit);
        }
    }
    assert_string_equal(at(csv, 0, "about"), "vent of the engine room");
    assert_string_equal(at(csv, 0, "source"), "A rule that was recalled [memory]");
    assert_string_equal(at(csv, 0, "situation"), "six people on the aft deck");
    demo_free(demo);
}

static const char tricky[] = "careen: 1\n"
                             "boat:\n"
                             "  name: '=1+1'\n"
                             "items:\n"
                             "  bower:\n"
                             "    what: '@SUM(1), a \"good\" one'\n"
                             "    mass: 24 kg ± 1 kg (measured)\n"
                             "    along: -0.2 m\n"
                             "  kedge:\n"
                             "    what: '+44 7700'\n"
                             "    mass: unknown\n"
                             "situations:\n"
                             "  cruise:\n"
                             "    tanks: {fresh: 40 %}\n";

static void
records(void **state G_GNUC_UNUSED)
{
    g_autoptr(Diagnostics) notes = diagnostics_new();
    g_autoptr(Boat) boat = boat_parse(tricky, strlen(tricky), 0, NULL, notes, NULL);
    assert_non_null(boat);
    g_autoptr(GString) text = g_string_new(NULL);
    assert_true(write_records_csv(boat, &section_items, text));
    g_autoptr(Csv) items = table(text);
    assert_int_equal(csv_columns(items), 1 + section_items.n_fields);
    assert_int_equal(csv_rows(items), 2);
    assert_string_equal(at(items, 0, "id"), "bower");
    assert_string_equal(at(items, 0, "what"), "'@SUM(1), a \"good\" one");
    assert_string_equal(at(items, 0, "mass"), "24 kg \u00b1 1 kg (measured)");
    assert_string_equal(at(items, 0, "along"), "'-0.2 m");
    assert_string_equal(at(items, 0, "height"), "");
    assert_string_equal(at(items, 1, "what"), "'+44 7700");
    assert_string_equal(at(items, 1, "mass"), "unknown");
    g_autoptr(GString) more = g_string_new(NULL);
    assert_true(write_records_csv(boat, &section_situations, more));
    g_autoptr(Csv) situations = table(more);
    assert_string_equal(at(situations, 0, "tanks"), "fresh: 40 %");
    g_string_truncate(more, 0);
    assert_false(write_records_csv(boat, &section_openings, more));
    assert_int_equal(more->len, 0);
}

/* Nothing that a spreadsheet would take for a formula: = + - @, a tab or a return first, unless it is a number. */
static void
no_formula(const Csv *csv)
{
    for (size_t row = 0; row < csv_rows(csv); row++)
        for (size_t column = 0; column < csv_columns(csv); column++) {
            const char *cell = csv_cell(csv, row, column);
            char *end;
            g_ascii_strtod(cell, &end);
            assert_true(*cell == '\0' || strchr("=+-@\t\r", *cell) == NULL ||
                        (end > cell && *end == '\0'));
        }
}

static void
every_section(void **state G_GNUC_UNUSED)
{
    static const char *const boats[] = {"dunlin", "whimbrel", "punt"};
    size_t written = 0;
    for (size_t b = 0; b < G_N_ELEMENTS(boats); b++) {
        Example example;
        example_solve(&example, boats[b], "", "done", false);
        for (const Section *const *s = boat_sections; *s != NULL; s++) {
            size_t n;
            boat_records(example.boat, *s, &n);
            g_autoptr(GString) text = g_string_new(NULL);
            bool any = write_records_csv(example.boat, *s, text);
            assert_true(any == (n > 0));
            if (!any)
                continue;
            g_autoptr(Csv) csv = table(text);
            assert_int_equal(csv_rows(csv), n);
            no_formula(csv);
            written++;
        }
        example_clear(&example);
    }
    assert_true(written > 10);
}

static void
hostile(void **state G_GNUC_UNUSED)
{
    Demo *demo = demo_new(true);
    g_autoptr(GString) text = g_string_new(NULL);
    write_findings_csv(demo->result, UNITS_METRIC, text);
    g_autoptr(Csv) found = table(text);
    no_formula(found);
    g_string_truncate(text, 0);
    write_answers_csv(demo->result, UNITS_METRIC, text);
    g_autoptr(Csv) answered = table(text);
    no_formula(answered);
    demo_free(demo);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(answers), cmocka_unit_test(findings),
                                       cmocka_unit_test(records), cmocka_unit_test(every_section),
                                       cmocka_unit_test(hostile)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
