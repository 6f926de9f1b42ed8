/* The sheet a picture is drawn on: shapes with class names, texts that keep out of each other's
 * way.
 *
 * The picture is written into a body first; its height is known only when everything is placed.
 * Whatever is not finite is not drawn. */
#pragma once

#include <glib.h>

#include "draw/draw.h"
#include "draw/frame.h"

#define CANVAS_WIDTH 440.0
#define TEXT_SIZE 15.0
#define LINE_HEIGHT 20.0
#define CANVAS_MARGIN 12.0

typedef struct {
    double x0, y0, x1, y1;
} Box;

typedef struct {
    Markup *out, *svg; /* out: the caller's; svg: the body */
    const DrawHow *how;
    const char *role;
    const char *title;
    char *desc;
    const Frame *frame; /* of the read-out, or NULL */
    const char *ux, *uy;
    double fx, fy; /* shown = SI * f, of the read-out */
    double width;  /* CANVAS_WIDTH, or several columns of it */
    double left;   /* where the column begins that keys and paragraphs are written in */
    double height; /* grows with what is placed below */
    GArray *taken; /* Box */
} Canvas;

typedef enum { ANCHOR_START, ANCHOR_MIDDLE, ANCHOR_END } Anchor;

/* role "img" for one shape, "group" where parts are links. desc is what a reader who cannot see it
 * is told. */
void canvas_begin(Canvas *canvas, Markup *out, const DrawHow *how, const char *role,
                  const char *title, const char *desc);
/* The read-out of a page finds points with this frame; kinds are those of the axes. */
void canvas_readout(Canvas *canvas, const Frame *frame, QuantityKind x_kind, QuantityKind y_kind);
void canvas_end(Canvas *canvas);
/* Millimetres a unit when a picture of that size fills a sheet of A4 that lies on its side. */
double sheet_scale(double width, double height);
/* On its side or upright, whichever makes it larger. */
double best_sheet_scale(double width, double height);
/* Print of 15 units is 2.8 mm, 8 point, then: smaller is not read on a shed wall. Common practice, no source. */
#define LEAST_MM_A_UNIT 0.19
/* "x0 xk y0 yk" for shown values, shown = model * f; g_free. */
char *frame_text(const Frame *frame, double fx, double fy);

/* Parts. In a page a part is a link to its form field, else a plain group. label is read aloud. */
void part_open(Canvas *canvas, const char *classes, const char *path, const char *field,
               const char *label);
void part_close(Canvas *canvas);

/* A view of the boat: what is in it may be moved in two of her axes. */
typedef enum { SEEN_FROM_SIDE, SEEN_FROM_ABOVE } SeenFrom;
void view_open(Canvas *canvas, SeenFrom seen, const Frame *frame);
void view_close(Canvas *canvas);

/* A thing that stands somewhere aboard. In a page it is a link that can be taken and moved, with room
 * for a thumb around its mark; where it cannot be, a part as any other. */
typedef struct {
    const char *path, *field;
    const char *title; /* in a file */
    const char *name;  /* in a page: what it is called while it is moved */
    const char *facts; /* in a page: read aloud behind the name, as "24 kg" */
    bool movable;
    Spot at;
} Thing;

void thing_open(Canvas *canvas, SeenFrom seen, const Frame *frame, const Thing *thing);
void thing_close(Canvas *canvas);

void draw_line(Canvas *canvas, const char *classes, double x1, double y1, double x2, double y2);
void draw_circle(Canvas *canvas, const char *classes, double x, double y, double radius);
void draw_box(Canvas *canvas, const char *classes, double x, double y, double width, double height);
/* Points of the picture; breaks where one is not finite. */
void draw_path(Canvas *canvas, const char *classes, size_t n, const double x[], const double y[],
               bool closed);
/* A curve in model coordinates, with its points for the read-out; name (NULL: there is but one) tells
 * it from others. */
void draw_curve(Canvas *canvas, const Frame *frame, const char *classes, const char *name, size_t n,
                const double x[], const double y[]);

/* Texts. Width is an estimate on the wide side: the reader's font is not ours to choose. */
double text_width(const char *text);
/* As much of a text as fits, "..." behind it where something was left out; g_free. */
char *text_fitted(const char *text, double width);
/* As many whole words as fit (at least one, cut if need be); *rest is what is left, or NULL. Both
 * g_free. */
char *text_split(const char *text, double width, char **rest);
/* A text as so many lines at most, the end of the last left out where it does not fit; g_ptr_array_unref. */
GPtrArray *text_lines(const char *text, double width, unsigned most);
/* A name that may be an id: "galley-drain" becomes "galley drain", other texts stay; g_free. */
char *name_plain(const char *name);
void draw_text(Canvas *canvas, const char *classes, double x, double y, Anchor anchor,
               const char *text);
/* Text whose place is kept free of later labels. */
void draw_text_kept(Canvas *canvas, const char *classes, double x, double y, Anchor anchor,
                    const char *text);
/* Paragraph from x to the right margin, first base line below *y; *y moves to its last line. */
void draw_paragraph(Canvas *canvas, const char *classes, double x, double *y, const char *text);

/* Places. */
void keep_free(Canvas *canvas, double x0, double y0, double x1, double y1);
bool is_free(const Canvas *canvas, const Box *box);
/* Places a label near a point inside the bounds where nothing stands, with a leader where it is not
 * beside it. false: there is no room, nothing is drawn. */
bool draw_label(Canvas *canvas, const char *classes, double x, double y, const char *text,
                const Box *bounds);
/* The same for a numbered tag (a disc with a text of one or two letters). */
bool draw_tag(Canvas *canvas, const char *classes, double x, double y, const char *text,
              const Box *bounds);

/* A tag whose middle is settled. */
void draw_tag_at(Canvas *canvas, const char *classes, double x, double y, const char *text);

/* Formatting with the canvas's units; g_free. Without a spread a picture shows three digits,
 * lengths to the centimetre: more cannot be read off it. */
char *show(const Canvas *canvas, double si, QuantityKind kind);
char *show_typed(const Canvas *canvas, double si,
                 QuantityKind kind); /* "2.5 mm2", as it was written */
char *show_spread(const Canvas *canvas, double si, double spread, QuantityKind kind);
