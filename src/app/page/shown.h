/* The boat as one reader looks at her: a text, what was chosen of it, and the solve. Immutable once made, counted; kept on a
 * shelf, so that many pages of one boat solve her once. */
#pragma once

#include "app/load.h"
#include "app/page/desk.h"
#include "app/serve/params.h"
#include "checks/figures.h"

typedef struct {
    Chosen chosen;
    char *
        query; /* the same as an address carries it: "stage=now&option=x", "" when all is as usual */
    gint64 revision;    /* an earlier state, or 0: as the file is */
    GPtrArray *options; /* char *, owned; chosen.options */
    char *situation;
} Look;

/* What an address asks to see. Never NULL: what cannot be is left out. */
Look *look_read(const Params *query);
Look *look_copy(const Look *look);
void look_free(Look *look);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Look, look_free)

typedef struct {
    Edition *edition;
    Look *look;
    Loaded *loaded; /* NULL: problem says why */
    Result *result;
    char *problem;
    Diagnostics *notes;
    FigureSet *figures; /* NULL: it could not be solved */
} Shown;

/* Solved now. Never NULL; takes references of its own. */
Shown *shown_new(const Catalog *catalog, Edition *edition, const Look *look);
Shown *shown_ref(Shown *shown);
void shown_unref(Shown *shown);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Shown, shown_unref)

typedef struct Shelf Shelf;

Shelf *shelf_new(const Catalog *catalog, size_t most);
void shelf_free(Shelf *shelf);
/* Solved now, or taken from the shelf. desk: whose text it is (only its address counts). Any thread. */
Shown *shelf_get(Shelf *shelf, const void *desk, Edition *edition, const Look *look);
