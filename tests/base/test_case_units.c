/* Every unit in the reference cases, in values and in the headers of their tables, is one that is
 * read. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>
#include <glib.h>

#include "base/csv.h"
#include "base/scan.h"
#include "base/unit.h"

typedef struct {
    unsigned units; /* how many were seen */
    unsigned files;
} Seen;

static void
check_unit(const char *unit, const char *file, unsigned line, Seen *seen)
{
    seen->units++;
    if (!g_str_equal(unit, "1") && !unit_known(unit))
        fail_msg("%s line %u: `%s` is no unit known", file, line, unit);
}

/* A word such as a date or the name of a table bears no unit. */
static bool
is_word(const char *behind)
{
    return *behind != '\0' && *behind != ' ' && *behind != '%';
}

static void
check_value(const char *value, const char *file, unsigned line, Seen *seen)
{
    const char *end;
    double number;
    g_autofree char *problem = NULL;
    if (*value == '[') {
        g_autofree char *inner = g_strndup(value + 1, strlen(value) - 2);
        g_auto(GStrv) members = g_strsplit(inner, ",", -1);
        for (char **member = members; *member != NULL; member++)
            check_value(g_strstrip(*member), file, line, seen);
        return;
    }
    if (scan_number(value, false, &end, &number, &problem) != SCAN_NUMBER || is_word(end))
        return;
    end = scan_blanks(end);
    if (*end != '\0')
        check_unit(end, file, line, seen);
}

static void
check_row(const Csv *csv, size_t row, const char *file, Seen *seen)
{
    unsigned line = csv_line(csv, row);
    g_auto(GStrv) inputs = g_strsplit(csv_cell(csv, row, 1), ";", -1);
    for (char **input = inputs; *input != NULL; input++) {
        const char *equals = strchr(*input, '=');
        if (equals == NULL && **input != '\0')
            fail_msg("%s line %u: `%s` has no value", file, line, *input);
        if (equals != NULL)
            check_value(equals + 1, file, line, seen);
    }
    check_value(csv_cell(csv, row, 3), file, line, seen);
    check_value(csv_cell(csv, row, 4), file, line, seen);
}

static void
check_file(const char *path, const char *name, Seen *seen)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Csv) csv = csv_load(path, &error);
    if (csv == NULL)
        fail_msg("%s", error->message);
    seen->files++;
    if (csv_column(csv, "calculator") == 0) {
        for (size_t row = 0; row < csv_rows(csv); row++)
            check_row(csv, row, name, seen);
        return;
    }
    for (size_t column = 0; column < csv_columns(csv); column++) {
        const char *stroke = strchr(csv_header(csv, column), '/');
        if (stroke != NULL)
            check_unit(stroke + 1, name, 1, seen);
    }
}

static void
units_of_all_cases_are_known(void **state)
{
    (void) state;
    Seen seen = {0};
    g_autoptr(GDir) folder = g_dir_open(CASES, 0, NULL);
    assert_non_null(folder);
    for (const char *name; (name = g_dir_read_name(folder)) != NULL;) {
        g_autofree char *path = g_build_filename(CASES, name, NULL);
        if (g_str_has_suffix(name, ".csv"))
            check_file(path, name, &seen);
    }
    /* A walk that found nothing would prove nothing. */
    assert_true(seen.files > 100);
    assert_true(seen.units > 10000);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(units_of_all_cases_are_known)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
