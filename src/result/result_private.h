/* Inside of a result, shared by the files of this folder. */
#pragma once

#include <glib.h>

#include "result/result.h"

struct Working {
    Result *result; /* owns it, its steps and every text */
    const char *title;
    Step *step;
    size_t steps, room;
    const char *settle_path, *settle_text;
};

/* Where a text was kept that is likely to come again from the same place: ids and paths of records, sources of the catalogue. */
typedef struct {
    const char *from, *kept;
} Recent;

/* The path of a field that was asked for lately: the givens of one circuit come again for each situation. */
typedef struct {
    const Record *record;
    const Field *field;
    const char *path;
} RecentPath;

enum { RECENT_TEXTS = 512, RECENT_PATHS = 512 };

struct Result {
    const Boat *boat;
    Stage stage;
    GStringChunk *texts;
    Recent recent[RECENT_TEXTS];
    RecentPath recent_path[RECENT_PATHS];
    GPtrArray *blocks; /* pages of all that is no text */
    char *page;        /* the last of them, from where it is free */
    gsize page_left;
    GPtrArray *answers; /* Answer */
    GHashTable *answer_by_name;
    GPtrArray *findings; /* Finding */
    GHashTable *finding_by_id;
    GPtrArray *checks;    /* const CheckInfo * */
    GHashTable *check_at; /* each -> its place in checks, from 1 */
};

/* NULL stays NULL, and a literal of the program stays where it is. */
const char *result_keep(Result *result, const char *text);
void *result_block(Result *result, gsize size); /* zeroed, freed with the result */
void *result_room(Result *result, gsize size);  /* the same with anything in it */
const char *result_path(Result *result, const Record *record, const Field *field);
