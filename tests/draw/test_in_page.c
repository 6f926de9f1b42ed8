/* The arrangement as a page takes it: every thing aboard is one link in each view, at its true place by the view's own frame,
 * with a name, room for a thumb, and an id that comes once. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "figures.h"
#include "svg_read.h"

static GPtrArray *
arrangement(FigureKind kind, const DrawHow *how)
{
    Markup *svg = markup_new();
    picture_draw(picture_find("arrangement", NULL), figure_of("arrangement", kind), how, svg);
    g_autofree char *text = markup_steal(svg);
    char *problem = NULL;
    GPtrArray *elements = svg_read(text, &problem);
    if (elements == NULL)
        fail_msg("%s in %.300s", problem, text);
    return elements;
}

static bool
has_class(const Element *e, const char *word)
{
    const char *classes = element_get(e, "class");
    g_auto(GStrv) words = g_strsplit(classes != NULL ? classes : "", " ", -1);
    return g_strv_contains((const char *const *) words, word);
}

static void
four_numbers(const Element *e, const char *attribute, double number[4])
{
    assert_non_null(element_get(e, attribute));
    assert_int_equal(sscanf(element_get(e, attribute), "%lf %lf %lf %lf", &number[0], &number[1],
                            &number[2], &number[3]),
                     4);
}

/* The hit circle behind a link stands where the link says the thing is. */
static void
stands_there(const Element *view, const Element *link, const Element *hit)
{
    double frame[4], place[3];
    four_numbers(view, "data-frame", frame);
    assert_int_equal(
        sscanf(element_get(link, "data-place"), "%lf %lf %lf", &place[0], &place[1], &place[2]), 3);
    bool plan = strcmp(element_get(view, "data-axes"), "along across") == 0;
    assert_string_equal(hit->name, "circle");
    assert_string_equal(element_get(hit, "class"), "hit");
    assert_true(element_number(hit, "r") >= 11.0);
    assert_float_equal(element_number(hit, "cx"), frame[0] + frame[1] * place[0], 0.05);
    assert_float_equal(element_number(hit, "cy"), frame[2] + frame[3] * place[plan ? 1 : 2], 0.05);
}

static void
has_its_words(const Element *link)
{
    assert_string_equal(link->name, "a");
    const char *label = element_get(link, "aria-label"), *name = element_get(link, "data-name");
    assert_true(g_str_has_prefix(label, name));
    assert_true(g_str_has_suffix(label, "; arrow keys move it"));
    assert_non_null(strstr(label, "stern"));
    assert_true(strlen(element_get(link, "data-path")) > 0);
    assert_true(strlen(element_get(link, "href")) > 0);
}

static void
movable_in_both_views(void **state G_GNUC_UNUSED)
{
    for (int kind = 0; kind < FIGURES; kind++) {
        const ArrangementPicture *fig = figure_of("arrangement", kind);
        DrawHow how = {.prefix = "fig-a", .units = UNITS_METRIC, .in_page = true};
        g_autoptr(GPtrArray) elements = arrangement(kind, &how);
        const Element *view = NULL;
        size_t links = 0;
        for (guint i = 0; i < elements->len; i++) {
            const Element *e = g_ptr_array_index(elements, i);
            if (has_class(e, "view"))
                view = e;
            if (!has_class(e, "movable"))
                continue;
            links++;
            assert_non_null(view);
            has_its_words(e);
            stands_there(view, e, g_ptr_array_index(elements, i + 1));
        }
        assert_int_equal(links, 2 * (fig->items + fig->openings));
    }
}

static size_t
links_of(const GPtrArray *elements, const char *path, const char **href)
{
    size_t n = 0;
    for (guint i = 0; i < elements->len; i++) {
        const Element *e = g_ptr_array_index(elements, i);
        if (strcmp(e->name, "a") != 0 || strcmp(element_get(e, "data-path"), path) != 0)
            continue;
        *href = element_get(e, "href");
        n++;
    }
    return n;
}

static size_t
movables(const GPtrArray *elements)
{
    size_t n = 0;
    for (guint i = 0; i < elements->len; i++)
        n += has_class(g_ptr_array_index(elements, i), "movable");
    return n;
}

static void
a_file_has_no_links(void **state G_GNUC_UNUSED)
{
    DrawHow how = {.prefix = "fig-a", .units = UNITS_METRIC};
    g_autoptr(GPtrArray) elements = arrangement(FIGURE_PLAIN, &how);
    for (guint i = 0; i < elements->len; i++)
        assert_string_not_equal(((Element *) g_ptr_array_index(elements, i))->name, "a");
}

static void
fixed_things_stay_links(void **state G_GNUC_UNUSED)
{
    const char *href = NULL;
    DrawHow how = {.prefix = "fig-a", .units = UNITS_METRIC, .in_page = true, .fixed = true};
    g_autoptr(GPtrArray) elements = arrangement(FIGURE_PLAIN, &how);
    assert_int_equal(movables(elements), 0);
    assert_int_equal(links_of(elements, "openings.engine-vent", &href), 2);
    assert_string_equal(href, "#f-openings.engine-vent.height");
}

/* What is no record of the file cannot be moved: growth, or an item that only the catalogue knows. */
static void
unmovable_item_stays_link(void **state G_GNUC_UNUSED)
{
    ArrangementPicture fig = *(const ArrangementPicture *) figure_of("arrangement", FIGURE_PLAIN);
    MassMark items[] = {fig.item[0], fig.item[2], fig.item[3]};
    items[1].movable = false;
    items[2].path = NULL;
    fig.item = items;
    fig.items = 3;
    DrawHow how = {.prefix = "fig-a", .units = UNITS_METRIC, .in_page = true};
    Markup *svg = markup_new();
    draw_arrangement(&fig, &how, svg);
    g_autofree char *text = markup_steal(svg);
    char *problem = NULL;
    const char *href = NULL;
    g_autoptr(GPtrArray) elements = svg_read(text, &problem);
    assert_non_null(elements);
    assert_int_equal(movables(elements), 2 + 2 * fig.openings);
    assert_int_equal(links_of(elements, items[1].path, &href), 2);
}

static char *
own_link(const void *context, const char *path, const char *field)
{
    if (g_str_has_prefix(path, "spaces."))
        return NULL;
    return g_strdup_printf("%s/%s?field=%s", (const char *) context, path, field);
}

static void
links_go_where_the_page_says(void **state G_GNUC_UNUSED)
{
    const char *href = NULL;
    DrawHow how = {.prefix = "fig-a",
                   .units = UNITS_METRIC,
                   .in_page = true,
                   .link = own_link,
                   .context = "/dunlin"};
    g_autoptr(GPtrArray) elements = arrangement(FIGURE_PLAIN, &how);
    assert_int_equal(links_of(elements, "items.calorifier", &href), 2);
    assert_string_equal(href, "/dunlin/items.calorifier?field=mass");
    assert_int_equal(links_of(elements, "spaces.saloon", &href), 0);
}

static void
words_of_a_thing(void **state G_GNUC_UNUSED)
{
    DrawHow how = {.prefix = "fig-a", .units = UNITS_METRIC, .in_page = true};
    g_autoptr(GPtrArray) elements = arrangement(FIGURE_PLAIN, &how);
    for (guint i = 0; i < elements->len; i++) {
        const Element *e = g_ptr_array_index(elements, i);
        const char *id = element_get(e, "id");
        if (id == NULL || strcmp(id, "fig-a-plan-openings.engine-vent") != 0)
            continue;
        assert_string_equal(element_get(e, "aria-label"),
                            "Engine vent, 0.42 m above the water, 2.10 m from the stern; "
                            "arrow keys move it");
        assert_string_equal(element_get(e, "data-place"), "2.100 -1.800 1.400");
        return;
    }
    fail_msg("the engine vent is no link in plan");
}

static void
places_as_text(void **state G_GNUC_UNUSED)
{
    static const struct {
        Spot at;
        const char *text;
    } cases[] = {{{4.15, -0.8, 0.7}, "4.150 -0.800 0.700"},
                 {{-0.4, -0.0001, 0.0}, "-0.400 0.000 0.000"},
                 {{14.3999, 0.00051, 12.3456}, "14.400 0.001 12.346"}};
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *text = spot_text(&cases[i].at);
        assert_string_equal(text, cases[i].text);
    }
}

static size_t
marks(const GPtrArray *elements, const char *name)
{
    size_t n = 0;
    for (guint i = 0; i < elements->len; i++)
        n += has_class(g_ptr_array_index(elements, i), name);
    return n;
}

/* One shape in each view, with its name beside it in profile, and what it is in the list. */
static void
points_at_one_thing(void **state G_GNUC_UNUSED)
{
    static const struct {
        const char *path, *name;
        size_t shapes;
        const char *listed;
    } cases[] = {{"openings.engine-vent", "engine vent", 2, "In the ring: engine vent"},
                 {"openings.engine-vent.height", "engine vent", 2, "In the ring: engine vent"},
                 {"items.stove.mass", "stove", 2, "In the ring: stove"},
                 {"items.fuel.tank.volume", "fuel tank", 2, "In the frame: fuel tank"},
                 {"spaces.saloon", "saloon", 2, "In the frame: saloon"},
                 {"houses.wheelhouse.height", "wheelhouse", 2, "In the frame: wheelhouse"},
                 {"appendages.skeg", "skeg", 2, "In the ring: skeg"},
                 {"hull.stations.s2.points", "station s2", 2, "At the arrows: station s2"},
                 {"openings.engine", NULL, 0, NULL},
                 {"openings.engine-vents", NULL, 0, NULL},
                 {"circuits.bilge", NULL, 0, NULL},
                 {"", NULL, 0, NULL}};
    const ArrangementPicture *fig = figure_of("arrangement", FIGURE_PLAIN);
    for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
        DrawHow how = {.prefix = "fig-a", .units = UNITS_METRIC, .mark = cases[i].path};
        g_autoptr(GPtrArray) elements = arrangement(FIGURE_PLAIN, &how);
        assert_int_equal(marks(elements, "mark"), cases[i].shapes);
        assert_int_equal(arrangement_has(fig, cases[i].path), cases[i].shapes > 0);
        assert_int_equal(marks(elements, "mark-name"), cases[i].shapes > 0);
        bool listed = cases[i].listed == NULL;
        for (guint k = 0; k < elements->len; k++) {
            const Element *e = g_ptr_array_index(elements, k);
            if (has_class(e, "mark-name"))
                assert_string_equal(e->text, cases[i].name);
            listed = listed || (has_class(e, "key-head") && strcmp(e->text, cases[i].listed) == 0);
        }
        assert_true(listed);
    }
}

/* Where marks crowd, every tag still has its place: openings in profile, plan and list, items at least in profile and list. */
static void
no_tag_is_left_out(void **state G_GNUC_UNUSED)
{
    DrawHow how = {.prefix = "fig-a", .units = UNITS_METRIC};
    g_autoptr(GPtrArray) elements = arrangement(FIGURE_CROWDED, &how);
    size_t seen[128] = {0};
    for (guint i = 0; i < elements->len; i++) {
        const Element *e = g_ptr_array_index(elements, i);
        if (has_class(e, "tag-text"))
            seen[(unsigned char) e->text[0] & 127]++;
    }
    for (int c = 'A'; c <= 'H'; c++)
        assert_int_equal(seen[c], 3);
    for (int c = '1'; c <= '9'; c++)
        assert_in_range(seen[c], 2, 3);
}

/* A mast does not shrink the hull: what is higher than the sheet stands at its edge, is named, and is moved in plan only. */
static void
masts_are_cut(void **state G_GNUC_UNUSED)
{
    ArrangementPicture fig = *(const ArrangementPicture *) figure_of("arrangement", FIGURE_PLAIN);
    MassMark items[] = {fig.item[0], fig.item[2]};
    items[1].at.z_m = 60.0;
    fig.item = items;
    fig.items = 2;
    DrawHow how = {.prefix = "fig-a", .units = UNITS_METRIC, .in_page = true};
    Markup *svg = markup_new();
    draw_arrangement(&fig, &how, svg);
    g_autofree char *text = markup_steal(svg);
    char *problem = NULL;
    g_autoptr(GPtrArray) elements = svg_read(text, &problem);
    assert_non_null(elements);
    assert_int_equal(movables(elements), 2 + 1 + 2 * fig.openings);
    assert_int_equal(marks(elements, "higher"), 1);
    assert_non_null(strstr(text, "Higher than drawn: twin-coil water heater, 60"));
    for (guint i = 0; i < elements->len; i++)
        if (has_class(g_ptr_array_index(elements, i), "view")) {
            double frame[4];
            four_numbers(g_ptr_array_index(elements, i), "data-frame", frame);
            assert_true(frame[1] > 25.0); /* 14.4 m over the width of the sheet */
        }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(movable_in_both_views),
                                       cmocka_unit_test(a_file_has_no_links),
                                       cmocka_unit_test(fixed_things_stay_links),
                                       cmocka_unit_test(unmovable_item_stays_link),
                                       cmocka_unit_test(links_go_where_the_page_says),
                                       cmocka_unit_test(words_of_a_thing),
                                       cmocka_unit_test(places_as_text),
                                       cmocka_unit_test(points_at_one_thing),
                                       cmocka_unit_test(no_tag_is_left_out),
                                       cmocka_unit_test(masts_are_cut)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
