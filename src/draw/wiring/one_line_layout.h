/* Where each circuit of a one-line diagram stands: pure, the same figure gives the same layout.
 *
 * A bar is a source, a board or whatever else several circuits meet at; it stands upright. From it each circuit goes to the right
 * in a row of its own, to a load in the last place or to the next bar one place further. Rows follow each other so that no line
 * ever crosses another: what would have to cross (a ring, a second feed) ends at a reference to where the other end is drawn.
 * Invariant: every link of the figure has exactly one row that draws it. */
#pragma once

#include <glib.h>

#include "result/picture/one_line.h"

#define NO_LINK ((size_t) -1)
enum { ONE_LINE_DEPTH = 4 }; /* bars side by side, at most: deeper boards begin again at the left */

typedef enum {
    ROW_ROOT,   /* head of a bar at the left */
    ROW_LINK,   /* a circuit */
    ROW_BESIDE, /* another conductor between the same two ends: it ends where the one above ends */
    ROW_ELSEWHERE, /* a circuit whose other end is drawn elsewhere */
    ROW_BOARD,     /* name of the bar that the circuit above leads to */
    ROW_MORE       /* a bar goes on in the next column: its name again */
} OneLineRowKind;

typedef struct {
    OneLineRowKind kind;
    size_t link;    /* NO_LINK */
    size_t node;    /* whose head it is, or the end of the link away from its bar */
    unsigned depth; /* of the bar it belongs to, from the left */
    bool to_bar;    /* the link leads to a bar, not to a symbol */
    unsigned column;
    double top, height; /* in its column, which begins at 0 */
} OneLineRow;

typedef struct {
    size_t node;
    unsigned depth, column;
    size_t first, last;        /* rows: from the middle of the first to the middle of the last */
    bool from_above, to_below; /* it comes from, or goes on in another column */
} OneLineBar;

typedef struct {
    GArray *rows; /* OneLineRow */
    GArray *bars; /* OneLineBar */
    unsigned columns, deepest;
    double height; /* of the tallest column */
} OneLineLayout;

/* How tall rows are, in units of the picture: a circuit's its own, a head's by its kind and by what its name takes beyond a line. */
typedef struct {
    double root, board, more;
    const double *link;  /* [links] */
    const double *name;  /* [nodes] of a root or board */
    const double *again; /* [nodes] where its bar goes on */
} OneLineHeights;

/* All in one column. */
OneLineLayout *one_line_layout(const OneLinePicture *fig, const OneLineHeights *heights);
/* The same broken into columns no taller than they must be. */
OneLineLayout *one_line_columns(const OneLineLayout *whole, const OneLineHeights *heights,
                                unsigned columns);
/* And into as many as it takes when none may be taller than that, with boards kept together where that takes few more. */
OneLineLayout *one_line_columns_of(const OneLineLayout *whole, const OneLineHeights *heights,
                                   double tallest);
void one_line_layout_free(OneLineLayout *layout);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(OneLineLayout, one_line_layout_free)
