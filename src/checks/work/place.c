/* Where the work is done: spaces of each task, and where aboard it is drawn. Invariant: a space stands once in a task. */
#include <math.h>
#include <string.h>

#include "boat/circuits.h"
#include "checks/work/work.h"

#define EDGE_M 0.05 /* a thing at a bulkhead belongs to the space it touches */

static Range
or_all(Range range)
{
    return (Range){.low = isnan(range.low) ? -INFINITY : range.low,
                   .high = isnan(range.high) ? INFINITY : range.high};
}

static double
middle(Range range)
{
    return isnan(range.low) ? NAN : 0.5 * (range.low + range.high);
}

static WorkSpace
space_of(WorkPlan *plan, const Record *record, const char *what, Range along, Range across,
         Range height)
{
    g_autofree char *words = g_strdelimit(g_strdup(record->id), "-", ' ');
    return (WorkSpace){.id = record->id,
                       .path = record->path,
                       .name = what != NULL && what[0] != '\0' ? what
                                                               : work_plan_text(plan, "%s", words),
                       .low_x_m = along.low,
                       .high_x_m = along.high,
                       .y_m = middle(across),
                       .z_m = middle(height)};
}

static void
fill_spaces(Work *work)
{
    WorkPlan *plan = work->plan;
    size_t spaces, houses;
    const Record *const *space = boat_records(work->boat, &section_spaces, &spaces);
    const Record *const *house = boat_records(work->boat, &section_houses, &houses);
    plan->space = work_plan_block(plan, spaces + houses, sizeof *plan->space);
    work->space_record = work_plan_block(plan, spaces + houses, sizeof *work->space_record);
    for (size_t i = 0; i < spaces; i++) {
        const Space *typed = space[i]->data;
        work->space_record[plan->n_spaces] = space[i];
        plan->space[plan->n_spaces++] =
            space_of(plan, space[i], typed->what, typed->along, typed->across, typed->height);
    }
    for (size_t i = 0; i < houses; i++) {
        const House *typed = house[i]->data;
        if (boat_find(work->boat, &section_spaces, house[i]->id) != NULL)
            continue;
        work->space_record[plan->n_spaces] = house[i];
        plan->space[plan->n_spaces++] =
            space_of(plan, house[i], NULL, typed->along, typed->across, typed->height);
    }
}

/* --- from things to spaces ------------------------------------------------------------------------------------------- */

static bool
within(Range range, double value)
{
    Range all = or_all(range);
    return isnan(value) || (value >= all.low - EDGE_M && value <= all.high + EDGE_M);
}

static bool
holds_point(const Record *record, double x_m, double y_m, double z_m)
{
    if (record->section != &section_spaces || isnan(x_m))
        return false;
    const Space *typed = record->data;
    return within(typed->along, x_m) && within(typed->across, y_m) && within(typed->height, z_m);
}

/* The shortest space that holds the point: a locker in a cabin is meant before the cabin. */
static size_t
space_at(const Work *work, double x_m, double y_m, double z_m)
{
    const WorkPlan *plan = work->plan;
    size_t best = NO_TASK;
    for (size_t i = 0; i < plan->n_spaces; i++) {
        const WorkSpace *space = &plan->space[i];
        if (holds_point(work->space_record[i], x_m, y_m, z_m) &&
            (best == NO_TASK || space->high_x_m - space->low_x_m <
                                    plan->space[best].high_x_m - plan->space[best].low_x_m))
            best = i;
    }
    return best;
}

static void
add_once(GArray *list, size_t value)
{
    for (guint i = 0; i < list->len; i++)
        if (g_array_index(list, size_t, i) == value)
            return;
    if (value != NO_TASK)
        g_array_append_val(list, value);
}

typedef struct {
    const Work *work;
    GHashTable *space_of; /* id to number + 1 */
    GArray *spaces;
    double x_m, y_m, z_m;
    size_t points;
} Gathered;

static void
take_point(Gathered *g, const Record *record)
{
    double x_m = record_number(record, "along"), y_m = record_number(record, "across");
    double z_m = record_number(record, "height");
    if (isnan(x_m))
        return;
    add_once(g->spaces, space_at(g->work, x_m, y_m, z_m));
    g->x_m += x_m;
    g->y_m += isnan(y_m) ? 0.0 : y_m;
    g->z_m += isnan(z_m) ? 0.0 : z_m;
    g->points++;
}

static void
take_circuit(Gathered *g, const Record *record)
{
    const Circuit *circuit = record->data;
    const char *ends[] = {circuit->from.id, circuit->to.id};
    for (size_t i = 0; i < 2; i++) {
        const Record *end = ends[i] == NULL ? NULL : circuit_end(g->work->boat, ends[i]);
        if (end != NULL)
            take_point(g, end);
    }
}

static void
take_thing(Gathered *g, const char *id)
{
    static const Section *const sections[] = {&section_items, &section_openings, &section_busbars,
                                              &section_sources};
    const Record *record = boat_find(g->work->boat, &section_circuits, id);
    if (record != NULL)
        take_circuit(g, record);
    for (size_t i = 0; record == NULL && i < G_N_ELEMENTS(sections); i++)
        if ((record = boat_find(g->work->boat, sections[i], id)) != NULL)
            take_point(g, record);
}

static void
take_where(Gathered *g, const List *where)
{
    g_array_set_size(g->spaces, 0);
    for (size_t k = 0; k < where->n; k++) {
        size_t place = GPOINTER_TO_SIZE(g_hash_table_lookup(g->space_of, where->id[k]));
        if (place > 0)
            add_once(g->spaces, place - 1);
    }
}

static double
middle_of(const WorkPlan *plan, const GArray *spaces)
{
    double sum = 0.0;
    for (guint i = 0; i < spaces->len; i++) {
        const WorkSpace *space = &plan->space[g_array_index(spaces, size_t, i)];
        sum += 0.5 * (space->low_x_m + space->high_x_m);
    }
    return spaces->len > 0 ? sum / spaces->len : NAN;
}

static void
place_task(const Work *work, GHashTable *space_of, WorkTask *task)
{
    g_autoptr(GArray) spaces = g_array_new(FALSE, FALSE, sizeof(size_t));
    Gathered g = {.work = work, .space_of = space_of, .spaces = spaces};
    const WorkSection *typed = task->record != NULL ? task->record->data : NULL;
    for (size_t k = 0; typed != NULL && k < typed->works_on.n; k++)
        take_thing(&g, typed->works_on.id[k]);
    if (typed == NULL)
        take_thing(&g, strrchr(task->path, '.') + 1);
    if (g.points > 0) {
        task->x_m = g.x_m / (double) g.points;
        task->y_m = g.y_m / (double) g.points;
        task->z_m = g.z_m / (double) g.points;
    }
    if (typed != NULL && typed->where.n > 0)
        take_where(&g, &typed->where);
    if (g.points == 0) {
        task->x_m = middle_of(work->plan, spaces);
        task->y_m = isnan(task->x_m) ? NAN : 0.0;
    }
    task->spaces = work_plan_indices(work->plan, spaces);
}

/* --- what keeps a space open ----------------------------------------------------------------------------------------- */

typedef enum { LIST_ALL, LIST_KEEPS_OPEN, LIST_CLOSES } SpaceList;

static bool
belongs(const WorkTask *task, SpaceList list)
{
    bool inside = task->side == SIDE_INSIDE;
    switch (list) {
    case LIST_KEEPS_OPEN:
        return inside && task->layer >= 0 && task->layer < LAYER_LINING;
    case LIST_CLOSES:
        return inside &&
               (task->layer == LAYER_LINING || (task->covers != NULL && task->covers->n > 0));
    default:
        return true;
    }
}

/* Open tasks by layer, those of none first. */
static GArray *
open_by_layer(const WorkPlan *plan)
{
    GArray *tasks = g_array_new(FALSE, FALSE, sizeof(size_t));
    for (int layer = -1; layer <= LAYER_IN_FRONT; layer++)
        for (size_t i = 0; i < plan->n_tasks; i++)
            if (plan->task[i].layer == layer && work_task_is_open(&plan->task[i]))
                g_array_append_val(tasks, i);
    return tasks;
}

static void
list_spaces(WorkPlan *plan, const GArray *tasks, SpaceList list)
{
    g_autoptr(GPtrArray) of_space = g_ptr_array_new_with_free_func((GDestroyNotify) g_array_unref);
    for (size_t s = 0; s < plan->n_spaces; s++)
        g_ptr_array_add(of_space, g_array_new(FALSE, FALSE, sizeof(size_t)));
    for (guint k = 0; k < tasks->len; k++) {
        size_t i = g_array_index(tasks, size_t, k);
        const WorkIndices *spaces = &plan->task[i].spaces;
        for (size_t s = 0; s < spaces->n && belongs(&plan->task[i], list); s++)
            g_array_append_val((GArray *) of_space->pdata[spaces->at[s]], i);
    }
    for (size_t s = 0; s < plan->n_spaces; s++) {
        WorkSpace *space = &plan->space[s];
        *(list == LIST_KEEPS_OPEN ? &space->keeps_open
          : list == LIST_CLOSES   ? &space->closing
                                  : &space->tasks) = work_plan_indices(plan, of_space->pdata[s]);
    }
}

void
work_place(Work *work)
{
    WorkPlan *plan = work->plan;
    fill_spaces(work);
    g_autoptr(GHashTable) space_of = g_hash_table_new(g_str_hash, g_str_equal);
    for (size_t i = plan->n_spaces; i-- > 0;) /* of one id the first */
        g_hash_table_insert(space_of, (gpointer) plan->space[i].id, GSIZE_TO_POINTER(i + 1));
    for (size_t i = 0; i < plan->n_tasks; i++)
        place_task(work, space_of, &plan->task[i]);
    g_autoptr(GArray) tasks = open_by_layer(plan);
    list_spaces(plan, tasks, LIST_ALL);
    list_spaces(plan, tasks, LIST_KEEPS_OPEN);
    list_spaces(plan, tasks, LIST_CLOSES);
}
