/* The reference cases of one method sheet: test_verify_cases FILE NAMES ROWS [CALCULATOR...], as many at least as it had; of
 * the calculators named, or all of them. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <glib.h>
#include <stdio.h>

#include "base/csv.h"
#include "calc/verify.h"

typedef struct {
    char *path;
    guint names;
    size_t rows;
    const char *const *only; /* NULL-terminated, maybe empty */
} Sheet;

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
        if (!g_ptr_array_find_with_equal_func(names, name, g_str_equal, NULL))
            g_ptr_array_add(names, g_strdup(name));
    }
    g_ptr_array_add(names, NULL);
    return names;
}

static void
cases_pass(void **state)
{
    const Sheet *sheet = *state;
    const char *path = sheet->path;
    g_autoptr(GPtrArray) names = names_in(path);
    assert_true(names->len > sheet->names);
    const char *const *only =
        sheet->only[0] != NULL ? sheet->only : (const char *const *) names->pdata;
    g_autoptr(GString) report = g_string_new(NULL);
    g_autoptr(GError) error = NULL;
    VerifyCounts counts;
    gboolean read = verify_cases(1, &path, only, report, &counts, &error);
    if (error != NULL)
        fail_msg("%s", error->message);
    assert_true(read);
    print_message("%s%zu passed, %zu failed\n", report->str, counts.passed, counts.failed);
    assert_int_equal(counts.failed, 0);
    assert_true(counts.passed >= sheet->rows);
}

int
main(int n, char *argument[])
{
    if (n < 4)
        return 2;
    g_autofree char *path = g_build_filename(CASES, argument[1], NULL);
    Sheet sheet = {path, (guint) g_ascii_strtoull(argument[2], NULL, 10),
                   (size_t) g_ascii_strtoull(argument[3], NULL, 10),
                   (const char *const *) argument + 4};
    const struct CMUnitTest tests[] = {cmocka_unit_test_prestate(cases_pass, &sheet)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
