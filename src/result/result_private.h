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

struct Result {
    const Boat *boat;
    Stage stage;
    GStringChunk *texts;
    GPtrArray *blocks;   /* lists of values and names */
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
