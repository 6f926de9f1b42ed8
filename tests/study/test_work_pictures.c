/* Pictures of the work on the demo boat: every open task once, nothing before what it waits for, chances that only rise. */
#include "plans.h"

#include <math.h>
#include <string.h>

#include "checks/figures.h"
#include "result/picture/closing_up.h"
#include "result/picture/order_aboard.h"
#include "result/picture/timeline.h"
#include "result/picture/tornado.h"
#include "study/work_forecast.h"

typedef struct {
    Opened *opened;
    FigureSet *set;
    WorkForecast *forecast;
} Drawing;

static int
draw(void **state)
{
    Drawing *d = g_new0(Drawing, 1);
    d->opened = open_example("dunlin", NULL, STAGE_DONE);
    d->opened->input.today = (Date){2026, 11, 26};
    d->set = figure_set_new(&d->opened->input);
    d->forecast = work_forecast_find(&d->opened->input, &d->opened->plan,
                                     &(ForecastAsked){.brief = true}, &(StudyHow){.samples = 500});
    *state = d;
    return d->forecast == NULL;
}

static int
done(void **state)
{
    Drawing *d = *state;
    work_forecast_free(d->forecast);
    figure_set_free(d->set);
    opened_free(d->opened);
    g_free(d);
    return 0;
}

static Figure *
figure_named(Drawing *d, const char *picture)
{
    g_autofree char *why_not = NULL;
    Figure *figure = figure_needs_forecast(picture)
                         ? figure_from_forecast(d->set, picture, d->forecast, &why_not)
                         : figure_from(d->set, picture, NULL, &why_not);
    if (figure == NULL)
        fail_msg("%s: %s", picture, why_not);
    return figure;
}

static void
timeline_has_every_task(void **state)
{
    Drawing *d = *state;
    g_autoptr(Figure) figure = figure_named(d, "timeline");
    const TimelinePicture *fig = figure_data(figure);
    assert_true(fig->bars == d->forecast->n_tasks && fig->bars >= 70);
    g_autoptr(GHashTable) paths = g_hash_table_new(g_str_hash, g_str_equal);
    for (size_t i = 0; i < fig->bars; i++) {
        assert_true(g_hash_table_add(paths, (gpointer) fig->bar[i].path));
        assert_true(isnan(fig->bar[i].start_day) || fig->bar[i].start_day >= fig->today);
    }
    assert_true(fig->points > 2 && fig->marks > 0 && fig->mark[0].due);
    for (size_t i = 1; i < fig->points; i++)
        assert_true(fig->chance[i] >= fig->chance[i - 1] &&
                    fig->done_day[i] >= fig->done_day[i - 1]);
    assert_true(fig->chance[0] >= 0.0 && fig->chance[fig->points - 1] <= 1.0);
}

/* A task that must wait for another bears the greater number. */
static void
order_keeps_every_tie(void **state)
{
    g_autoptr(Figure) figure = figure_named(*state, "order-aboard");
    const OrderAboardPicture *fig = figure_data(figure);
    assert_true(fig->ties > 40);
    for (size_t i = 0; i < fig->tasks; i++)
        assert_true(fig->task[i].number == i + 1);
    for (size_t i = 0; i < fig->ties; i++) {
        const OrderTie *tie = &fig->tie[i];
        if (fig->task[tie->from].number >= fig->task[tie->to].number)
            fail_msg("%s stands before %s: %s", fig->task[tie->to].name, fig->task[tie->from].name,
                     tie->why);
        assert_true(strlen(tie->why) > 10);
    }
}

static void
bars_sway_both_ways(void **state)
{
    g_autoptr(Figure) figure = figure_named(*state, "tornado");
    const TornadoPicture *fig = figure_data(figure);
    assert_true(fig->bars >= 3);
    for (size_t i = 1; i < fig->bars; i++)
        assert_true(fig->bar[i].late_days - fig->bar[i].early_days <=
                    fig->bar[i - 1].late_days - fig->bar[i - 1].early_days);
    assert_true(fig->bar[0].early_days < 0.0 && fig->bar[0].late_days > 0.0);
}

/* What keeps a space open is open work, and a space that something keeps open is not closed. */
static void
open_spaces_say_why(void **state)
{
    g_autoptr(Figure) figure = figure_named(*state, "closing-up");
    const ClosingUpPicture *fig = figure_data(figure);
    size_t kept_open = 0, tests = 0;
    for (size_t i = 0; i < fig->spaces; i++) {
        const OpenSpace *space = &fig->space[i];
        kept_open += space->reasons > 0;
        assert_true(space->reasons == 0 || (space->cover_path != NULL && !space->closed));
        for (size_t k = 0; k < space->reasons; k++) {
            assert_true(strlen(space->reason[k].why) > 10);
            tests += space->reason[k].misses_test;
        }
    }
    assert_true(kept_open >= 2 && tests >= 2);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(timeline_has_every_task), cmocka_unit_test(order_keeps_every_tie),
        cmocka_unit_test(bars_sway_both_ways), cmocka_unit_test(open_spaces_say_why)};
    return cmocka_run_group_tests(tests, draw, done);
}
