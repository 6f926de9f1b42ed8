/* The one-line diagram and the cable routes of whole boats, as a page shows them, whole and sheet by sheet: every circuit once, no
 * text on another, whatever situation is asked for; and of boats that nobody would wire. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "boat/model.h"
#include "checks/figures.h"
#include "draw/draw.h"
#include "labels.h"
#include "svg_read.h"
#include "wild_boat.h"

typedef struct {
    Boat *boat;
    Catalog *catalog;
} Aboard;

static Aboard
aboard(Boat *boat, const Diagnostics *notes)
{
    if (boat == NULL || diagnostics_errors(notes) > 0) {
        g_autofree char *said = diagnostics_text(notes, "boat");
        fail_msg("%s", said);
    }
    return (Aboard){boat, catalog_load()};
}

static Aboard
example_aboard(const char *name)
{
    g_autofree char *path = g_strdup_printf("%s/%s.yaml", EXAMPLES, name);
    g_autoptr(Diagnostics) notes = diagnostics_new();
    return aboard(boat_load(path, 0, NULL, notes, NULL), notes);
}

static Aboard
wild_aboard(unsigned circuits, guint32 seed)
{
    g_autofree char *text = wild_boat(circuits, seed);
    g_autoptr(Diagnostics) notes = diagnostics_new();
    return aboard(boat_parse(text, strlen(text), 0, NULL, notes, NULL), notes);
}

static void
aboard_clear(Aboard *a)
{
    boat_free(a->boat);
    catalog_free(a->catalog);
}

/* Each circuit drawn is counted in seen, where none may stand already. */
static void
look_at(const char *what, const PictureInfo *info, const Figure *figure, DrawHow how,
        GHashTable *seen)
{
    g_autoptr(Markup) out = markup_new();
    picture_draw(info, figure_data(figure), &how, out);
    g_autofree char *svg = markup_steal(g_steal_pointer(&out)), *problem = NULL;
    g_autoptr(GPtrArray) elements = svg_read(svg, &problem);
    if (elements == NULL)
        fail_msg("%s: %s", what, problem);
    labels_stand_apart(what, elements);
    for (guint i = 0; i < elements->len; i++) {
        const Element *e = g_ptr_array_index(elements, i);
        const char *classes = element_get(e, "class");
        if (classes != NULL && strstr(classes, "part circuit") != NULL &&
            !g_hash_table_add(seen, g_strdup(element_get(e, "data-path"))))
            fail_msg("%s: %s is drawn twice", what, element_get(e, "data-path"));
    }
}

/* In a page, whole, sheet by sheet: each way shows so many circuits. */
static void
look_every_way(const char *what, const char *picture, const Figure *figure, UnitsChoice units,
               size_t circuits)
{
    const PictureInfo *info = picture_find(picture, NULL);
    DrawHow how = {.prefix = "p", .units = units};
    unsigned sheets = picture_sheets(info, figure_data(figure), &how);
    for (int way = 0; way < 3; way++) {
        g_autoptr(GHashTable) seen = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
        how.in_page = way == 0;
        unsigned last = way == 2 && sheets > 1 ? sheets : 0;
        for (how.sheet = MIN(last, 1); how.sheet <= last; how.sheet++)
            look_at(what, info, figure, how, seen);
        assert_int_equal(g_hash_table_size(seen), circuits);
    }
}

static void
look_at_pictures(const char *what, const SolveInput *input, UnitsChoice units)
{
    g_autofree char *no_diagram = NULL, *no_routes = NULL;
    g_autoptr(Figure) diagram = figure_new("one-line", NULL, input, &no_diagram);
    g_autoptr(Figure) routes = figure_new("cable-routes", NULL, input, &no_routes);
    size_t circuits;
    boat_records(input->boat, &section_circuits, &circuits);
    if (diagram == NULL)
        assert_true(circuits == 0 && strstr(no_diagram, "circuits.ID") != NULL);
    else
        look_every_way(what, "one-line", diagram, units,
                       ((const OneLinePicture *) figure_data(diagram))->links);
    if (routes == NULL)
        assert_true(strstr(no_routes, "circuit") != NULL);
    else
        look_every_way(what, "cable-routes", routes, units,
                       ((const CableRoutesPicture *) figure_data(routes))->routes);
}

static void
every_situation(const char *name, const Aboard *a)
{
    size_t n;
    const Record *const *situations = boat_records(a->boat, &section_situations, &n);
    for (size_t i = 0; i <= n; i++) {
        SolveInput input = {.boat = a->boat,
                            .catalog = a->catalog,
                            .stage = i % 2 == 0 ? STAGE_DONE : STAGE_NOW,
                            .situation = i < n ? situations[i]->id : NULL};
        g_autofree char *what = g_strdup_printf("%s, %s", name, i < n ? input.situation : "worst");
        look_at_pictures(what, &input, i % 3 == 0 ? UNITS_IMPERIAL : UNITS_METRIC);
    }
}

static void
demonstration_boats(void **state)
{
    (void) state;
    static const char *const names[] = {"dunlin", "whimbrel", "punt"};
    for (size_t i = 0; i < G_N_ELEMENTS(names); i++) {
        Aboard a = example_aboard(names[i]);
        every_situation(names[i], &a);
        aboard_clear(&a);
    }
}

static void
wild_boats(void **state)
{
    (void) state;
    static const unsigned circuits[] = {1, 13, 40, 200, 200, 200};
    for (guint32 seed = 0; seed < G_N_ELEMENTS(circuits); seed++) {
        Aboard a = wild_aboard(circuits[seed], seed);
        SolveInput input = {.boat = a.boat, .catalog = a.catalog, .stage = STAGE_DONE};
        size_t n;
        boat_records(a.boat, &section_circuits, &n);
        assert_int_equal(n, circuits[seed]);
        g_autofree char *what = g_strdup_printf("wild boat %u", seed);
        look_at_pictures(what, &input, UNITS_METRIC);
        aboard_clear(&a);
    }
}

int
main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(demonstration_boats),
                                       cmocka_unit_test(wild_boats)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
