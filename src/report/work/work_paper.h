/* What the papers of the work share: how they begin and end, and what they say in the same words. */
#pragma once

#include "report/flow.h"
#include "report/work/work_lines.h"
#include "report/work/work_papers.h"

typedef struct {
    const Result *result;
    const WorkLines *lines;
    const Asked *asked;
    UnitsChoice units;
    GHashTable *said; /* cautions that stand on the paper already */
    Flow flow;
} WorkSheet;

typedef struct {
    const char *title, *foot;
    void (*body)(WorkSheet *s);
} WorkPaper;

/* A PDF, or NULL with *error. */
GBytes *work_paper_write(const WorkPaper *paper, const WorkSource *source, GError **error);

/* "By the plan all is done on ..."; or why there are no dates. */
void work_paper_dates(WorkSheet *s);
/* A caution in bold, once on a paper. */
void work_paper_caution(WorkSheet *s, const char *id);
/* Rows of a table in the making: texts are taken over. */
void work_paper_table(WorkSheet *s, size_t n_columns, const Column column[], GPtrArray *cells);
/* "14 Sep", "14 Sep 2028" in another year than that of the paper, "" without a date; g_free. */
char *work_paper_day(const WorkLines *lines, double day);
