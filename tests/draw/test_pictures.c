/* Every picture from every invented figure, in both systems of units, alone and in a page: well-formed, no NAN, no colour,
 * no style, ids with their prefix, texts that do not stand on each other. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "figures.h"
#include "labels.h"
#include "svg_read.h"

static char *
drawn(const PictureInfo *info, FigureKind kind, UnitsChoice units, bool in_page, unsigned sheet)
{
    DrawHow how = {.prefix = "fig-a",
                   .units = units,
                   .in_page = in_page,
                   .sheet = sheet,
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

/* 0 when the whole can be read on one sheet. */
static unsigned
sheets_of(const PictureInfo *info, FigureKind kind, bool in_page)
{
    DrawHow how = {.prefix = "fig-a", .units = UNITS_METRIC};
    unsigned sheets = picture_sheets(info, figure_of(info->name, kind), &how);
    assert_true(sheets >= 1);
    return in_page || sheets == 1 ? 0 : sheets;
}

typedef void (*Look)(const PictureInfo *info, FigureKind kind, const char *svg,
                     GPtrArray *elements);

/* The whole, and sheet by sheet where it is printed so. */
static void
look_at_sheets(Look look, const PictureInfo *info, FigureKind kind, int way)
{
    bool in_page = (way & 2) != 0;
    for (unsigned sheet = 0; sheet <= sheets_of(info, kind, in_page); sheet++) {
        g_autofree char *svg =
            drawn(info, kind, way & 1 ? UNITS_IMPERIAL : UNITS_METRIC, in_page, sheet);
        g_autoptr(GPtrArray) elements = read_back(svg);
        look(info, kind, svg, elements);
    }
}

static void
each(Look look)
{
    for (size_t i = 0; i < picture_count(); i++)
        for (int kind = 0; kind < FIGURES; kind++)
            for (int way = 0; way < 4; way++)
                look_at_sheets(look, picture_info(i), kind, way);
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
        g_autofree char *svg = drawn(picture_info(i), FIGURE_HOSTILE, UNITS_METRIC, true, 0);
        assert_non_null(strstr(svg, "&lt;script&gt;"));
    }
}

static void
look_at_labels(const PictureInfo *info, FigureKind kind, const char *svg G_GNUC_UNUSED,
               GPtrArray *elements)
{
    g_autofree char *what = g_strdup_printf("%s, figure %d", info->name, kind);
    labels_stand_apart(what, elements);
}

static void
labels_apart(void **state G_GNUC_UNUSED)
{
    each(look_at_labels);
}

static void
take_circuits(const char *svg, GHashTable *seen)
{
    g_autoptr(GPtrArray) elements = read_back(svg);
    for (guint i = 0; i < elements->len; i++) {
        const Element *e = g_ptr_array_index(elements, i);
        const char *classes = element_get(e, "class");
        if (classes != NULL && strstr(classes, "part circuit") != NULL)
            assert_true(g_hash_table_add(seen, g_strdup(element_get(e, "data-path"))));
    }
}

static void
holds_every_circuit(const OneLinePicture *fig, GHashTable *seen)
{
    assert_int_equal(g_hash_table_size(seen), fig->links);
    for (size_t i = 0; i < fig->links; i++)
        assert_true(g_hash_table_contains(seen, fig->link[i].path));
}

/* Each circuit of the figure is one part of the diagram: in one column, in several, and on all sheets together. */
static void
every_circuit_is_drawn_once(void **state G_GNUC_UNUSED)
{
    const PictureInfo *info = picture_find("one-line", NULL);
    for (int kind = 0; kind < FIGURES; kind++)
        for (int way = 0; way < 3; way++) {
            g_autoptr(GHashTable) seen =
                g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
            unsigned sheets = way == 2 ? sheets_of(info, kind, false) : 0;
            for (unsigned sheet = MIN(sheets, 1); sheet <= sheets; sheet++) {
                g_autofree char *svg = drawn(info, kind, UNITS_METRIC, way == 1, sheet);
                take_circuits(svg, seen);
            }
            holds_every_circuit(figure_of("one-line", kind), seen);
        }
    assert_true(sheets_of(info, FIGURE_CROWDED, false) > 2);
}

/* The read-out's frame turns the listed values into the points of the path. */
static void
readout_agrees(void **state G_GNUC_UNUSED)
{
    for (int units = 0; units < 2; units++) {
        g_autofree char *svg =
            drawn(picture_find("righting-lever", NULL), FIGURE_PLAIN, units, true, 0);
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
        drawn(picture_find("arrangement", NULL), FIGURE_PLAIN, UNITS_METRIC, false, 0);
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
        g_autofree char *a = drawn(picture_info(i), FIGURE_CROWDED, UNITS_METRIC, true, 0);
        g_autofree char *b = drawn(picture_info(i), FIGURE_CROWDED, UNITS_METRIC, true, 0);
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
