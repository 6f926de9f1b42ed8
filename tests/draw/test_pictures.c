/* Every picture from every invented figure, in both systems of units, alone and in a page: well-formed, no NAN, no colour,
 * no style, ids with their prefix, texts that do not stand on each other. Text is measured by Pango, not by the
 * estimate it was placed with. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>
#include <pango/pangocairo.h>

#include "figures.h"
#include "svg_read.h"

static char *
drawn(const PictureInfo *info, FigureKind kind, UnitsChoice units, bool in_page)
{
    DrawHow how = {.prefix = "fig-a",
                   .units = units,
                   .in_page = in_page,
                   .mark = in_page ? "openings.engine-vent.height" : NULL};
    Markup *svg = markup_new();
    picture_draw(info, figure_of(info->name, kind), &how, svg);
    return markup_steal(svg);
}

static GPtrArray *
read_back(const char *svg)
{
    char *problem = NULL;
    GPtrArray *elements = svg_read(svg, &problem);
    if (elements == NULL)
        fail_msg("%s in %.300s", problem, svg);
    return elements;
}

typedef void (*Look)(const PictureInfo *info, FigureKind kind, const char *svg,
                     GPtrArray *elements);

static void
each(Look look)
{
    for (size_t i = 0; i < picture_count(); i++)
        for (int kind = 0; kind < FIGURES; kind++)
            for (int way = 0; way < 4; way++) {
                const PictureInfo *info = picture_info(i);
                g_autofree char *svg =
                    drawn(info, kind, way & 1 ? UNITS_IMPERIAL : UNITS_METRIC, (way & 2) != 0);
                g_autoptr(GPtrArray) elements = read_back(svg);
                look(info, kind, svg, elements);
            }
}

static void
look_at_head(const PictureInfo *info, FigureKind kind G_GNUC_UNUSED, const char *svg G_GNUC_UNUSED,
             GPtrArray *elements)
{
    const Element *root = g_ptr_array_index(elements, 0), *title = g_ptr_array_index(elements, 1),
                  *desc = g_ptr_array_index(elements, 2);
    assert_string_equal(root->name, "svg");
    assert_string_equal(title->name, "title");
    assert_string_equal(title->text, info->title);
    assert_string_equal(desc->name, "desc");
    assert_true(strlen(desc->text) > 0);
    assert_string_equal(element_get(root, "aria-labelledby"), "fig-a-t fig-a-d");
    assert_string_equal(element_get(title, "id"), "fig-a-t");
    const char *role = element_get(root, "role");
    assert_true(strcmp(role, "img") == 0 || strcmp(role, "group") == 0);
    double width, height;
    assert_int_equal(sscanf(element_get(root, "viewBox"), "0 0 %lf %lf", &width, &height), 2);
    if (g_strv_contains((const char *const[]){"one-line", "cable-routes", "timeline", "closing-up",
                                              "order-aboard", "tornado", NULL},
                        info->name)) { /* grows with the boat; in a file by columns */
        assert_true(fmod(width, 440.0) == 0.0 && width <= 4 * 440.0 && height > 60.0);
        assert_true(height < (width > 440.0 ? 4000.0 : 12000.0));
        return;
    }
    assert_true(width == 440.0 && height > 60.0 && height < 2000.0);
}

static void
heads(void **state G_GNUC_UNUSED)
{
    each(look_at_head);
}

static void
look_at_attributes(const PictureInfo *info, FigureKind kind, const char *svg G_GNUC_UNUSED,
                   GPtrArray *elements)
{
    static const char *const none_of[] = {"style", "fill",    "stroke",
                                          "color", "onclick", "stroke-dasharray"};
    g_autoptr(GHashTable) ids = g_hash_table_new(g_str_hash, g_str_equal);
    for (guint i = 0; i < elements->len; i++) {
        const Element *e = g_ptr_array_index(elements, i);
        for (size_t k = 0; k < G_N_ELEMENTS(none_of); k++)
            assert_null(element_get(e, none_of[k]));
        const char *id = element_get(e, "id");
        if (id != NULL) {
            assert_true(g_str_has_prefix(id, "fig-a"));
            assert_true(g_hash_table_add(ids, (gpointer) id));
        }
        GHashTableIter all;
        gpointer key, value;
        g_hash_table_iter_init(&all, e->attribute);
        while (g_hash_table_iter_next(&all, &key, &value)) {
            bool words = strcmp(key, "aria-label") == 0 || strcmp(key, "href") == 0 ||
                         strcmp(key, "data-path") == 0 || strcmp(key, "data-name") == 0 ||
                         strcmp(key, "class") == 0 || strcmp(key, "role") == 0;
            if (!words && (strstr(value, "nan") != NULL || strstr(value, "inf") != NULL))
                fail_msg("%s, figure %d: %s=\"%s\"", info->name, kind, (char *) key,
                         (char *) value);
        }
        if (strcmp(e->name, "text") == 0)
            assert_null(strstr(e->text, "nan"));
    }
}

static void
attributes(void **state G_GNUC_UNUSED)
{
    each(look_at_attributes);
}

/* Only names that this project writes: a hostile text has made no element of its own. */
static void
look_at_names(const PictureInfo *info, FigureKind kind G_GNUC_UNUSED, const char *svg,
              GPtrArray *elements)
{
    static const char *const names[] = {"svg",    "title", "desc", "g",    "a", "line",
                                        "circle", "rect",  "path", "text", NULL};
    for (guint i = 0; i < elements->len; i++) {
        const Element *e = g_ptr_array_index(elements, i);
        if (!g_strv_contains(names, e->name))
            fail_msg("%s holds <%s>", info->name, e->name);
        const char *href = element_get(e, "href");
        assert_true(href == NULL || g_str_has_prefix(href, "#f-"));
    }
    assert_null(strstr(svg, "<script"));
}

static void
hostile_names(void **state G_GNUC_UNUSED)
{
    each(look_at_names);
    for (size_t i = 0; i < picture_count(); i++) {
        g_autofree char *svg = drawn(picture_info(i), FIGURE_HOSTILE, UNITS_METRIC, true);
        assert_non_null(strstr(svg, "&lt;script&gt;"));
    }
}

typedef struct {
    double x0, y0, x1, y1;
    const char *text;
} Label;

/* The wider of the usual fonts that a reader may have; what is measured is the ink, not the line. */
static Label
measured(PangoContext *context, const Element *e)
{
    PangoLayout *layout = pango_layout_new(context);
    PangoFontDescription *font = pango_font_description_from_string("Liberation Sans");
    pango_font_description_set_absolute_size(font, 15 * PANGO_SCALE);
    const char *classes = element_get(e, "class");
    if (strstr(classes, "view-name") || strstr(classes, "key-head") ||
        strstr(classes, "centre-name"))
        pango_font_description_set_weight(font, PANGO_WEIGHT_BOLD);
    pango_layout_set_font_description(layout, font);
    pango_layout_set_text(layout, e->text, -1);
    PangoRectangle ink, logical;
    pango_layout_get_pixel_extents(layout, &ink, &logical);
    double base = pango_layout_get_baseline(layout) / (double) PANGO_SCALE;
    const char *anchor = element_get(e, "text-anchor");
    double share = anchor == NULL ? 0.0 : strcmp(anchor, "end") == 0 ? 1.0 : 0.5;
    double x = element_number(e, "x") - share * logical.width, y = element_number(e, "y");
    pango_font_description_free(font);
    g_object_unref(layout);
    return (Label){x + ink.x, y - base + ink.y, x + ink.x + ink.width,
                   y - base + ink.y + ink.height, e->text};
}

static GArray *
labels_of(GPtrArray *elements)
{
    PangoFontMap *map = pango_cairo_font_map_new();
    pango_cairo_font_map_set_resolution(PANGO_CAIRO_FONT_MAP(map), 72.0);
    PangoContext *context = pango_font_map_create_context(map);
    GArray *labels = g_array_new(FALSE, FALSE, sizeof(Label));
    for (guint i = 0; i < elements->len; i++) {
        const Element *e = g_ptr_array_index(elements, i);
        if (strcmp(e->name, "text") != 0)
            continue;
        Label label = measured(context, e);
        g_array_append_val(labels, label);
    }
    g_object_unref(context);
    g_object_unref(map);
    return labels;
}

static void
look_at_labels(const PictureInfo *info, FigureKind kind, const char *svg G_GNUC_UNUSED,
               GPtrArray *elements)
{
    const double touch = 0.6; /* a pixel of rounding either way */
    double width, height;
    const Element *root = g_ptr_array_index(elements, 0);
    sscanf(element_get(root, "viewBox"), "0 0 %lf %lf", &width, &height);
    g_autoptr(GArray) labels = labels_of(elements);
    for (guint i = 0; i < labels->len; i++) {
        const Label *a = &g_array_index(labels, Label, i);
        if (a->x0 < -0.5 || a->y0 < -0.5 || a->x1 > width + 0.5 || a->y1 > height + 0.5)
            fail_msg("%s, figure %d: \"%s\" leaves the picture (%g %g %g %g)", info->name, kind,
                     a->text, a->x0, a->y0, a->x1, a->y1);
        for (guint k = i + 1; k < labels->len; k++) {
            const Label *b = &g_array_index(labels, Label, k);
            if (a->x0 + touch < b->x1 && b->x0 + touch < a->x1 && a->y0 + touch < b->y1 &&
                b->y0 + touch < a->y1)
                fail_msg("%s, figure %d: \"%s\" stands on \"%s\"", info->name, kind, a->text,
                         b->text);
        }
    }
}

static void
labels_apart(void **state G_GNUC_UNUSED)
{
    each(look_at_labels);
}

/* Each circuit of the figure is one part of the diagram, in one column and in several. */
static void
every_circuit_is_drawn_once(void **state G_GNUC_UNUSED)
{
    for (int kind = 0; kind < FIGURES; kind++)
        for (int in_page = 0; in_page < 2; in_page++) {
            const OneLinePicture *fig = figure_of("one-line", kind);
            g_autofree char *svg =
                drawn(picture_find("one-line", NULL), kind, UNITS_METRIC, in_page != 0);
            g_autoptr(GPtrArray) elements = read_back(svg);
            g_autoptr(GHashTable) seen = g_hash_table_new(g_str_hash, g_str_equal);
            for (guint i = 0; i < elements->len; i++) {
                const Element *e = g_ptr_array_index(elements, i);
                const char *classes = element_get(e, "class");
                if (classes != NULL && strstr(classes, "part circuit") != NULL)
                    assert_true(g_hash_table_add(seen, (gpointer) element_get(e, "data-path")));
            }
            assert_int_equal(g_hash_table_size(seen), fig->links);
            for (size_t i = 0; i < fig->links; i++)
                assert_true(g_hash_table_contains(seen, fig->link[i].path));
        }
}

/* The read-out's frame turns the listed values into the points of the path. */
static void
readout_agrees(void **state G_GNUC_UNUSED)
{
    for (int units = 0; units < 2; units++) {
        g_autofree char *svg =
            drawn(picture_find("righting-lever", NULL), FIGURE_PLAIN, units, true);
        g_autoptr(GPtrArray) elements = read_back(svg);
        const Element *root = g_ptr_array_index(elements, 0);
        double x0, xk, y0, yk, first_x, first_y;
        assert_int_equal(
            sscanf(element_get(root, "data-frame"), "%lf %lf %lf %lf", &x0, &xk, &y0, &yk), 4);
        assert_string_equal(element_get(root, "data-ux"), "deg");
        assert_string_equal(element_get(root, "data-uy"), units == 0 ? "m" : "ft");
        assert_string_equal(element_get(root, "aria-describedby"), "fig-a-read");
        guint i = 0;
        while (element_get(g_ptr_array_index(elements, i), "data-x") == NULL)
            i++;
        const Element *curve = g_ptr_array_index(elements, i);
        g_auto(GStrv) xs = g_strsplit(element_get(curve, "data-x"), " ", -1);
        g_auto(GStrv) ys = g_strsplit(element_get(curve, "data-y"), " ", -1);
        assert_int_equal(g_strv_length(xs), 91);
        assert_int_equal(g_strv_length(ys), 91);
        assert_float_equal(g_ascii_strtod(xs[45], NULL), 45.0, 1e-3);
        assert_int_equal(sscanf(element_get(curve, "d"), "M%lf %lf", &first_x, &first_y), 2);
        assert_float_equal(first_x, x0 + xk * g_ascii_strtod(xs[0], NULL), 0.02);
        assert_float_equal(first_y, y0 + yk * g_ascii_strtod(ys[0], NULL), 0.02);
    }
}

/* 14.4 m of hull are as long in profile as in plan, and the section has the plan's breadth. */
static void
one_scale(void **state G_GNUC_UNUSED)
{
    g_autofree char *svg =
        drawn(picture_find("arrangement", NULL), FIGURE_PLAIN, UNITS_METRIC, false);
    g_autoptr(GPtrArray) elements = read_back(svg);
    double longest[2] = {0.0, 0.0}, section = 0.0;
    for (guint i = 0, n = 0; i < elements->len; i++) {
        const Element *e = g_ptr_array_index(elements, i);
        if (strcmp(e->name, "path") != 0 || strcmp(element_get(e, "class"), "deck-edge") != 0)
            continue;
        double low = INFINITY, high = -INFINITY;
        g_auto(GStrv) numbers = g_strsplit_set(element_get(e, "d") + 1, " ", -1);
        for (size_t k = 0; numbers[k] != NULL && numbers[k][0] != 'Z'; k += 2) {
            double x = g_ascii_strtod(numbers[k], NULL);
            low = fmin(low, x);
            high = fmax(high, x);
        }
        if (n < 2)
            longest[n] = high - low;
        else
            section = high - low;
        n++;
    }
    assert_true(longest[0] > 300.0);
    assert_float_equal(longest[0], longest[1], 1e-3);
    assert_float_equal(section / longest[0], 4.2 / 14.4, 1e-4);
}

static void
same_bytes(void **state G_GNUC_UNUSED)
{
    for (size_t i = 0; i < picture_count(); i++) {
        g_autofree char *a = drawn(picture_info(i), FIGURE_CROWDED, UNITS_METRIC, true);
        g_autofree char *b = drawn(picture_info(i), FIGURE_CROWDED, UNITS_METRIC, true);
        assert_string_equal(a, b);
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(heads),
                                       cmocka_unit_test(attributes),
                                       cmocka_unit_test(hostile_names),
                                       cmocka_unit_test(labels_apart),
                                       cmocka_unit_test(every_circuit_is_drawn_once),
                                       cmocka_unit_test(readout_agrees),
                                       cmocka_unit_test(one_scale),
                                       cmocka_unit_test(same_bytes)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
