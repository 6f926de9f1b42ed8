/* The papers of the work, A4. The order and what is open stand on them always, dates where there is a forecast. */
#pragma once

#include "report/report.h"

/* What a paper of the work is made from. */
typedef struct {
    const Result *result;
    const WorkPlan *plan;
    const WorkForecast *forecast; /* NULL: the order and what is open, without dates */
    const Asked *asked;
    UnitsChoice units;
} WorkSource;

/* PDFs; NULL with *error. */

/* For the pocket: what is next and why, what to bring and to print, what must stay open, what the rest waits for, and lines to write
 * down at the end of the day. */
GBytes *write_day_sheet(const WorkSource *source, GError **error);
/* All that must be done while she is out of the water, in its order, with the parts for it. What is not on it costs another lift. */
GBytes *write_lift_list(const WorkSource *source, GError **error);
/* What is not in hand, by the last day on which it can be ordered; what is to be hired; parts that tasks name and nobody has put down
 * as a purchase. */
GBytes *write_buying_list(const WorkSource *source, GError **error);
/* For the surveyor: what will be covered and when, what lies behind it and is tested before, with room for his mark. */
GBytes *write_cover_list(const WorkSource *source, GError **error);
/* Every open task in its order; and day by day what the plan does, orders, slots, milestones: to hang on the wall. */
GBytes *write_plan_sheet(const WorkSource *source, GError **error);
GBytes *write_calendar_sheet(const WorkSource *source, GError **error);

/* The same as tables for a spreadsheet, RFC 4180, and the whole plan as a workbook (XLSX). */
void write_plan_csv(const WorkSource *source, GString *out);
void write_lift_csv(const WorkSource *source, GString *out);
void write_buying_csv(const WorkSource *source, GString *out);
GBytes *write_plan_workbook(const WorkSource *source, GError **error);

/* What calendars read (iCalendar, RFC 5545): spells of work at local clock times, tasks with the day they are due, milestones, slots,
 * orders and deliveries. The same task keeps its name (UID) from one export to the next, and a later day supersedes. NULL with *error;
 * it needs a day to bear. */
GBytes *write_work_calendar(const WorkSource *source, GError **error);
