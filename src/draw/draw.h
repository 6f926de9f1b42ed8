/* Pictures as SVG: one function a picture, and the list of them.
 *
 * Only class names are written; lines and colours are those of web/careen.css. Every id begins with
 * the caller's prefix, so that two pictures can stand in one page. */
#pragma once

#include <stdbool.h>

#include "base/markup.h"
#include "result/picture/arrangement.h"
#include "result/picture/cable_routes.h"
#include "result/picture/closing_up.h"
#include "result/picture/cross_curves.h"
#include "result/picture/flooded_profile.h"
#include "result/picture/fuse_curve.h"
#include "result/picture/heeled_section.h"
#include "result/picture/hydrostatic_curves.h"
#include "result/picture/one_line.h"
#include "result/picture/order_aboard.h"
#include "result/picture/plans.h"
#include "result/picture/readings.h"
#include "result/picture/righting_lever.h"
#include "result/picture/sectional_areas.h"
#include "result/picture/slings.h"
#include "result/picture/stations.h"
#include "result/picture/timeline.h"
#include "result/picture/tornado.h"
#include "result/picture/voltage_path.h"
#include "result/picture/weight_plan.h"

typedef struct {
    const char *prefix; /* of all ids; [a-z][a-z0-9-]* */
    UnitsChoice units;
    bool in_page; /* parts become links to the form fields, and the read-out is referred to */
    bool fixed;   /* in a page: nothing can be moved, as in an earlier state of the file */
    /* Address of a part's form, g_free; NULL from it: no link. Without it "#f-PATH.FIELD". */
    char *(*link)(const void *context, const char *path, const char *field);
    const void *context; /* of link */
    unsigned sheet;      /* one of those that picture_sheets counts, from 1; 0: the whole picture */
    /* The arrangement points at this thing, or at the thing this is a field of; NULL: at nothing. */
    const char *mark;
} DrawHow;

/* Whether the arrangement can point at a path: items, openings, spaces, houses, tanks, appendages,
 * stations, and their fields. */
bool arrangement_has(const ArrangementPicture *fig, const char *path);

/* A place as a page's form sends it back, metres "x y z" to the millimetre: so the reader of the form
 * can tell whether the thing still stands where it was drawn. g_free. */
char *spot_text(const Spot *at);

#define PICTURE(id, name, discipline, of, Type, title, question)                                   \
    void draw_##id(const Type *fig, const DrawHow *how, Markup *svg);
#include "draw/pictures.def"
#undef PICTURE

typedef struct {
    const char *name;       /* "righting-lever", as typed on the command line */
    const char *discipline; /* "afloat" */
    const char *of;         /* it shows one "device" or "circuit", named behind a point; or NULL */
    const char *title;
    const char *question; /* what it answers, in the owner's words */
} PictureInfo;

size_t picture_count(void);
const PictureInfo *picture_info(size_t i);
/* "fuse-curve.pump-feed": the picture, and in *record what stands behind the point (NULL: nothing does). record NULL: a
 * picture alone. NULL: there is no such picture, or it shows no single thing. */
const PictureInfo *picture_find(const char *name, const char **record);

/* How many sheets of A4 a picture is best printed on; 1: the whole of it can be read on one. */
unsigned picture_sheets(const PictureInfo *info, const void *figure, const DrawHow *how);
unsigned one_line_sheets(const OneLinePicture *fig, const DrawHow *how);
unsigned cable_routes_sheets(const CableRoutesPicture *fig, const DrawHow *how);

/* Draws any picture of the list; figure points to the struct that belongs to info. */
void picture_draw(const PictureInfo *info, const void *figure, const DrawHow *how, Markup *svg);

/* The same as a whole SVG file with its style sheet in it; g_free. */
typedef enum { PALETTE_SCREEN, PALETTE_PRINT } Palette;
char *picture_file(const PictureInfo *info, const void *figure, const DrawHow *how,
                   Palette palette);
