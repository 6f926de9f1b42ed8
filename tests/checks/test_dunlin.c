/* What the demo boats must answer and find; pure, the same from run to run and from thread to thread. */
#include "boats.h"

#include <string.h>

#include "boat/model.h"

#include "checks/figures.h"
#include "draw/draw.h"

static void
required_answers_exist(void **state)
{
    (void) state;
    static const char *const names[] = {
        "afloat.displacement", "afloat.lcg",    "afloat.vcg",      "afloat.draught-aft",
        "afloat.draught-fore", "afloat.trim",   "afloat.list",     "afloat.freeboard",
        "afloat.gm",           "afloat.gz-max", "afloat.gz-range", "afloat.air-draught",
        "work.hours-left",     "work.cost",     "work.factor"};
    for (Stage stage = STAGE_NOW; stage <= STAGE_DONE; stage++) {
        Solved s = solve_boat(boat_of_example("dunlin", NULL), stage);
        for (size_t i = 0; i < G_N_ELEMENTS(names); i++)
            assert_true(isfinite(answer(&s, names[i])));
        size_t n;
        const Record *const *openings = boat_records(s.boat, &section_openings, &n);
        assert_true(n >= 8);
        for (size_t i = 0; i < n; i++) {
            g_autofree char *name = g_strdup_printf("afloat.opening-height.%s", openings[i]->id);
            assert_true(isfinite(answer(&s, name)));
        }
        solved_clear(&s);
    }
}

static void
required_findings_exist(void **state)
{
    (void) state;
    static const char *const ids[] = {
        "afloat.floats",     "afloat.weights",          "afloat.level-across", "afloat.level-along",
        "afloat.stiffness",  "afloat.inland-freeboard", "afloat.wind-heel",    "afloat.first-under",
        "afloat.hull-shape", "afloat.between"};
    Solved s = solve_boat(boat_of_example("dunlin", NULL), STAGE_DONE);
    for (size_t i = 0; i < G_N_ELEMENTS(ids); i++) {
        const Finding *f = finding(&s, ids[i]);
        assert_true(*f->template_text != '\0');
        assert_true(f->level == LEVEL_FINE || f->level == LEVEL_DOUBT || f->working != NULL);
    }
    solved_clear(&s);
}

/* A deck above the sea takes none of it: its height is told, and no finding is made of it. */
static void
only_what_the_sea_reaches_floods(void **state)
{
    (void) state;
    Solved s = solve_boat(boat_of_example("dunlin", NULL), STAGE_DONE);
    assert_true(isfinite(answer(&s, "afloat.flooded-height.foredeck")));
    assert_null(result_finding_find(s.result, "afloat.flooded.foredeck"));
    assert_non_null(result_finding_find(s.result, "afloat.flooded.engine-room"));
    solved_clear(&s);
}

static void
pictures_can_be_drawn_of_every_example(void **state)
{
    (void) state;
    static const char *const pictures[] = {
        "arrangement",     "righting-lever", "weight-plan",    "hydrostatic-curves",
        "sectional-areas", "heeled-section", "cross-curves",   "stations",
        "slings",          "readings",       "flooded-profile"};
    /* Nobody read her freeboards, and she is open from end to end. */
    static const char *const not_of_punt[] = {"readings", "flooded-profile", NULL};
    static const char *const boats[] = {"dunlin", "whimbrel", "punt"};
    Catalog *catalog = catalog_load();
    for (size_t b = 0; b < G_N_ELEMENTS(boats); b++) {
        g_autoptr(Boat) boat = boat_of_example(boats[b], NULL);
        SolveInput input = {.boat = boat, .catalog = catalog, .stage = STAGE_DONE};
        for (size_t i = 0; i < G_N_ELEMENTS(pictures); i++) {
            g_autofree char *why_not = NULL;
            g_autoptr(Figure) figure = figure_new(pictures[i], NULL, &input, &why_not);
            if (strcmp(boats[b], "punt") == 0 && g_strv_contains(not_of_punt, pictures[i])) {
                assert_null(figure);
                assert_non_null(why_not);
                continue;
            }
            assert_non_null(figure);
            assert_non_null(figure_data(figure));
        }
    }
    catalog_free(catalog);
}

static gpointer
solve_in_thread(gpointer data)
{
    return solve(data);
}

static void
same_in_every_thread(void **state)
{
    (void) state;
    Catalog *catalog = catalog_load();
    Boat *boat = boat_of_example("dunlin", NULL);
    SolveInput input = {.boat = boat, .catalog = catalog, .stage = STAGE_DONE};
    GThread *thread[4];
    g_autoptr(Result) here = solve(&input);
    for (size_t i = 0; i < G_N_ELEMENTS(thread); i++)
        thread[i] = g_thread_new("solve", solve_in_thread, &input);
    for (size_t i = 0; i < G_N_ELEMENTS(thread); i++) {
        g_autoptr(Result) there = g_thread_join(thread[i]);
        assert_int_equal(result_answers(here), result_answers(there));
        assert_int_equal(result_findings(here), result_findings(there));
        for (size_t k = 0; k < result_answers(here); k++)
            assert_memory_equal(&result_answer(here, k)->value, &result_answer(there, k)->value,
                                sizeof(double));
    }
    boat_free(boat);
    catalog_free(catalog);
}

typedef struct {
    FigureSet *set;
    GPtrArray *drawn; /* char *, in the order of the list */
} Drawer;

static char *
drawn_from(const Figure *figure, const PictureInfo *info)
{
    Markup *svg = markup_new();
    DrawHow how = {.prefix = "x", .units = UNITS_METRIC, .in_page = true};
    picture_draw(info, figure_data(figure), &how, svg);
    return markup_steal(svg);
}

static gpointer
draw_in_thread(gpointer data)
{
    Drawer *drawer = data;
    for (size_t i = 0; i < picture_count(); i++) {
        g_autofree char *why_not = NULL;
        g_autoptr(Figure) figure = figure_from(drawer->set, picture_info(i)->name, NULL, &why_not);
        g_ptr_array_add(drawer->drawn, figure != NULL ? drawn_from(figure, picture_info(i)) : NULL);
    }
    return NULL;
}

/* One set, read by several threads at once, gives what a solve of its own gives. */
static void
one_set_gives_every_picture(void **state)
{
    (void) state;
    Catalog *catalog = catalog_load();
    g_autoptr(Boat) boat = boat_of_example("dunlin", NULL);
    SolveInput input = {.boat = boat, .catalog = catalog, .stage = STAGE_DONE};
    g_autoptr(FigureSet) set = figure_set_new(&input);
    GThread *thread[4];
    Drawer drawer[G_N_ELEMENTS(thread)];
    for (size_t t = 0; t < G_N_ELEMENTS(thread); t++) {
        drawer[t] = (Drawer){set, g_ptr_array_new_with_free_func(g_free)};
        thread[t] = g_thread_new("draw", draw_in_thread, &drawer[t]);
    }
    for (size_t t = 0; t < G_N_ELEMENTS(thread); t++)
        g_thread_join(thread[t]);
    for (size_t i = 0; i < picture_count(); i++) {
        g_autofree char *why_not = NULL;
        if (figure_needs_forecast(picture_info(i)->name))
            continue; /* of a study: tests/study */
        g_autoptr(Figure) figure = figure_new(picture_info(i)->name, NULL, &input, &why_not);
        assert_non_null(figure);
        g_autofree char *alone = drawn_from(figure, picture_info(i));
        for (size_t t = 0; t < G_N_ELEMENTS(thread); t++)
            assert_string_equal(g_ptr_array_index(drawer[t].drawn, i), alone);
    }
    for (size_t t = 0; t < G_N_ELEMENTS(thread); t++)
        g_ptr_array_unref(drawer[t].drawn);
    catalog_free(catalog);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(required_answers_exist),
        cmocka_unit_test(required_findings_exist),
        cmocka_unit_test(only_what_the_sea_reaches_floods),
        cmocka_unit_test(pictures_can_be_drawn_of_every_example),
        cmocka_unit_test(same_in_every_thread),
        cmocka_unit_test(one_set_gives_every_picture),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
