/* What changed between two views: the cases the header names, and views that are no trees. Expected texts are written by hand from
 * the form given in view_changes.h; that a browser comes to the later view by them is tested in tests/browser/test_changes. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "app/page/view_changes.h"
#include "app/page/view_tree.h"

/* Enough that does not change for the changes to be the shorter answer. */
static char *
view(const char *inside)
{
    g_autofree char *rest = g_strnfill(2000, 'x');
    return g_strdup_printf("<main id=\"main\"><div>%s</div><p>%s</p></main>", inside, rest);
}

static void
changes_are(const char *before, const char *after, const char *expected)
{
    g_autofree char *was = view(before), *is = view(after);
    g_autofree char *changes = view_changes(was, is);
    g_autofree char *whole = g_strdup_printf("<changes>%s</changes>", expected);
    assert_non_null(changes);
    assert_string_equal(changes, whole);
}

static void
parts_are_said(void **state G_GNUC_UNUSED)
{
    changes_are("<b>1</b>", "<b>1</b>", "");
    changes_are("<b>1</b>", "<b>2</b>",
                "<part at=\"main 0 0\" is=\"b\"><text n=\"0\">2</text></part>");
    changes_are("<i/>x<b id=\"b\"><i/><u>1 &lt; 2</u></b>",
                "<i/>x<b id=\"b\"><i/><u>1 &lt; 3</u></b>",
                "<part at=\"b 1\" is=\"u\"><text n=\"0\">1 &lt; 3</text></part>");
    changes_are("<i/>x<i/>y", "<i/>x<i/>z",
                "<part at=\"main 0\" is=\"div\"><text n=\"3\">z</text></part>");
    changes_are("<i a=\"1\" b=\"2\"/>", "<i a=\"&quot;\" c=\"\"/>",
                "<part at=\"main 0 0\" is=\"i\"><set name=\"a\">&quot;</set><set "
                "name=\"c\"></set><unset name=\"b\"/></part>");
}

static void
other_shapes_go_whole(void **state G_GNUC_UNUSED)
{
    changes_are("<ul><li>1</li></ul>", "<ul><li>1</li><li>2</li></ul>",
                "<part at=\"main 0 0\" "
                "is=\"ul\"><whole>&lt;ul&gt;&lt;li&gt;1&lt;/li&gt;&lt;li&gt;2&lt;/li&gt;&lt;/"
                "ul&gt;</whole></part>");
    changes_are("<b id=\"p\"/>", "<b id=\"q\"/>",
                "<part at=\"main 0\" is=\"div\"><whole>&lt;div&gt;&lt;b "
                "id=&quot;q&quot;/&gt;&lt;/div&gt;</whole></part>");
    changes_are("<form id=\"f\" hx-post=\"/a\"/>", "<form id=\"f\" hx-post=\"/b\"/>",
                "<part at=\"f\" is=\"form\"><whole>&lt;form id=&quot;f&quot; "
                "hx-post=&quot;/b&quot;/&gt;</whole></part>");
    changes_are("<table><tr><td>1</td></tr></table>", "<table><tr><td>2</td></tr></table>",
                "<part at=\"main 0 0\" "
                "is=\"table\"><whole>&lt;table&gt;&lt;tr&gt;&lt;td&gt;2&lt;/td&gt;&lt;/tr&gt;&lt;/"
                "table&gt;</whole></part>");
    changes_are("<textarea>1</textarea>", "<textarea>2</textarea>",
                "<part at=\"main 0 0\" "
                "is=\"textarea\"><whole>&lt;textarea&gt;2&lt;/textarea&gt;</whole></part>");
}

static void
a_picture_is_mended_or_goes_whole(void **state G_GNUC_UNUSED)
{
    changes_are("<svg><g><line x=\"1\"/></g></svg>", "<svg><g><line x=\"2\"/></g></svg>",
                "<part at=\"main 0 0 0 0\" is=\"line\"><set name=\"x\">2</set></part>");
    changes_are("<svg y=\"1\"><g><line x=\"1\"/></g></svg>",
                "<svg y=\"2\"><g><line x=\"2\"/><line/></g></svg>",
                "<part at=\"main 0 0\" is=\"svg\"><whole>&lt;svg "
                "y=&quot;2&quot;&gt;&lt;g&gt;&lt;line x=&quot;2&quot;/&gt;&lt;line/&gt;"
                "&lt;/g&gt;&lt;/svg&gt;</whole></part>");
}

static void
some_are_better_sent_whole(void **state G_GNUC_UNUSED)
{
    static const char *const rows[][2] = {
        {"<main id=\"main\"><p>a</p></main>",
         "<main id=\"main\"><p>b</p></main>"}, /* longer than the view */
        {"<main id=\"main\"><p/></main>", "<main id=\"main\"><p/><p/></main>"},
        {"<main><p>a</p></main>", "<main><p>b</p></main>"},
        {"<main id=\"main\">", "<main id=\"main\"/>"},
        {"", "<main id=\"main\"/>"},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autofree char *changes = view_changes(rows[i][0], rows[i][1]);
        assert_null(changes);
    }
}

static void
what_is_no_tree_is_refused(void **state G_GNUC_UNUSED)
{
    static const char *const rows[] = {"",       "x",        "<",          "<>",
                                       "<a",     "<a>",      "</a>",       "<a></b>",
                                       "<a/>x",  "<a/><b/>", "<!-- a -->", "<a><b></a></b>",
                                       "<a></a", "<a></a>x", "<a><!x></a>"};
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autoptr(ViewTree) tree = view_tree_new(rows[i], strlen(rows[i]));
        assert_null(tree);
    }
    g_autoptr(GString) deep = g_string_new(NULL);
    for (int i = 0; i < 1000; i++)
        g_string_append(deep, "<a>");
    for (int i = 0; i < 1000; i++)
        g_string_append(deep, "</a>");
    g_autoptr(ViewTree) tree = view_tree_new(deep->str, deep->len);
    assert_null(tree);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(parts_are_said),
        cmocka_unit_test(other_shapes_go_whole),
        cmocka_unit_test(a_picture_is_mended_or_goes_whole),
        cmocka_unit_test(some_are_better_sent_whole),
        cmocka_unit_test(what_is_no_tree_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
