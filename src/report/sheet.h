/* Papers to print: A4, black on white. */
#pragma once

#include "report/report.h"
#include "result/picture/arrangement.h"
#include "result/picture/righting_lever.h"

typedef struct {
    const char *name, *title, *what;
} PaperInfo;

extern const PaperInfo paper_table[];
extern const size_t n_papers;
const PaperInfo *paper_find(const char *name); /* NULL */

/* Draughts, freeboards, list and GM in every situation, openings, findings, weights and how sure
 * they are. Pictures may be NULL. Writes a PDF; the same input gives the same bytes. */
gboolean write_flotation_sheet(const Result *result, const Asked *asked, UnitsChoice units,
                               const ArrangementPicture *arrangement,
                               const RightingLeverPicture *lever, const char *path, GError **error);
