/* Inside of a result, shared by the files of this folder. */
#pragma once

#include <glib.h>

#include "result/result.h"

struct Working {
    Result *result; /* owns every text */
    const char *title;
    GArray *steps; /* Step */
    const char *settle_path, *settle_text;
};

/* Where a text was kept that is likely to come again from the same place: most are literals of a check. */
typedef struct {
    const char *from, *kept;
} Recent;

enum { RECENT_TEXTS = 512 };

struct Result {
    const Boat *boat;
    Stage stage;
    GStringChunk *texts;
    Recent recent[RECENT_TEXTS];
    GPtrArray *blocks; /* pages of lists of values and names */
    char *page;        /* the last of them, from where it is free */
    gsize page_left;
    GPtrArray *workings; /* Working */
    GPtrArray *answers;  /* Answer */
    GHashTable *answer_by_name;
    GPtrArray *findings; /* Finding */
    GHashTable *finding_by_id;
    GPtrArray *checks; /* const CheckInfo * */
};

const char *result_keep(Result *result, const char *text); /* NULL stays NULL */
void *result_block(Result *result, gsize size);            /* zeroed, freed with the result */
void working_free(Working *working);
