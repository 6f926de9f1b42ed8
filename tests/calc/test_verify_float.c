/* The reference cases of the afloat calculators, all of them. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <glib.h>
#include <stdio.h>

#include "base/csv.h"
#include "calc/verify.h"

/* Every name the file bears, so that a calculator that vanishes fails here. */
static GPtrArray *
names_in(const char *path)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Csv) csv = csv_load(path, &error);
    assert_null(error);
    GPtrArray *names = g_ptr_array_new_with_free_func(g_free);
    int column = csv_column(csv, "calculator");
    assert_true(column >= 0);
    for (size_t i = 0; i < csv_rows(csv); i++) {
        const char *name = csv_cell(csv, i, (size_t) column);
        gboolean known = FALSE;
        for (guint k = 0; !known && k < names->len; k++)
            known = g_str_equal(names->pdata[k], name);
        if (!known)
            g_ptr_array_add(names, g_strdup(name));
    }
    g_ptr_array_add(names, NULL);
    return names;
}

static void
cases_pass(void **state)
{
    (void) state;
    const char *path = CASES "/float.csv";
    g_autoptr(GPtrArray) names = names_in(path);
    assert_true(names->len > 44);
    g_autoptr(GString) report = g_string_new(NULL);
    g_autoptr(GError) error = NULL;
    VerifyCounts counts;
    gboolean read =
        verify_cases(1, &path, (const char *const *) names->pdata, report, &counts, &error);
    if (error != NULL)
        fail_msg("%s", error->message);
    assert_true(read);
    print_message("%s%zu passed, %zu failed\n", report->str, counts.passed, counts.failed);
    assert_int_equal(counts.failed, 0);
    assert_true(counts.passed > 1000);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(cases_pass)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
