/* The reference cases of the wiring calculators, all of them. Invariant: a name on not_there is no calculator yet; every
 * other name of the file is one and passes. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <glib.h>
#include <stdio.h>

#include "base/csv.h"
#include "calc/calculator.h"
#include "calc/verify.h"

static const char cases[] = CASES "/wires.csv";

static const char *const not_there[] = {"fault-loop", NULL};

static gboolean
has(const GPtrArray *names, const char *name)
{
    for (guint i = 0; i < names->len; i++)
        if (names->pdata[i] != NULL && g_str_equal(names->pdata[i], name))
            return TRUE;
    return FALSE;
}

/* Every name the file bears, so that a calculator that vanishes fails here. */
static GPtrArray *
names_in_file(void)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Csv) csv = csv_load(cases, &error);
    assert_null(error);
    GPtrArray *names = g_ptr_array_new_with_free_func(g_free);
    int column = csv_column(csv, "calculator");
    assert_true(column >= 0);
    for (size_t i = 0; i < csv_rows(csv); i++) {
        const char *name = csv_cell(csv, i, (size_t) column);
        if (!has(names, name))
            g_ptr_array_add(names, g_strdup(name));
    }
    return names;
}

static void
what_is_not_there_is_listed(void **state)
{
    (void) state;
    g_autoptr(GPtrArray) names = names_in_file();
    assert_int_equal(names->len, 45);
    for (size_t i = 0; not_there[i] != NULL; i++) {
        if (calculator_find(not_there[i]) != NULL)
            fail_msg("%s is there: take it off the list", not_there[i]);
        if (!has(names, not_there[i]))
            fail_msg("%s is on the list, but no case bears that name", not_there[i]);
    }
}

static void
cases_pass(void **state)
{
    (void) state;
    g_autoptr(GPtrArray) names = names_in_file();
    for (size_t i = 0; not_there[i] != NULL; i++)
        for (guint k = 0; k < names->len; k++)
            if (g_str_equal(names->pdata[k], not_there[i]))
                g_ptr_array_remove_index(names, k);
    g_ptr_array_add(names, NULL);
    g_autoptr(GString) report = g_string_new(NULL);
    g_autoptr(GError) error = NULL;
    VerifyCounts counts;
    const char *path = cases;
    gboolean read =
        verify_cases(1, &path, (const char *const *) names->pdata, report, &counts, &error);
    if (error != NULL)
        fail_msg("%s", error->message);
    assert_true(read);
    print_message("%s%zu passed, %zu failed\n", report->str, counts.passed, counts.failed);
    assert_int_equal(counts.failed, 0);
    assert_true(counts.passed > 0);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(what_is_not_there_is_listed),
                                       cmocka_unit_test(cases_pass)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
