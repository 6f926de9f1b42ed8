/* Pictures of the wiring hold every circuit of the file, and the numbers that the answers give. */
#include "boats.h"

#include <glib.h>
#include <string.h>

#include "checks/figures.h"
#include "result/picture/one_line.h"

typedef struct {
    Boat *boat;
    Catalog *catalog;
    Figure *figure;
    char *why_not;
} Drawn;

static Drawn
drawn_in(Boat *boat, const char *picture, const char *record, const char *situation)
{
    Drawn d = {.boat = boat, .catalog = catalog_load()};
    SolveInput input = {
        .boat = d.boat, .catalog = d.catalog, .stage = STAGE_DONE, .situation = situation};
    d.figure = figure_new(picture, record, &input, &d.why_not);
    return d;
}

static const void *
data_of(const Drawn *d)
{
    if (d->figure == NULL)
        fail_msg("%s", d->why_not);
    return figure_data(d->figure);
}

static void
drawn_clear(Drawn *d)
{
    figure_free(d->figure);
    boat_free(d->boat);
    catalog_free(d->catalog);
    g_free(d->why_not);
}

static const OneLineLink *
link_at(const OneLinePicture *fig, const char *path)
{
    const OneLineLink *found = NULL;
    for (size_t i = 0; i < fig->links; i++)
        if (strcmp(fig->link[i].path, path) == 0) {
            assert_null(found);
            found = &fig->link[i];
        }
    if (found == NULL)
        fail_msg("%s is not drawn", path);
    return found;
}

/* Mains circuits too, whatever is reckoned of them; and nothing else but boards that are bolted on. */
static void
every_circuit_of_the_file_is_a_link(void **state)
{
    (void) state;
    Drawn d = drawn_in(boat_of_example("dunlin", NULL), "one-line", NULL, NULL);
    const OneLinePicture *fig = data_of(&d);
    Solved s = solve_boat(boat_of_example("dunlin", NULL), STAGE_DONE);
    size_t n, bolted = 0;
    const Record *const *records = boat_records(d.boat, section_find("circuits"), &n);
    for (size_t i = 0; i < n; i++) {
        const OneLineLink *link = link_at(fig, records[i]->path);
        g_autofree char *name = g_strconcat("wiring.current.", records[i]->id, NULL);
        const Answer *current = result_answer_find(s.result, name);
        assert_true(current != NULL ? link->current_A == current->value : isnan(link->current_A));
        assert_true(link->from < fig->nodes && link->to < fig->nodes);
    }
    for (size_t i = 0; i < fig->links; i++)
        bolted += fig->link[i].bolted;
    assert_int_equal(fig->links, n + bolted);
    assert_int_equal(bolted, 1);
    assert_int_equal(fig->node[link_at(fig, "circuits.starter-lead")->to].kind, NODE_STARTER);
    assert_int_equal(fig->node[link_at(fig, "circuits.calorifier-feed")->to].kind, NODE_HEATER);
    solved_clear(&s);
    drawn_clear(&d);
}

/* What the check judges a fault is more than is allowed here, and what it finds fine is less. */
static void
colours_agree_with_findings(void **state)
{
    (void) state;
    Drawn d = drawn_in(boat_of_example("dunlin", NULL), "one-line", NULL, NULL);
    const OneLinePicture *fig = data_of(&d);
    Solved s = solve_boat(boat_of_example("dunlin", NULL), STAGE_DONE);
    size_t seen = 0;
    for (size_t i = 0; i < fig->links; i++) {
        const char *id = strchr(fig->link[i].path, '.') + 1;
        g_autofree char *name = g_strconcat("wiring.voltage-loss.", id, NULL);
        const Finding *f = result_finding_find(s.result, name);
        if (f == NULL || !f->measured)
            continue;
        seen++;
        assert_true((f->value > f->limit) == (fig->link[i].lost_frac > 1.0));
    }
    assert_true(seen > 15);
    solved_clear(&s);
    drawn_clear(&d);
}

static void
a_situation_shows_its_own_currents(void **state)
{
    (void) state;
    Drawn d = drawn_in(boat_of_example("dunlin", NULL), "one-line", NULL, "evening-at-berth");
    const OneLinePicture *fig = data_of(&d);
    Solved s = solve_boat(boat_of_example("dunlin", NULL), STAGE_DONE);
    assert_true(link_at(fig, "circuits.saloon-lights-feed")->current_A ==
                answer(&s, "wiring.current.saloon-lights-feed@evening-at-berth"));
    assert_true(isnan(link_at(fig, "circuits.wipers-feed")->current_A));
    assert_non_null(strstr(fig->caption, "evening at berth"));
    solved_clear(&s);
    drawn_clear(&d);
}

#define HEAD "careen: 1\nboat:\n  name: X\n"

static void
an_end_that_is_not_written_is_drawn(void **state)
{
    (void) state;
    Drawn d = drawn_in(boat_of_text(HEAD "circuits:\n  a:\n    one-way: 2 m\n    area: 4 mm2\n"),
                       "one-line", NULL, NULL);
    const OneLinePicture *fig = data_of(&d);
    assert_int_equal(fig->links, 1);
    assert_int_equal(fig->nodes, 2);
    assert_int_equal(fig->node[0].kind, NODE_UNKNOWN);
    drawn_clear(&d);
}

static void
without_wiring_it_says_why(void **state)
{
    (void) state;
    static const char *const pictures[] = {"one-line"};
    for (size_t i = 0; i < G_N_ELEMENTS(pictures); i++) {
        Drawn d = drawn_in(boat_of_text(HEAD), pictures[i], NULL, NULL);
        assert_null(d.figure);
        assert_non_null(strstr(d.why_not, "circuit"));
        drawn_clear(&d);
    }
}

static void
a_record_of_a_picture_without_is_refused(void **state)
{
    (void) state;
    Drawn d = drawn_in(boat_of_example("dunlin", NULL), "one-line", "horn", NULL);
    assert_null(d.figure);
    assert_non_null(strstr(d.why_not, "no single thing"));
    drawn_clear(&d);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_circuit_of_the_file_is_a_link),
        cmocka_unit_test(colours_agree_with_findings),
        cmocka_unit_test(a_situation_shows_its_own_currents),
        cmocka_unit_test(an_end_that_is_not_written_is_drawn),
        cmocka_unit_test(without_wiring_it_says_why),
        cmocka_unit_test(a_record_of_a_picture_without_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
