/* Every space with what still keeps it open.
 * Invariant: a space counts as closed only when a task that closes it is done and nothing open keeps it so. */
#include "checks/work/figures.h"

#include <math.h>
#include <stdlib.h>

#include "checks/afloat/figures.h"
#include "result/picture/closing_up.h"
#include "result/work/plan.h"

static bool
holds(const WorkIndices *indices, size_t task)
{
    for (size_t i = 0; i < indices->n; i++)
        if (indices->at[i] == task)
            return true;
    return false;
}

/* Ties by the task they lead out of: the first of each, and after each the next; n_ties: none. */
typedef struct {
    const WorkPlan *plan;
    size_t *first, *next;
} TiesOut;

static TiesOut
ties_out(FigureStore *store)
{
    const WorkPlan *plan = store->work;
    TiesOut out = {plan, figure_block(store, (plan->n_tasks + 1) * sizeof(size_t)),
                   figure_block(store, (plan->n_ties + 1) * sizeof(size_t))};
    for (size_t i = 0; i < plan->n_tasks; i++)
        out.first[i] = plan->n_ties;
    for (size_t k = plan->n_ties; k-- > 0;) {
        out.next[k] = out.first[plan->tie[k].from];
        out.first[plan->tie[k].from] = k;
    }
    return out;
}

/* Why this task keeps the space open: what ties it to one that closes it, if it is tied directly. */
static const char *
reason_of(const TiesOut *out, const WorkSpace *space, size_t task)
{
    const WorkPlan *plan = out->plan;
    for (size_t k = out->first[task]; k < plan->n_ties; k = out->next[k]) {
        const WorkTie *tie = &plan->tie[k];
        if (tie->overruled == NULL && holds(&space->closing, tie->to))
            return tie->why;
    }
    return (plan->task[task].tags & TAG_TEST) != 0 ? "a test, not done yet" : "not done yet";
}

static bool
was_closed(const WorkPlan *plan, size_t space)
{
    for (size_t i = 0; i < plan->n_tasks; i++) {
        const WorkTask *task = &plan->task[i];
        if (task->state == WORK_DONE && task->layer == LAYER_LINING && task->side == SIDE_INSIDE &&
            holds(&task->spaces, space))
            return true;
    }
    return false;
}

static void
fill_reasons(FigureStore *store, const TiesOut *out, const WorkSpace *space, OpenSpace *open)
{
    const WorkPlan *plan = out->plan;
    OpenReason *reason = figure_block(store, space->keeps_open.n * sizeof *reason);
    for (size_t i = 0; i < space->keeps_open.n; i++) {
        size_t task = space->keeps_open.at[i];
        reason[i] =
            (OpenReason){plan->task[task].path, plan->task[task].name, reason_of(out, space, task),
                         (plan->task[task].tags & TAG_TEST) != 0};
    }
    open->reason = reason;
    open->reasons = space->keeps_open.n;
}

static OpenSpace
open_space(FigureStore *store, const TiesOut *out, size_t index)
{
    const WorkPlan *plan = store->work;
    const WorkSpace *space = &plan->space[index];
    OpenSpace open = {
        .block = {space->path, space->name, space->low_x_m, space->high_x_m, NAN, NAN, NAN, NAN}};
    if (space->closing.n > 0) { /* what nothing covers may stay as it is */
        fill_reasons(store, out, space, &open);
        open.cover_path = plan->task[space->closing.at[0]].path;
        open.cover_name = plan->task[space->closing.at[0]].name;
    }
    open.closed = space->closing.n == 0 && space->keeps_open.n == 0 && was_closed(plan, index);
    return open;
}

static int
by_place(gconstpointer a, gconstpointer b)
{
    double x = ((const OpenSpace *) a)->block.x_aft_m, y = ((const OpenSpace *) b)->block.x_aft_m;
    if (isnan(x) || isnan(y))
        return isnan(x) - isnan(y);
    return x < y ? -1 : x > y;
}

void *
figure_closing_up(FigureStore *store)
{
    const WorkPlan *plan = store->work;
    if (plan->n_tasks == 0) {
        store->why_not = "no work is written down, and nothing is to be fitted";
        return NULL;
    }
    if (plan->n_spaces == 0) {
        store->why_not = "no space is written down that could be closed up";
        return NULL;
    }
    ClosingUpPicture *fig = figure_block(store, sizeof *fig);
    OpenSpace *space = figure_block(store, plan->n_spaces * sizeof *space);
    TiesOut out = ties_out(store);
    for (size_t i = 0; i < plan->n_spaces; i++)
        space[i] = open_space(store, &out, i);
    qsort(space, plan->n_spaces, sizeof *space, by_place);
    fig->space = space;
    fig->spaces = plan->n_spaces;
    fig->caption = figure_text(store, "%s. Test, look and photograph before anything is covered.",
                               store->afloat->vessel->name);
    figure_deck(store, &fig->deck_points, &fig->deck_x_m, &fig->deck_y_m);
    return fig;
}
