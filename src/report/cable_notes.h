/* What the papers of the wiring say in the same words: how it stands, what is said against each cable, cautions. */
#pragma once

#include "report/cables.h"
#include "report/flow.h"

/* The mark behind a label: " !", " ?" or "". */
const char *level_mark(Level level);
/* First on the paper: how many of its cables are marked. */
void cable_notes_verdict(Flow *flow, const Cables *cables, const char *what_not);
/* Below a table: the sentences behind its marks, worst first. */
void cable_notes_list(Flow *flow, const Cables *cables, const Board *board);
void cable_notes_cautions(Flow *flow, const Cables *cables, const Asked *asked);
void cable_notes_end(Flow *flow, const Cables *cables, const Asked *asked);

/* A paper of the wiring while it is laid out. */
typedef struct {
    const Cables *cables;
    const Asked *asked;
    Flow flow;
} CableSheet;

typedef struct {
    const char *title, *foot;
    const char *forbids;        /* "Do not lay", in front of what is wrong */
    CableChoice choice;         /* what it lists, and whose findings are marked */
    void (*body)(CableSheet *); /* what lies between cautions and end; of a boat with wiring only */
} CablePaper;

GBytes *cable_paper_write(const CablePaper *paper, const Result *result, const Asked *asked,
                          UnitsChoice units, GError **error);
/* Why there is no paper; NULL when there is one. */
const char *cable_notes_nothing(const Cables *cables);
