/* Text and tables that flow over A4 pages: the same calls run twice, first to count the pages, then to draw. */
#pragma once

#include "report/paper.h"

#define PAGE_WIDTH_MM 210.0
#define PAGE_HEIGHT_MM 297.0
#define PAGE_MARGIN_MM 14.0
#define FIELD_WIDTH_MM (PAGE_WIDTH_MM - 2 * PAGE_MARGIN_MM)
#define FLOW_FAMILY "Liberation Sans, Arial, Helvetica, Sans"

typedef enum { FONT_TEXT, FONT_BOLD, FONT_HEAD, FONT_SMALL, N_FONTS } Font;

typedef struct {
    Paper *paper;
    PangoFontMap *map;
    PangoContext *context;
    PangoFontDescription *font[N_FONTS];
    gboolean draw; /* FALSE: only counting */
    int page, pages;
    double y; /* mm from the top */
    const char *head, *foot;
} Flow;

void flow_open(Flow *flow, Paper *paper, const char *head, const char *foot);
void flow_begin(Flow *flow, gboolean draw); /* one pass */
void flow_end(Flow *flow);                  /* of the pass */
void flow_close(Flow *flow);

/* A new page unless so much is left on this one. */
void flow_need(Flow *flow, double height_mm);
/* keep_mm: what must stand on the same page behind it. */
void flow_heading(Flow *flow, const char *text, double keep_mm);
void flow_paragraph(Flow *flow, Font font, const char *text);
void flow_space(Flow *flow, double height_mm);
/* A drawing under its heading, as wide as asked, narrower if it would not fit on a page. FALSE with *error. */
gboolean flow_drawing(Flow *flow, const char *heading, const char *svg, double width_mm,
                      GError **error);
/* A drawing that states its size, without a heading, from the left margin. */
gboolean flow_sketch(Flow *flow, const char *svg, GError **error);

typedef struct {
    const char *head; /* NULL in the first column: a table without heads */
    double width_mm;
    gboolean number; /* flush right */
} Column;

/* cell: rows of n_columns texts, row by row. A row never breaks; the head stands again on every page. */
void flow_table(Flow *flow, size_t n_columns, const Column column[], size_t n_rows,
                char *const cell[]);
