/* The plan as tables: every task with its dates, hours, money and reasons; purchases; milestones. */
#pragma once

#include "report/data_table.h"
#include "report/work/work_lines.h"
#include "report/work/work_papers.h"

typedef enum { ALL_TASKS, TASKS_OF_LIFT } TasksWanted;

/* Open tasks in the order of the work, then, where all are wanted, those that are done or dropped. */
DataTable *work_tasks_table(const WorkLines *lines, TasksWanted wanted);
/* Not in hand, by the day to order. */
DataTable *work_buying_table(const WorkLines *lines);
DataTable *work_milestones_table(const WorkLines *lines);
