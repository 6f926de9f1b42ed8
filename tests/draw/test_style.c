/* The style sheet of pictures: every class that is drawn has its rule, no variable is left, black and white stays so. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "draw/frame.h"
#include "draw/style.h"
#include "figures.h"
#include "svg_read.h"

static void
no_variables_left(void **state G_GNUC_UNUSED)
{
    for (int palette = PALETTE_SCREEN; palette <= PALETTE_PRINT; palette++) {
        g_autofree char *css = style_plain(palette);
        assert_null(strstr(css, "var("));
        assert_null(strstr(css, "@media"));
        assert_non_null(strstr(css, ".drawing .lever"));
    }
}

/* Greys have three equal parts. */
static void
print_is_grey(void **state G_GNUC_UNUSED)
{
    g_autofree char *css = style_plain(PALETTE_PRINT);
    size_t colours = 0;
    for (const char *at = css; (at = strchr(at, '#')) != NULL; at += 7, colours++) {
        assert_memory_equal(at + 1, at + 3, 2);
        assert_memory_equal(at + 1, at + 5, 2);
    }
    assert_true(colours > 20);
}

static void
every_class_has_a_rule(void **state G_GNUC_UNUSED)
{
    /* Classes that only name a part, or take the rule of all texts. */
    static const char *const plain[] = {"drawing", "part",    "label",   "key",
                                        "view",    "movable", "circuit", NULL};
    g_autofree char *css = style_plain(PALETTE_SCREEN);
    for (size_t i = 0; i < picture_count(); i++)
        for (int kind = 0; kind < FIGURES; kind++) {
            DrawHow how = {.prefix = "x", .units = UNITS_METRIC, .in_page = true};
            Markup *svg = markup_new();
            picture_draw(picture_info(i), figure_of(picture_info(i)->name, kind), &how, svg);
            g_autofree char *text = markup_steal(svg);
            char *problem = NULL;
            g_autoptr(GPtrArray) elements = svg_read(text, &problem);
            assert_non_null(elements);
            for (guint k = 0; k < elements->len; k++) {
                const char *classes = element_get(g_ptr_array_index(elements, k), "class");
                g_auto(GStrv) words = g_strsplit(classes != NULL ? classes : "", " ", -1);
                for (char **word = words; *word != NULL; word++) {
                    g_autofree char *rule = g_strdup_printf(".%s", *word);
                    if (**word != '\0' && !g_strv_contains(plain, *word) &&
                        strstr(css, rule) == NULL)
                        fail_msg("no rule for class %s of %s", *word, picture_info(i)->name);
                }
            }
        }
}

static void
a_file_stands_alone(void **state G_GNUC_UNUSED)
{
    const PictureInfo *info = picture_find("arrangement", NULL);
    DrawHow how = {.prefix = "fig", .units = UNITS_METRIC};
    g_autofree char *file =
        picture_file(info, figure_of("arrangement", FIGURE_HOSTILE), &how, PALETTE_PRINT);
    char *problem = NULL;
    g_autoptr(GPtrArray) elements = svg_read(file, &problem);
    assert_non_null(elements);
    assert_true(g_str_has_prefix(file, "<?xml"));
    const Element *style = g_ptr_array_index(elements, 3);
    assert_string_equal(style->name, "style");
    assert_string_equal(style->parent, "svg");
}

static void
frames_turn(void **state G_GNUC_UNUSED)
{
    Frame f = frame_fit(0.0, 10.0, -1.0, 1.0, 50.0, 20.0, 400.0, 200.0);
    assert_float_equal(frame_x(&f, 0.0), 50.0, 1e-9);
    assert_float_equal(frame_x(&f, 10.0), 450.0, 1e-9);
    assert_float_equal(frame_y(&f, 1.0), 20.0, 1e-9);
    assert_float_equal(frame_y(&f, -1.0), 220.0, 1e-9);
    Frame empty = frame_fit(3.0, 3.0, -1e308, 1e308, 0.0, 0.0, 100.0, 100.0);
    assert_float_equal(frame_x(&empty, 3.0), 50.0, 1e-9);
    assert_true(empty.yk < 0.0 && empty.yk > -1e6);
    assert_float_equal(nice_step(0.0, 97.0, 5), 20.0, 1e-9);
    assert_float_equal(nice_step(0.0, 0.31, 6), 0.1, 1e-9);
    assert_float_equal(shown_value(3.141592653589793, Q_ANGLE, UNITS_METRIC), 180.0, 1e-9);
    assert_float_equal(shown_value(0.3048, Q_LENGTH, UNITS_IMPERIAL), 1.0, 1e-12);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_variables_left), cmocka_unit_test(print_is_grey),
        cmocka_unit_test(every_class_has_a_rule), cmocka_unit_test(a_file_stands_alone),
        cmocka_unit_test(frames_turn)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
