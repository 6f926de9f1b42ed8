/* Names and values of an address or a form. Expected pairs: the urlencoded parser of the URL Standard (url.spec.whatwg.org, 5.1),
 * which splits at "&" and the first "=", skips empty pieces and reads "+" as a blank; stricter here: what is no clean text is
 * refused. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "app/serve/params.h"

static char *
written(const char *text)
{
    g_autoptr(Params) params = params_parse(text, strlen(text));
    if (params == NULL)
        return g_strdup("refused");
    GString *out = g_string_new(NULL);
    for (size_t i = 0; i < params_count(params); i++)
        g_string_append_printf(out, "[%s|%s]", params_name(params, i), params_value(params, i));
    return g_string_free(out, FALSE);
}

static void
pairs_are_read(void **state G_GNUC_UNUSED)
{
    static const char *const rows[][2] = {
        {"", ""},
        {"a=1", "[a|1]"},
        {"a=1&b=2", "[a|1][b|2]"},
        {"&&a=1&&", "[a|1]"},
        {"a", "[a|]"},
        {"a=", "[a|]"},
        {"=a", "[|a]"},
        {"=", "[|]"},
        {"a=b=c", "[a|b=c]"},
        {"a+b=c+d", "[a b|c d]"},
        {"a%2Bb=%26%3d", "[a+b|&=]"},
        {"v=%C2%B1%202%20%E2%82%AC", "[v|± 2 €]"},
        {"v=\xc2\xb1", "[v|±]"},
        {"v=a%0D%0Ab%09", "[v|a\r\nb\t]"},
        {"a=1&a=2&a=", "[a|1][a|2][a|]"},
        {"a;b=1", "[a;b|1]"},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autofree char *text = written(rows[i][0]);
        assert_string_equal(text, rows[i][1]);
    }
}

static void
no_clean_text_is_refused(void **state G_GNUC_UNUSED)
{
    static const char *const rows[] = {
        "a=%",   "a=%4",        "a=%zz",    "a=%4g",    "a=%g4",       "%=1",    "a=1&b=%",
        "a=%00", "%00=1",       "a=%ff",    "a=%c0%ae", "a=%e0%80%ae", "a=\xff", "a=%c3",
        "%c3=1", "a=%c3&b=%a4", "a=%f5%80", "a=% 41",   "a=%+1",       "a=%-1",  "a=%ed%a0%80",
    };
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++)
        assert_null(params_parse(rows[i], strlen(rows[i])));
    assert_null(params_parse("a=\0b", 4));
    assert_null(params_parse("a\0=b", 4));
}

static void
last_of_a_name_counts(void **state G_GNUC_UNUSED)
{
    g_autoptr(Params) params = params_parse("a=1&b=2&a=3&A=4", 15);
    assert_int_equal(params_count(params), 4);
    assert_string_equal(params_get(params, "a"), "3");
    assert_string_equal(params_get(params, "A"), "4");
    assert_null(params_get(params, "c"));
    assert_null(params_get(params, ""));
}

static void
not_more_than_the_length(void **state G_GNUC_UNUSED)
{
    g_autoptr(Params) params = params_parse("a=1&b=2", 5);
    assert_int_equal(params_count(params), 2);
    assert_string_equal(params_get(params, "b"), "");
    assert_null(params_parse("a=%41", 4));
}

static void
so_many_pairs_and_no_more(void **state G_GNUC_UNUSED)
{
    g_autoptr(GString) text = g_string_new("a");
    for (int i = 1; i < 4096; i++)
        g_string_append(text, "&a");
    g_autoptr(Params) most = params_parse(text->str, text->len);
    assert_int_equal(params_count(most), 4096);
    g_string_append(text, "&a");
    assert_null(params_parse(text->str, text->len));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pairs_are_read), cmocka_unit_test(no_clean_text_is_refused),
        cmocka_unit_test(last_of_a_name_counts), cmocka_unit_test(not_more_than_the_length),
        cmocka_unit_test(so_many_pairs_and_no_more)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
