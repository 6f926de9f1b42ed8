/* The command line taken apart. */
#include "app/command_line.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

/* A line split at '|'. The words live as long as the vector. */
static CommandLine *
parse(const char *line, char ***vector, char **problem)
{
    *vector = g_strsplit(line, "|", -1);
    return command_line_parse((int) g_strv_length(*vector), *vector, problem);
}

static void
options_stand_anywhere(void **state)
{
    (void) state;
    g_auto(GStrv) vector = NULL;
    g_autofree char *problem = NULL;
    g_autoptr(CommandLine) a = parse(
        "careen|--json|check|--option=light|boat.yaml|--option|dry|--stage|now|--today=2028-02-29|"
        "--units|imperial|--situation|evening",
        &vector, &problem);
    assert_null(problem);
    assert_int_equal(a->n_words, 2);
    assert_string_equal(command_line_word(a, 0), "check");
    assert_string_equal(command_line_word(a, 1), "boat.yaml");
    assert_null(command_line_word(a, 2));
    assert_int_equal(a->n_option, 2);
    assert_string_equal(g_ptr_array_index(a->option, 0), "light");
    assert_string_equal(g_ptr_array_index(a->option, 1), "dry");
    assert_null(g_ptr_array_index(a->option, 2));
    assert_int_equal(a->stage, STAGE_NOW);
    assert_int_equal(a->today.year, 2028);
    assert_int_equal(a->today.month, 2);
    assert_int_equal(a->today.day, 29);
    assert_true(a->units_given);
    assert_int_equal(a->units, UNITS_IMPERIAL);
    assert_string_equal(a->situation, "evening");
    assert_true(a->json);
}

static void
without_options(void **state)
{
    (void) state;
    g_auto(GStrv) vector = NULL;
    g_autofree char *problem = NULL;
    g_autoptr(CommandLine) a = parse("careen|check|boat.yaml", &vector, &problem);
    assert_int_equal(a->stage, STAGE_DONE);
    assert_null(a->situation);
    assert_int_equal(a->today.year, 0);
    assert_false(a->units_given);
    assert_false(a->json);
}

static void
two_dashes_end_options(void **state)
{
    (void) state;
    g_auto(GStrv) vector = NULL;
    g_autofree char *problem = NULL;
    g_autoptr(CommandLine) a = parse("careen|check|--|--json|-", &vector, &problem);
    assert_false(a->json);
    assert_int_equal(a->n_words, 3);
    assert_string_equal(command_line_word(a, 1), "--json");
    assert_string_equal(command_line_word(a, 2), "-");
}

static void
letters(void **state)
{
    (void) state;
    const char *const lines[] = {"careen|draw|b.yaml|lever|-o|x.svg",
                                 "careen|draw|b.yaml|lever|-ox.svg",
                                 "careen|draw|b.yaml|lever|--output=x.svg"};
    for (size_t i = 0; i < G_N_ELEMENTS(lines); i++) {
        g_auto(GStrv) vector = NULL;
        g_autofree char *problem = NULL;
        g_autoptr(CommandLine) a = parse(lines[i], &vector, &problem);
        assert_null(problem);
        assert_string_equal(a->output, "x.svg");
    }
}

static void
edit_values_may_hold_anything(void **state)
{
    (void) state;
    g_auto(GStrv) vector = NULL;
    g_autofree char *problem = NULL;
    g_autoptr(CommandLine) a = parse(
        "careen|edit|b.yaml|a.b=-1 m|--remove=c|--remove|d|--why|-because", &vector, &problem);
    assert_null(problem);
    assert_string_equal(command_line_word(a, 2), "a.b=-1 m");
    assert_int_equal(a->n_remove, 2);
    assert_string_equal(a->why, "-because");
}

static void
wrong_lines(void **state)
{
    (void) state;
    static const struct {
        const char *line, *says;
    } wrong[] = {
        {"careen|check|b.yaml|--optoin|x", "--option"},
        {"careen|check|b.yaml|--zzzzzzzzzz", "there is no option"},
        {"careen|check|b.yaml|-x", "-x"},
        {"careen|check|b.yaml|--json=yes", "takes no value"},
        {"careen|check|b.yaml|--stage", "needs a value"},
        {"careen|check|b.yaml|--stage=", "needs a value"},
        {"careen|check|b.yaml|--stage|then", "now or done"},
        {"careen|check|b.yaml|--stage|now|--stage|done", "twice"},
        {"careen|check|b.yaml|--units|SI", "metric or imperial"},
        {"careen|check|b.yaml|--today|2027-02-29", "2027-02-29"},
        {"careen|check|b.yaml|--today|2027-4-12", "2027-4-12"},
        {"careen|check|b.yaml|--today|0000-01-01", "0000-01-01"},
        {"careen|check|b.yaml|--today|2027-+4-12", "2027-+4-12"},
        {"careen|check|b.yaml|--today|tomorrow", "tomorrow"},
        {"careen|doubt|b.yaml|-o|x.svg", "--output"},
        {"careen|check|b.yaml|--why|x", "edit"},
        {"careen|history|b.yaml|--restore|two", "number"},
        {"careen|history|b.yaml|--restore|-1", "number"},
        {"careen|history|b.yaml|--restore|99999999999999999999x", "number"},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(wrong); i++) {
        g_auto(GStrv) vector = NULL;
        g_autofree char *problem = NULL;
        CommandLine *a = parse(wrong[i].line, &vector, &problem);
        if (a != NULL || problem == NULL)
            fail_msg("taken: %s", wrong[i].line);
        if (strstr(problem, wrong[i].says) == NULL)
            fail_msg("%s: \"%s\" does not say %s", wrong[i].line, problem, wrong[i].says);
    }
}

/* Each row of options.def must lead somewhere and be explained. */
static void
options_are_explained(void **state)
{
    (void) state;
    for (int id = 0; id < N_OPTIONS; id++) {
        assert_true(strlen(option_table[id].help) > 5);
        for (int other = 0; other < id; other++)
            assert_string_not_equal(option_table[id].name, option_table[other].name);
        g_autofree char *line = option_table[id].value != NULL
                                    ? g_strdup_printf("careen|--%s|", option_table[id].name)
                                    : g_strdup_printf("careen|--%s", option_table[id].name);
        g_auto(GStrv) vector = NULL;
        g_autofree char *problem = NULL;
        g_autoptr(CommandLine) a = parse(line, &vector, &problem);
        assert_true((a != NULL) == (option_table[id].value == NULL));
        g_autofree char *longer = g_strdup_printf("careen|--%s|1", option_table[id].name);
        g_auto(GStrv) words = NULL;
        g_autofree char *said = NULL;
        g_autoptr(CommandLine) b = parse(longer, &words, &said);
        assert_true((b != NULL) == (said == NULL));
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(options_stand_anywhere),
        cmocka_unit_test(without_options),
        cmocka_unit_test(two_dashes_end_options),
        cmocka_unit_test(letters),
        cmocka_unit_test(wrong_lines),
        cmocka_unit_test(edit_values_may_hold_anything),
        cmocka_unit_test(options_are_explained),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
