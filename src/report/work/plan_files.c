/* The tables of the work as files. */
#include <math.h>

#include "report/words.h"
#include "report/work/work_tables.h"

static void
csv_of(DataTable *table, GString *out)
{
    write_table_csv(table, out);
    data_table_free(table);
}

void
write_plan_csv(const WorkSource *source, GString *out)
{
    g_autoptr(WorkLines) lines =
        work_lines_new(source->plan, source->forecast, source->asked->today);
    csv_of(work_tasks_table(lines, ALL_TASKS), out);
}

void
write_lift_csv(const WorkSource *source, GString *out)
{
    g_autoptr(WorkLines) lines =
        work_lines_new(source->plan, source->forecast, source->asked->today);
    csv_of(work_tasks_table(lines, TASKS_OF_LIFT), out);
}

void
write_buying_csv(const WorkSource *source, GString *out)
{
    g_autoptr(WorkLines) lines =
        work_lines_new(source->plan, source->forecast, source->asked->today);
    csv_of(work_buying_table(lines), out);
}

GBytes *
write_plan_workbook(const WorkSource *source, GError **error)
{
    g_autoptr(WorkLines) lines =
        work_lines_new(source->plan, source->forecast, source->asked->today);
    g_autoptr(DataTable) tasks = work_tasks_table(lines, ALL_TASKS);
    g_autoptr(DataTable) buying = work_buying_table(lines);
    g_autoptr(DataTable) milestones = work_milestones_table(lines);
    const DataTable *const tables[] = {tasks, buying, milestones};
    g_autofree char *name = text_clean(boat_name(source->result));
    g_autofree char *title =
        g_strdup_printf("Plan of the work: %s%s", name, demo_words(source->result));
    return write_workbook(G_N_ELEMENTS(tables), tables, title, lines->day, error);
}
