/* The verifier itself: it must fail what is wrong. And the registry: every row of it is whole. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <glib.h>
#include <glib/gstdio.h>
#include <string.h>

#include "base/unit.h"
#include "calc/run.h"
#include "calc/verify.h"

#define HEADER "calculator,inputs,output,expected,tolerance,source,status\n"
#define WALL "wall-sided-gz,gm=1 m;bm=3 m;heel=25 deg,"

static VerifyCounts
run(const char *rows, const char *const only[], char **said)
{
    g_autofree char *folder = g_dir_make_tmp("careen-calc-XXXXXX", NULL);
    g_autofree char *path = g_build_filename(folder, "cases.csv", NULL);
    g_autofree char *text = g_strconcat(HEADER, rows, NULL);
    assert_true(g_file_set_contents(path, text, -1, NULL));
    GString *report = g_string_new(NULL);
    g_autoptr(GError) error = NULL;
    VerifyCounts counts;
    const char *const paths[] = {path};
    assert_true(verify_cases(1, paths, only, report, &counts, &error));
    g_unlink(path);
    g_rmdir(folder);
    *said = g_string_free(report, FALSE);
    return counts;
}

static void
row_is(const char *row, gboolean passes, const char *part)
{
    g_autofree char *said = NULL;
    VerifyCounts c = run(row, NULL, &said);
    assert_int_equal(c.passed, passes ? 1 : 0);
    assert_int_equal(c.failed, passes ? 0 : 1);
    if (part != NULL && strstr(said, part) == NULL)
        fail_msg("\"%s\" does not say \"%s\"", said, part);
}

static void
rows_pass_and_fail(void **state)
{
    (void) state;
    row_is(WALL "gz,0.5604612 m,1e-7 m,s,read\n", TRUE, NULL);
    row_is(WALL "gz,56.04612 cm,1e-5 cm,s,read\n", TRUE, NULL);
    row_is(WALL "gz,0.5604612 m,1e-5 %,s,read\n", TRUE, NULL);
    row_is(WALL "gz,0.5604622 m,1e-7 m,s,read\n", FALSE, "0.5604612");
    row_is(WALL "gz,0.5604712 m,1e-5 %,s,read\n", FALSE, "cases.csv:2");
    row_is(WALL "gz,0.5604612 m,,s,read\n", FALSE, "no tolerance");
    row_is(WALL "gz,0.5604612 m,1e-7 kg,s,read\n", FALSE, "no tolerance");
    row_is(WALL "gz,0.5604612 m,-1 m,s,read\n", FALSE, "no tolerance");
    row_is(WALL "gz,0.5604612 m,nan m,s,read\n", FALSE, "no tolerance");
    row_is(WALL "gz,0.5604612 kg,1e-7 m,s,read\n", FALSE, "no number");
    row_is(WALL "gz,,1e-7 m,s,read\n", FALSE, "no number");
    row_is(WALL "gz[0],0.5604612 m,1e-7 m,s,read\n", FALSE, "not given");
    row_is(WALL "lever,0.5604612 m,1e-7 m,s,read\n", FALSE, "not given");
    row_is(WALL "validity,valid,,s,read\n", TRUE, NULL);
    row_is(WALL "validity,refused,,s,read\n", FALSE, "valid found");
    row_is("wall-sided-gx,gm=1 m;bm=3 m;heel=25 deg,gz,1 m,1 m,s,read\n", FALSE, "no calculator");
    row_is("wall-sided-gz,gm=1 m;bm=3 m,gz,1 m,1 m,s,read\n", FALSE, "heel");
    row_is("wall-sided-gz,gm=1 m;bm=3 m;heel=90 deg,gz,1 m,1 m,s,read\n", FALSE, "below 90");
    row_is("freeboard-inland-eu,length=18 m;beam=4.2 m,alpha,0,1e-9,s,read\n", TRUE, NULL);
}

static void
only_some(void **state)
{
    (void) state;
    const char *rows =
        WALL "gz,0.5604612 m,1e-7 m,s,read\nfreeboard-uk,length=12 m,freeboard,1 m,1 mm,s,read\n";
    const char *const wall[] = {"wall-sided-gz", NULL}, *const missing[] = {"wall-sided-gz",
                                                                            "openings", NULL};
    g_autofree char *a = NULL, *b = NULL, *c = NULL;
    VerifyCounts n = run(rows, wall, &a);
    assert_true(n.passed == 1 && n.failed == 0);
    n = run(rows, NULL, &b);
    assert_true(n.passed == 1 && n.failed == 1);
    n = run(rows, missing, &c); /* a name nobody tests must not look like a pass */
    assert_true(n.passed == 1 && n.failed == 1);
    assert_non_null(strstr(c, "openings"));
}

static void
not_a_cases_file(void **state)
{
    (void) state;
    const char *const paths[] = {CASES "/float-hull-A.csv"}, *const none[] = {CASES "/nowhere.csv"};
    g_autoptr(GString) report = g_string_new(NULL);
    g_autoptr(GError) error = NULL, other = NULL;
    VerifyCounts counts;
    assert_false(verify_cases(1, paths, NULL, report, &counts, &error));
    assert_non_null(strstr(error->message, "calculator"));
    assert_false(verify_cases(1, none, NULL, report, &counts, &other));
    assert_non_null(other);
}

static void
unit_is_known(const char *unit)
{
    Unit u;
    g_autofree char *problem = NULL;
    if (strcmp(unit, "1") != 0 && !unit_parse_as(unit, unit, &u, &problem))
        fail_msg("%s: %s", unit, problem);
}

static void
registry_is_whole(void **state)
{
    (void) state;
    size_t n = 0;
    for (const Calculator *const *c = calculator_list(); *c != NULL; c++, n++) {
        assert_ptr_equal(calculator_find((*c)->name), *c);
        assert_non_null((*c)->question);
        assert_non_null((*c)->sheet);
        assert_non_null((*c)->run);
        assert_true((*c)->n_outputs > 0);
        for (size_t i = 0; i < (*c)->n_inputs; i++) {
            const Input *in = &(*c)->inputs[i];
            assert_ptr_equal(calculator_input(*c, in->name), in);
            assert_false(in->standard != NULL && in->otherwise != NULL);
            assert_true(in->kind == INPUT_NUMBER || in->kind == INPUT_LIST ? in->unit != NULL
                                                                           : in->unit == NULL);
            assert_true((in->kind == INPUT_TABLE) == (in->n_columns > 0));
            if (in->unit != NULL)
                unit_is_known(in->unit);
            for (size_t k = 0; k < in->n_columns; k++)
                if (in->columns[k].unit != NULL)
                    unit_is_known(in->columns[k].unit);
        }
        for (size_t i = 0; i < (*c)->n_outputs; i++) {
            const Output *out = &(*c)->outputs[i];
            assert_ptr_equal(calculator_output(*c, out->name), out);
            assert_int_equal((out->unit != NULL) + (out->words != NULL) + (out->kind != NULL), 1);
            if (out->unit != NULL)
                unit_is_known(out->unit);
        }
        for (const Method *const *m = (*c)->methods; m != NULL && *m != NULL; m++)
            assert_non_null(strchr((*m)->formula, '='));
        g_autofree char *usage = calc_usage_text(*c);
        assert_non_null(strstr(usage, (*c)->inputs[0].name));
    }
    assert_true(n >= 36);
    g_autofree char *list = calc_list_text();
    assert_non_null(strstr(list, "box-barge"));
}

static void
results_as_text(void **state)
{
    (void) state;
    g_autoptr(GError) error = NULL;
    g_autoptr(CalcResults) good = calc_run_text("freeboard-uk", "length=12 m", NULL, &error);
    g_autofree char *text = calc_results_text(good);
    assert_string_equal(text, "validity = valid\nfreeboard = 0.5045454545 m\n");
    g_autoptr(CalcResults) bad = calc_run_text("freeboard-uk", "length=-1 m", NULL, &error);
    g_autofree char *why = calc_results_text(bad);
    assert_string_equal(why, "validity = refused\nbecause the length must be positive\n");
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows_pass_and_fail), cmocka_unit_test(only_some),
        cmocka_unit_test(not_a_cases_file),   cmocka_unit_test(registry_is_whole),
        cmocka_unit_test(results_as_text),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
