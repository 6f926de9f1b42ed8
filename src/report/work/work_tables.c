/* The plan as tables. Invariant: texts are the owner's as typed; what is not known is an empty cell. */
#include "report/work/work_tables.h"

#include <math.h>

#include "report/forecast_words.h"
#include "report/work/buying_list.h"

/* ---- tasks ---- */

static const TableColumn task_columns[] = {{"id", CELL_TEXT, 14},
                                           {"task", CELL_TEXT, 40},
                                           {"state", CELL_TEXT, 9},
                                           {"where", CELL_TEXT, 18},
                                           {"begins", CELL_DAY, 11},
                                           {"ends", CELL_DAY, 11},
                                           {"ends early (1 in 10)", CELL_DAY, 11},
                                           {"ends late (1 in 10)", CELL_DAY, 11},
                                           {"hours low", CELL_NUMBER, 8},
                                           {"hours likely", CELL_NUMBER, 8},
                                           {"hours high", CELL_NUMBER, 8},
                                           {"hours left", CELL_NUMBER, 8},
                                           {"hours spent", CELL_NUMBER, 8},
                                           {"people", CELL_NUMBER, 8},
                                           {"who", CELL_TEXT, 16},
                                           {"needs", CELL_TEXT, 20},
                                           {"after", CELL_TEXT, 20},
                                           {"why it begins then", CELL_TEXT, 34},
                                           {"finish hangs on it", CELL_NUMBER, 9},
                                           {"cost likely", CELL_NUMBER, 9},
                                           {"cost spent", CELL_NUMBER, 9},
                                           {"tools", CELL_TEXT, 24},
                                           {"parts", CELL_TEXT, 24},
                                           {"to hire", CELL_TEXT, 18}};

static char *
after_words(const WorkLines *lines, size_t task)
{
    g_autoptr(GString) out = g_string_new(NULL);
    for (size_t k = lines->into.first[task]; k < lines->into.first[task + 1]; k++)
        g_string_append_printf(out, "%s%s", out->len > 0 ? " " : "",
                               lines->plan->task[lines->plan->tie[lines->into.tie[k]].from].id);
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static void
task_row(DataTable *table, const WorkLines *lines, const WorkLine *line)
{
    static const char *const states[] = {"to do", "doing", "done", "dropped"};
    static const ForecastTask nowhen = {.start_day = NAN,
                                        .finish_day = NAN,
                                        .finish_low_day = NAN,
                                        .finish_high_day = NAN,
                                        .criticality_frac = NAN};
    const WorkTask *task = line->task;
    const ForecastTask *when = line->when != NULL ? line->when : &nowhen;
    g_autofree char *where = work_where_words(lines->plan, task), *needs = work_needs_words(task);
    g_autofree char *after = after_words(lines, line->at);
    g_autofree char *who = line->when != NULL ? hands_words(lines->forecast, when) : NULL;
    data_table_text(table, task->id);
    data_table_text(table, task->name);
    data_table_text(table, states[CLAMP(task->state, 0, 3)]);
    data_table_text(table, where);
    data_table_day(table, task->began_day > 0 ? task->began_day : when->start_day);
    data_table_day(table, task->finished_day > 0 ? task->finished_day : when->finish_day);
    data_table_day(table, when->finish_low_day);
    data_table_day(table, when->finish_high_day);
    data_table_number(table, task->takes_h.low);
    data_table_number(table, task->takes_h.likely);
    data_table_number(table, task->takes_h.high);
    data_table_number(table, work_task_is_open(task) ? task->left_h.likely : 0.0);
    data_table_number(table, task->spent_h);
    data_table_number(table, task->people);
    data_table_text(table, who);
    data_table_text(table, needs);
    data_table_text(table, after);
    data_table_text(table, when->why);
    data_table_number(table, when->criticality_frac);
    data_table_number(table, task->cost_money.likely);
    data_table_number(table, task->spent_money);
    data_table_text(table, task->tools);
    data_table_text(table, task->parts);
    data_table_text(table, task->hire);
}

DataTable *
work_tasks_table(const WorkLines *lines, TasksWanted wanted)
{
    bool lift = wanted == TASKS_OF_LIFT;
    DataTable *table =
        data_table_new(lift ? "One lift" : "Tasks", G_N_ELEMENTS(task_columns), task_columns);
    for (size_t i = 0; i < lines->n; i++)
        if (!lift || work_task_of_lift(lines->line[i].task))
            task_row(table, lines, &lines->line[i]);
    for (size_t i = 0; i < lines->plan->n_tasks && !lift; i++) {
        WorkLine line = {.task = &lines->plan->task[i], .at = i};
        if (!work_task_is_open(line.task))
            task_row(table, lines, &line);
    }
    return table;
}

/* ---- purchases ---- */

static const TableColumn buying_columns[] = {{"id", CELL_TEXT, 14},
                                             {"what", CELL_TEXT, 36},
                                             {"from whom", CELL_TEXT, 20},
                                             {"state", CELL_TEXT, 10},
                                             {"order by", CELL_DAY, 11},
                                             {"needed", CELL_DAY, 11},
                                             {"ordered", CELL_DAY, 11},
                                             {"due", CELL_DAY, 11},
                                             {"first needed for", CELL_TEXT, 36},
                                             {"delivery days", CELL_NUMBER, 9},
                                             {"delivery days, longest", CELL_NUMBER, 9},
                                             {"price low", CELL_NUMBER, 9},
                                             {"price likely", CELL_NUMBER, 9},
                                             {"price high", CELL_NUMBER, 9},
                                             {"paid", CELL_NUMBER, 9}};

DataTable *
work_buying_table(const WorkLines *lines)
{
    g_autoptr(GArray) list = buying_list(lines);
    DataTable *table = data_table_new("To buy", G_N_ELEMENTS(buying_columns), buying_columns);
    for (guint i = 0; i < list->len; i++) {
        const ToBuy *buy = &g_array_index(list, ToBuy, i);
        const WorkPurchase *p = buy->purchase;
        data_table_text(table, p->id);
        data_table_text(table, p->name);
        data_table_text(table, p->seller);
        data_table_text(table, p->state == PURCHASE_ORDERED ? "ordered" : "wanted");
        data_table_day(table, buy->order_day);
        data_table_day(table, buy->needed_day);
        data_table_day(table, p->ordered_day);
        data_table_day(table, p->due_day);
        data_table_text(table, buy->first_task != NO_TASK ? lines->plan->task[buy->first_task].name
                                                          : NULL);
        data_table_number(table, p->delivery_h.likely / 24.0);
        data_table_number(table, p->delivery_h.high / 24.0);
        data_table_number(table, p->price_money.low);
        data_table_number(table, p->price_money.likely);
        data_table_number(table, p->price_money.high);
        data_table_number(table, p->paid_money);
    }
    return table;
}

/* ---- milestones ---- */

static const TableColumn milestone_columns[] = {{"id", CELL_TEXT, 14},
                                                {"milestone", CELL_TEXT, 36},
                                                {"wanted by", CELL_DAY, 11},
                                                {"by the plan", CELL_DAY, 11},
                                                {"early (1 in 10)", CELL_DAY, 11},
                                                {"even chance", CELL_DAY, 11},
                                                {"late (1 in 10)", CELL_DAY, 11},
                                                {"chance in time", CELL_NUMBER, 9}};

static const ForecastMilestone *
reached(const WorkLines *lines, size_t milestone)
{
    for (size_t i = 0; lines->forecast != NULL && i < lines->forecast->n_milestones; i++)
        if (lines->forecast->milestone[i].milestone == milestone)
            return &lines->forecast->milestone[i];
    return NULL;
}

static void
milestone_row(DataTable *table, const WorkMilestone *m, const ForecastMilestone *f)
{
    data_table_text(table, m != NULL ? m->id : NULL);
    data_table_text(table, m != NULL ? m->name : "all the work");
    data_table_day(table, m != NULL ? m->day : NAN);
    data_table_day(table, f != NULL ? f->plan_day : NAN);
    data_table_day(table, f != NULL ? f->p10_day : NAN);
    data_table_day(table, f != NULL ? f->p50_day : NAN);
    data_table_day(table, f != NULL ? f->p90_day : NAN);
    data_table_number(table, f != NULL ? f->chance_frac : NAN);
}

DataTable *
work_milestones_table(const WorkLines *lines)
{
    DataTable *table =
        data_table_new("Milestones", G_N_ELEMENTS(milestone_columns), milestone_columns);
    const ForecastMilestone *all = reached(lines, NO_TASK);
    if (all != NULL)
        milestone_row(table, NULL, all);
    for (size_t i = 0; i < lines->plan->n_milestones; i++)
        milestone_row(table, &lines->plan->milestone[i], reached(lines, i));
    return table;
}
