/* Pictures of a forecast: the plan over the calendar, the order where it happens, what drives the date.
 * Invariant: nothing is reckoned here; what the forecast does not know stays NAN. */
#include "checks/work/figures.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/date.h"
#include "checks/afloat/figures.h"
#include "result/picture/order_aboard.h"
#include "result/picture/timeline.h"
#include "result/picture/tornado.h"
#include "result/work/forecast.h"

enum { MOST_SWAYS = 16 };
#define MOSTLY_frac 0.5  /* of the trials: a delay of it is a delay of the whole */
#define HARDLY_days 0.05 /* less than an hour or so does not count */

/* NULL: there is nothing to be drawn. */
static const WorkPlan *
plan_of(FigureStore *store)
{
    const WorkForecast *forecast = store->forecast;
    if (forecast->fault == NULL && forecast->n_tasks > 0)
        return forecast->plan;
    store->why_not = forecast->fault != NULL ? figure_text(store, "%s", forecast->fault)
                                             : "no work is left to be done";
    return NULL;
}

static const char *
forecast_caption(FigureStore *store)
{
    return figure_text(store, "%s. Reckoned from %zu trials of the hours as they may fall.",
                       store->afloat->vessel->name, store->forecast->trials);
}

/* ---- timeline ---- */

static void
fill_bars(FigureStore *store, TimelinePicture *fig)
{
    const WorkForecast *forecast = store->forecast;
    TimelineBar *bar = figure_block(store, forecast->n_tasks * sizeof *bar);
    for (size_t i = 0; i < forecast->n_tasks; i++) {
        const ForecastTask *when = &forecast->task[i];
        const WorkTask *task = &forecast->plan->task[when->task];
        bar[i] = (TimelineBar){.path = task->path,
                               .name = task->name,
                               .start_day = when->start_day,
                               .finish_day = when->finish_day,
                               .done_frac = task->done_frac,
                               .drives = when->criticality_frac >= MOSTLY_frac,
                               .ashore = (task->needs & (NEED_ASHORE | NEED_DRIED_OUT)) != 0,
                               .hot = (task->tags & TAG_HOT) != 0,
                               .note = when->why};
    }
    fig->bar = bar;
    fig->bars = forecast->n_tasks;
}

static void
fill_spans(FigureStore *store, TimelinePicture *fig)
{
    const WorkPlan *plan = store->forecast->plan;
    size_t most = plan->n_slots;
    for (size_t i = 0; i < plan->n_hands; i++)
        most += plan->hand[i].n_away;
    TimelineSpan *span = figure_block(store, most * sizeof *span);
    for (size_t i = 0; i < plan->n_slots; i++)
        span[fig->spans++] = (TimelineSpan){plan->slot[i].name, plan->slot[i].from_day,
                                            plan->slot[i].until_day + 1.0, false};
    for (size_t i = 0; i < plan->n_hands; i++)
        for (size_t k = 0; k < plan->hand[i].n_away; k++)
            span[fig->spans++] =
                (TimelineSpan){figure_text(store, "%s away", plan->hand[i].name),
                               plan->hand[i].away[k][0], plan->hand[i].away[k][1] + 1.0, true};
    fig->span = span;
}

/* The milestone that the chance is reckoned against comes first in a forecast. */
static void
fill_marks(FigureStore *store, TimelinePicture *fig)
{
    const WorkForecast *forecast = store->forecast;
    TimelineMark *mark = figure_block(store, (forecast->n_milestones + 1) * sizeof *mark);
    for (size_t i = 0; i < forecast->n_milestones; i++) {
        const ForecastMilestone *from = &forecast->milestone[i];
        bool all = from->milestone == NO_TASK;
        const WorkMilestone *milestone = all ? NULL : &forecast->plan->milestone[from->milestone];
        if (isfinite(from->date_day))
            mark[fig->marks++] = (TimelineMark){all ? "berth.until" : milestone->path,
                                                all ? "the end of the berth" : milestone->name,
                                                from->date_day - 0.5, i == 0}; /* that day itself */
    }
    fig->mark = mark;
}

static void
fill_chance(FigureStore *store, TimelinePicture *fig)
{
    const WorkForecast *forecast = store->forecast;
    double *day = figure_block(store, forecast->n_chances * sizeof *day),
           *chance = figure_block(store, forecast->n_chances * sizeof *chance);
    for (size_t i = 0; i < forecast->n_chances; i++) {
        day[i] = forecast->chance[i].day;
        chance[i] = forecast->chance[i].chance_frac;
    }
    fig->done_day = day;
    fig->chance = chance;
    fig->points = forecast->n_chances;
    if (forecast->n_milestones == 0)
        return;
    const ForecastMilestone *chosen = &forecast->milestone[0];
    fig->early_day = chosen->p10_day;
    fig->middle_day = chosen->p50_day;
    fig->late_day = chosen->p90_day;
    if (isfinite(chosen->chance_frac) && fig->marks > 0) {
        g_autofree char *date = day_words(fig->mark[0].day);
        fig->chance_words =
            figure_text(store, "%.0f in 100 to be done by %s", 100.0 * chosen->chance_frac, date);
    }
}

void *
figure_timeline(FigureStore *store)
{
    const WorkPlan *plan = plan_of(store);
    if (plan == NULL)
        return NULL;
    TimelinePicture *fig = figure_block(store, sizeof *fig);
    *fig = (TimelinePicture){.early_day = NAN, .middle_day = NAN, .late_day = NAN};
    fill_bars(store, fig);
    fill_spans(store, fig);
    fill_marks(store, fig);
    fill_chance(store, fig);
    fig->today = plan->today > 0 ? plan->today : NAN;
    fig->caption = forecast_caption(store);
    return fig;
}

/* ---- order aboard ---- */

static void
fill_order(FigureStore *store, OrderAboardPicture *fig, size_t index[])
{
    const WorkForecast *forecast = store->forecast;
    OrderTask *task = figure_block(store, forecast->n_tasks * sizeof *task);
    for (size_t i = 0; i < forecast->n_tasks; i++) {
        const WorkTask *work = &forecast->plan->task[forecast->task[i].task];
        index[forecast->task[i].task] = i;
        task[i] = (OrderTask){work->path,
                              work->name,
                              {work->x_m, work->y_m, work->z_m},
                              i + 1,
                              (work->tags & TAG_HOT) != 0,
                              (work->tags & TAG_TEST) != 0,
                              work->covers != NULL && work->covers->n > 0,
                              (work->needs & (NEED_ASHORE | NEED_DRIED_OUT)) != 0};
    }
    fig->task = task;
    fig->tasks = forecast->n_tasks;
}

static void
fill_ties(FigureStore *store, OrderAboardPicture *fig, const size_t index[])
{
    const WorkPlan *plan = store->forecast->plan;
    OrderTie *tie = figure_block(store, plan->n_ties * sizeof *tie);
    for (size_t i = 0; i < plan->n_ties; i++) {
        const WorkTie *from = &plan->tie[i];
        if (from->overruled == NULL && index[from->from] != NO_TASK && index[from->to] != NO_TASK)
            tie[fig->ties++] = (OrderTie){index[from->from], index[from->to], from->why,
                                          from->rule != RULE_STATED};
    }
    fig->tie = tie;
}

void *
figure_order_aboard(FigureStore *store)
{
    const WorkPlan *plan = plan_of(store);
    if (plan == NULL)
        return NULL;
    OrderAboardPicture *fig = figure_block(store, sizeof *fig);
    g_autofree size_t *index = g_new(size_t, plan->n_tasks);
    for (size_t i = 0; i < plan->n_tasks; i++)
        index[i] = NO_TASK;
    fill_order(store, fig, index);
    fill_ties(store, fig, index);
    fig->caption = figure_text(store, "%s. Numbers are the order of the plan as it stands.",
                               store->afloat->vessel->name);
    figure_deck(store, &fig->deck_points, &fig->deck_x_m, &fig->deck_y_m);
    return fig;
}

/* ---- tornado ---- */

static int
by_width(gconstpointer a, gconstpointer b)
{
    const TornadoBar *x = a, *y = b;
    double wide = (y->late_days - y->early_days) - (x->late_days - x->early_days);
    return wide > 0.0 ? 1 : wide < 0.0 ? -1 : strcmp(x->path, y->path);
}

void *
figure_tornado(FigureStore *store)
{
    if (plan_of(store) == NULL)
        return NULL;
    const WorkForecast *forecast = store->forecast;
    TornadoPicture *fig = figure_block(store, sizeof *fig);
    TornadoBar *bar = figure_block(store, forecast->n_tasks * sizeof *bar);
    for (size_t i = 0; i < forecast->n_tasks; i++) {
        const ForecastTask *from = &forecast->task[i];
        const WorkTask *task = &forecast->plan->task[from->task];
        if (fabs(from->early_days) + fabs(from->late_days) > HARDLY_days)
            bar[fig->bars++] = (TornadoBar){task->path, task->name, from->early_days,
                                            from->late_days, from->criticality_frac};
    }
    qsort(bar, fig->bars, sizeof *bar, by_width);
    fig->bars = MIN(fig->bars, MOST_SWAYS);
    fig->bar = bar;
    fig->left_out = forecast->n_tasks - fig->bars;
    fig->caption = figure_text(
        store,
        "%s Each bar is the mean finish of the trials in which that task took its shortest or "
        "longest tenth; what goes wrong together with it is in it.",
        forecast_caption(store));
    return fig;
}
