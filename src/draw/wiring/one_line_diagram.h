/* The one-line diagram while it is drawn: what its parts (rows, words, key) share. */
#pragma once

#include "draw/canvas.h"
#include "draw/wiring/one_line_layout.h"
#include "draw/wiring/symbols.h"

#define TEXT_STEP 17.0   /* from line to line beside a circuit */
enum { MOST_LINES = 3 }; /* of one text: a longer one is no label */

typedef struct {
    Canvas canvas;
    const OneLinePicture *fig;
    OneLineLayout *layout;
    double symbol_x, text_x; /* from the left of the column */
    double top;              /* where columns begin */
    unsigned sheet;          /* of sheets, from 1; 0: all on one */
    unsigned sheets;         /* how many */
    unsigned first_column;   /* on this sheet */
    unsigned *column;        /* [nodes] where each stands; NULL: not laid out yet */
    unsigned *link_column;   /* [links] likewise */
    size_t *
        refers_to; /* [links] the node at which it ends, drawn elsewhere; NO_NODE: it is drawn to its end */
    bool shown[NODE_UNKNOWN + 1]; /* symbols that stand on any sheet */
    bool elsewhere, returns;      /* so do references, and conductors alone */
} Diagram;

/* Columns of one sheet of A4 on its side, and how tall they may be, so that print on it can be read at arm's length. */
enum { SHEET_COLUMNS = 3 };

unsigned one_line_sheet_of(unsigned column); /* from 1 */

/* Words; all g_free. */
char *one_line_spoken(const Diagram *d, const OneLineRow *row); /* all about a circuit */
/* Lines beside a circuit's symbol, the first *names of them its name. char * */
GPtrArray *one_line_row_lines(const Diagram *d, const OneLineRow *row, double room, guint *names);
/* What a head says: the bar's name, its volts and its own fuse, or from where it goes on. */
char *one_line_head_words(const Diagram *d, const OneLineRow *row);
/* What else is joined to a bar and drawn elsewhere: "cable 1 from house batteries (sheet 1)". char * */
GPtrArray *one_line_joined_lines(const Diagram *d, size_t node, double room);

/* The key from *y downwards, in the column where canvas.left is; *y moves. */
void one_line_key_of_lines(Diagram *d, double *y);
void one_line_key_of_symbols(Diagram *d, double *y);
/* The symbol of a circuit that goes on elsewhere, its tip at x + 5. */
void one_line_reference(Canvas *canvas, double x, double y);
