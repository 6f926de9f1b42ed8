/* Workings as a piece of a page: a whole output against its golden file, links, folded lists, no id shown bare, nothing of the
 * owner's texts that a browser would obey. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "demo_result.h"
#include "example.h"
#include "report/why_html.h"

static char *
field_link(const void *context, const char *path)
{
    return g_strdup_printf("%s#f-%s", (const char *) context, path);
}

static char *
why_link(const void *context, const char *name)
{
    return g_strdup_printf("%s/why/%s", (const char *) context, name);
}

static const HtmlHow linked = {UNITS_METRIC, field_link, why_link, "/b", 0};

static char *
why_of(const Result *result, const char *name, const HtmlHow *how)
{
    Markup *markup = markup_new();
    assert_true(write_why_html(result, name, how, markup));
    return markup_steal(markup);
}

static void
same_as_golden(const char *name, const char *text)
{
    g_autofree char *path = g_build_filename(GOLDEN, name, NULL);
    g_auto(GStrv) tags = g_strsplit(text, "><", -1);
    g_autofree char *lines = g_strjoinv(">\n<", tags);
    if (g_getenv("GOLDEN_UPDATE") != NULL)
        assert_true(g_file_set_contents(path, lines, -1, NULL));
    g_autofree char *expected = NULL;
    assert_true(g_file_get_contents(path, &expected, NULL, NULL));
    assert_string_equal(lines, expected);
}

typedef struct {
    GString *text; /* what stands between the tags */
    size_t links, folded, steps;
    bool inside_link;
} Seen;

static void
begin(GMarkupParseContext *context G_GNUC_UNUSED, const char *name, const char **keys,
      const char **values G_GNUC_UNUSED, gpointer data, GError **error G_GNUC_UNUSED)
{
    Seen *seen = data;
    seen->links += strcmp(name, "a") == 0;
    seen->folded += strcmp(name, "details") == 0;
    seen->steps += strcmp(name, "li") == 0;
    assert_string_not_equal(name, "script");
    for (; *keys != NULL; keys++)
        assert_false(strcmp(*keys, "style") == 0 || g_str_has_prefix(*keys, "on"));
}

static void
words(GMarkupParseContext *context G_GNUC_UNUSED, const char *text, gsize length, gpointer data,
      GError **error G_GNUC_UNUSED)
{
    Seen *seen = data;
    g_string_append_len(seen->text, text, (gssize) length);
    g_string_append_c(seen->text, '\n');
}

static Seen
see(const char *html)
{
    static const GMarkupParser parser = {.start_element = begin, .text = words};
    Seen seen = {.text = g_string_new(NULL)};
    GError *error = NULL;
    GMarkupParseContext *context = g_markup_parse_context_new(&parser, 0, &seen, NULL);
    if (!g_markup_parse_context_parse(context, html, -1, &error) ||
        !g_markup_parse_context_end_parse(context, &error))
        fail_msg("not well formed: %s", error->message);
    g_markup_parse_context_free(context);
    return seen;
}

static void
golden(void **state G_GNUC_UNUSED)
{
    Demo *demo = demo_new(false);
    g_autofree char *mass = why_of(demo->result, "afloat.displacement", &linked);
    same_as_golden("why-displacement.html", mass);
    g_autofree char *vent = why_of(demo->result, "afloat.openings.engine-vent", &linked);
    same_as_golden("why-finding.html", vent);
    demo_free(demo);
}

static void
without_a_number(void **state G_GNUC_UNUSED)
{
    Demo *demo = demo_new(false);
    g_autofree char *none = why_of(demo->result, "afloat.stern-load", &linked);
    assert_non_null(strstr(none, "There is no number behind this."));
    g_autofree char *unknown = why_of(demo->result, "afloat.gz-range", &linked);
    assert_non_null(strstr(unknown, "There is no number behind this."));
    Markup *markup = markup_new();
    assert_false(write_why_html(demo->result, "afloat.nothing", &linked, markup));
    g_autofree char *nothing = markup_steal(markup);
    assert_string_equal(nothing, "");
    demo_free(demo);
}

static void
links(void **state G_GNUC_UNUSED)
{
    Demo *demo = demo_new(false);
    static const HtmlHow bare = {.units = UNITS_METRIC};
    g_autofree char *with = why_of(demo->result, "afloat.openings.engine-vent", &linked);
    g_autofree char *without = why_of(demo->result, "afloat.openings.engine-vent", &bare);
    assert_non_null(strstr(with, "href=\"/b#f-openings.engine-vent.height\""));
    assert_null(strstr(without, "href"));
    demo_free(demo);
}

static void
headings(void **state G_GNUC_UNUSED)
{
    Demo *demo = demo_new(false);
    HtmlHow how = {.parts_rank = 2};
    g_autofree char *two = why_of(demo->result, "afloat.displacement", &how);
    assert_non_null(strstr(two, "<article class=\"why\"><h2>What is put in</h2>"));
    how.parts_rank = 3;
    g_autofree char *three = why_of(demo->result, "afloat.displacement", &how);
    assert_non_null(strstr(three, "<article class=\"why\"><h3>What is put in</h3>"));
    how.parts_rank = 0;
    g_autofree char *titled = why_of(demo->result, "afloat.displacement", &how);
    assert_non_null(strstr(titled, "<article class=\"why\"><h2>Displacement"));
    demo_free(demo);
}

static void
hostile(void **state G_GNUC_UNUSED)
{
    Demo *demo = demo_new(true);
    for (size_t i = 0; i < result_findings(demo->result); i++) {
        g_autofree char *html = why_of(demo->result, result_finding(demo->result, i)->id, &linked);
        Seen seen = see(html);
        g_string_free(seen.text, TRUE);
    }
    demo_free(demo);
}

/* Neither the name of an answer or finding nor a path of the boat file. */
static void
no_id(const Result *result, const char *text)
{
    for (size_t i = 0; i < result_answers(result); i++)
        assert_null(strstr(text, result_answer(result, i)->name));
    for (size_t i = 0; i < result_findings(result); i++)
        assert_null(strstr(text, result_finding(result, i)->id));
    static const char *const sections[] = {"items.",  "openings.",   "hull.", "tanks.",
                                           "spaces.", "situations.", "boat."};
    for (size_t i = 0; i < G_N_ELEMENTS(sections); i++)
        for (const char *at = text; (at = strstr(at, sections[i])) != NULL; at++)
            assert_false(g_ascii_islower(at[strlen(sections[i])]));
    assert_null(strstr(text, "(see "));
    assert_null(strstr(text, "nan"));
}

static size_t
check_whys(const Result *result, UnitsChoice units)
{
    HtmlHow how = linked;
    size_t folded = 0;
    how.units = units;
    for (size_t i = 0; i < result_answers(result) + result_findings(result); i++) {
        size_t f = i - result_answers(result);
        bool answer = i < result_answers(result);
        const char *name = answer ? result_answer(result, i)->name : result_finding(result, f)->id;
        const Working *working =
            answer ? result_answer(result, i)->working : result_finding(result, f)->working;
        g_autofree char *html = why_of(result, name, &how);
        Seen seen = see(html);
        size_t reckoned = 0;
        for (size_t k = 0; working != NULL && k < working_steps(working); k++)
            reckoned += working_step(working, k)->type != STEP_GIVEN;
        assert_int_equal(seen.steps, reckoned);
        no_id(result, seen.text->str);
        folded += seen.folded;
        g_string_free(seen.text, TRUE);
    }
    return folded;
}

static void
demo_boats(void **state G_GNUC_UNUSED)
{
    static const char *const boats[] = {"dunlin", "whimbrel", "punt"};
    size_t folded = 0;
    for (size_t b = 0; b < G_N_ELEMENTS(boats); b++) {
        Example example;
        example_solve(&example, boats[b], "", "done", false);
        folded += check_whys(example.result, b == 1 ? UNITS_IMPERIAL : UNITS_METRIC);
        example_clear(&example);
    }
    assert_true(folded > 0);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(golden),  cmocka_unit_test(without_a_number),
        cmocka_unit_test(links),   cmocka_unit_test(headings),
        cmocka_unit_test(hostile), cmocka_unit_test(demo_boats)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
