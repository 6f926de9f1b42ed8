/* Papers to print: A4, black on white. */
#pragma once

#include "report/report.h"
#include "result/picture/arrangement.h"
#include "result/picture/righting_lever.h"
#include "result/picture/weight_plan.h"

typedef struct {
    const char *name, *discipline, *title, *what;
    const char *also; /* endings besides pdf, blanks between: "csv", "csv xlsx"; NULL: none */
} PaperInfo;

extern const PaperInfo paper_table[];
extern const size_t n_papers;
const PaperInfo *paper_find(const char *name); /* NULL */
/* Whether it is had with that ending, in small letters. */
bool paper_ends(const PaperInfo *paper, const char *ending);
/* Endings besides pdf, NULL-terminated; g_strfreev. */
char **paper_also(const PaperInfo *paper);

/* Each NULL where the boat does not give it: its part of the paper then says so. */
typedef struct {
    const ArrangementPicture *arrangement;
    const RightingLeverPicture *lever;
    const WeightPlanPicture *weights;
} SheetFigures;

/* Draughts, freeboard, list and GM in every situation, openings, findings, weights and how sure they are, as a
 * PDF. asked->today is the date on it; the same input gives the same bytes. */
GBytes *write_flotation_sheet(const Result *result, const Asked *asked, UnitsChoice units,
                              const SheetFigures *figures, GError **error);
