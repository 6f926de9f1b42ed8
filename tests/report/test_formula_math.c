/* Formulas as MathML: every method of physics and every step of the demonstration boats is read, and read back it has the same
 * value by an evaluator written apart. What is no formula is shown as it stands. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <math.h>
#include <string.h>

#include <cmocka.h>

#include "all_methods.h"
#include "example.h"
#include "plain_formula.h"
#include "report/formula_math.h"
#include "report/working_words.h"

static char *
math_of(const char *formula, MathShape shape, bool *read)
{
    Markup *markup = markup_new();
    *read = write_formula_math(formula, shape, markup);
    return markup_steal(markup);
}

static bool
same(double a, double b)
{
    return (isnan(a) && isnan(b)) || fabs(a - b) <= 1e-9 * fmax(1.0, fmax(fabs(a), fabs(b)));
}

/* Read as a formula, in each shape, with the value it had. */
static void
keeps_value(const char *formula)
{
    for (int shape = MATH_INLINE; shape <= MATH_BROKEN; shape++) {
        bool read;
        g_autofree char *math = math_of(formula, (MathShape) shape, &read);
        g_autofree char *back = plain_from_math(math);
        double before[2], after[2];
        if (!read || math_has_text(math))
            fail_msg("not read: %s", formula);
        if (back == NULL)
            fail_msg("%s is no MathML of the set that is enough: %s", formula, math);
        if (!plain_evaluate(formula, before) || !plain_evaluate(back, after))
            fail_msg("cannot be evaluated: %s, read back as %s", formula, back);
        if (isnan(before[0]))
            fail_msg("nothing is compared: %s is not a number", formula);
        if (!same(before[0], after[0]) || !same(before[1], after[1]))
            fail_msg("%s has the values %g and %g, %s has %g and %g", formula, before[0], before[1],
                     back, after[0], after[1]);
    }
}

static void
methods(void **state G_GNUC_UNUSED)
{
    size_t n = 0;
    for (const Method *const *m = all_methods; *m != NULL; m++) {
        g_auto(GStrv) equations = g_strsplit((*m)->formula, ";", -1);
        for (char **equation = equations; *equation != NULL; equation++, n++)
            keeps_value(*equation);
        bool read;
        g_autofree char *whole = math_of((*m)->formula, MATH_BLOCK, &read);
        assert_true(read && !math_has_text(whole));
    }
    assert_true(n >= 100);
}

static size_t
workings_of(const Working *working, GHashTable *seen)
{
    size_t n = 0;
    for (size_t i = 0; working != NULL && i < working_steps(working); i++) {
        const Step *step = working_step(working, i);
        if (step->type == STEP_GIVEN) {
            bool read;
            g_autofree char *symbol = math_of(step->symbol, MATH_INLINE, &read);
            assert_true(read && !math_has_text(symbol));
            continue;
        }
        g_autofree char *numbers = numbers_put_in(working, i);
        if (g_hash_table_add(seen, g_strdup(step->expression)))
            keeps_value(step->expression);
        if (g_hash_table_add(seen, g_strdup(numbers)) && strstr(numbers, "not known") == NULL)
            keeps_value(numbers);
        n++;
    }
    return n;
}

static void
demo_boats(void **state G_GNUC_UNUSED)
{
    static const char *const boats[] = {"dunlin", "whimbrel", "punt"};
    g_autoptr(GHashTable) seen = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
    for (size_t b = 0; b < 2 * G_N_ELEMENTS(boats); b++) {
        Example example;
        size_t n = 0;
        example_solve(&example, boats[b / 2], "", b % 2 == 0 ? "done" : "now", false);
        for (size_t i = 0; i < result_answers(example.result); i++)
            n += workings_of(result_answer(example.result, i)->working, seen);
        for (size_t i = 0; i < result_findings(example.result); i++)
            n += workings_of(result_finding(example.result, i)->working, seen);
        assert_true(n > 50);
        example_clear(&example);
    }
}

static void
looks(const char *formula, const char *expected)
{
    bool read;
    g_autofree char *math = math_of(formula, MATH_INLINE, &read);
    g_autofree char *wanted = g_strdup_printf("<math>%s</math>", expected);
    assert_true(read);
    assert_string_equal(math, wanted);
}

#define SILENT "<mo>\u2062</mo><mspace width=\"0.17em\"/>"

/* As they stand in a handbook. */
static void
shapes(void **state G_GNUC_UNUSED)
{
    looks("GM_a", "<msub><mi>GM</mi><mi>a</mi></msub>");
    looks("x2", "<msub><mi>x</mi><mn>2</mn></msub>");
    looks("l_w1", "<msub><mi>l</mi><mi>w1</mi></msub>");
    looks("rho_t", "<msub><mi>\u03c1</mi><mi>t</mi></msub>");
    looks("s_M^2", "<msubsup><mi>s</mi><mi>M</mi><mn>2</mn></msubsup>");
    looks("a * b", "<mrow><mi>a</mi>" SILENT "<mi>b</mi></mrow>");
    looks("2 * 3", "<mrow><mn>2</mn><mo>\u00d7</mo><mn>3</mn></mrow>");
    looks("(a) / (b + c)", "<mrow><mfrac><mrow><mi>a</mi></mrow><mrow><mrow><mi>b</mi><mo>+</mo>"
                           "<mi>c</mi></mrow></mrow></mfrac></mrow>");
    looks("a * (b / c)", "<mrow><mi>a</mi>" SILENT "<mrow><mfrac><mrow><mi>b</mi></mrow><mrow>"
                         "<mi>c</mi></mrow></mfrac></mrow></mrow>");
    looks("sqrt(x)", "<msqrt><mi>x</mi></msqrt>");
    looks("sum(m)", "<mrow><mo>\u2211</mo><mi>m</mi></mrow>");
    looks("tan(a)^2", "<mrow><msup><mi mathvariant=\"normal\">tan</mi><mn>2</mn></msup>"
                      "<mo>\u2061</mo><mrow><mo>(</mo><mi>a</mi><mo>)</mo></mrow></mrow>");
    looks("1.5e-07", "<mrow><mn>1.5</mn><mo>\u00d7</mo><msup><mn>10</mn><mrow><mo>\u2212</mo>"
                     "<mn>7</mn></mrow></msup></mrow>");
    looks("0.017453292519943295", "<mfrac><mi>\u03c0</mi><mn>180</mn></mfrac>");
    looks("a - (-2)", "<mrow><mi>a</mi><mo>\u2212</mo><mrow><mo>(</mo><mrow><mo>\u2212</mo>"
                      "<mn>2</mn></mrow><mo>)</mo></mrow></mrow>");
    looks("= not known", "<mo>=</mo><mtext>not known</mtext>");
}

/* Brackets that matter and brackets that do not. */
static void
brackets(void **state G_GNUC_UNUSED)
{
    static const char *const formulas[] = {"a - (b - c)",
                                           "a - (b + c) * d",
                                           "(a + b) * (c - d)",
                                           "-(a + b)",
                                           "-(-a)",
                                           "(-a)^2",
                                           "-a^2",
                                           "2^-b",
                                           "a^b^c",
                                           "(a^b)^c",
                                           "a / b / c",
                                           "a / (b / c)",
                                           "a / b * c",
                                           "a * -b",
                                           "a + -b * c",
                                           "(a * b)^2",
                                           "(a / b)^2",
                                           "sin(a)^b",
                                           "sqrt(a)^3",
                                           "abs(a - b)^2",
                                           "sum(a) * b",
                                           "sum(a)^2",
                                           "sum(a + b) + c",
                                           "b * sum(a)",
                                           "2 * (3 / 4)",
                                           "2 * 3^2",
                                           "x^2 * 3",
                                           "1.5e-07 * 2^3",
                                           "(1e3)^2",
                                           "(a + b) / 2 * c",
                                           "max(a, -b, c)^2",
                                           "f(a, b)",
                                           "a = b + c",
                                           "a' * b_c_d * 4",
                                           "((a))",
                                           "(sum(a) + b) * (sum(c * d) / e)",
                                           "1 / (1 / (1 / a))"};
    for (size_t i = 0; i < G_N_ELEMENTS(formulas); i++)
        keeps_value(formulas[i]);
}

static void
shown_as_text(void **state G_GNUC_UNUSED)
{
    g_autofree char *deep = g_strnfill(5000, '(');
    g_autofree char *minus = g_strnfill(5000, '-');
    const char *const wrong[] = {"",      "a +",
                                 "a b",   "(a",
                                 "a)",    "</math><script>",
                                 "a & b", "1..2",
                                 "* a",   "f(",
                                 "f()",   "a = = b",
                                 "a;",    "\xff",
                                 "a\nb",  "mean of both halves",
                                 deep,    minus,
                                 "x ^",   "3 m",
                                 "a <= b"};
    for (size_t i = 0; i < G_N_ELEMENTS(wrong); i++) {
        bool read;
        g_autofree char *math = math_of(wrong[i], MATH_BROKEN, &read);
        Markup *plain = markup_new();
        markup_element(plain, "mtext", wrong[i], NULL);
        g_autofree char *whole = markup_steal(plain);
        assert_false(read);
        assert_non_null(strstr(math, whole));
        assert_true(formula_math_columns(wrong[i]) >= 0);
    }
}

static void
breaks_between_terms(void **state G_GNUC_UNUSED)
{
    bool read;
    g_autofree char *math = math_of("a + b * c = d - e", MATH_BROKEN, &read);
    g_auto(GStrv) pieces = g_strsplit(math, "<math ", -1);
    assert_int_equal(g_strv_length(pieces), 1 + 4);
    assert_int_equal(formula_math_columns("a + bbbb * ccc = d - e"), 4 + 3 + 4);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(methods),       cmocka_unit_test(demo_boats),
        cmocka_unit_test(shapes),        cmocka_unit_test(brackets),
        cmocka_unit_test(shown_as_text), cmocka_unit_test(breaks_between_terms)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
