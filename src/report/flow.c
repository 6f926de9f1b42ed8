/* Pages. Both passes run the same code, so the count of the first is the truth of the second. */
#include "report/flow.h"

#include <math.h>

#define TOP_MM 24.0
#define BOTTOM_MM (PAGE_HEIGHT_MM - 20.0)
#define CELL_GAP_MM 3.5
#define HEADING_MM 10.5

static const char *const fonts[N_FONTS] = {FLOW_FAMILY " 9", FLOW_FAMILY " Bold 9",
                                           FLOW_FAMILY " Bold 11", FLOW_FAMILY " 7.5"};

void
flow_open(Flow *flow, Paper *paper, const char *head, const char *foot)
{
    const Graphics *lib = paper->lib;
    *flow = (Flow){.paper = paper, .head = head, .foot = foot};
    flow->map = lib->pango_cairo_font_map_new();
    lib->pango_cairo_font_map_set_resolution((PangoCairoFontMap *) flow->map, 72.0);
    flow->context = lib->pango_font_map_create_context(flow->map);
    /* Hints and whole-point positions belong to screens; on paper they would move every letter. */
    lib->pango_context_set_round_glyph_positions(flow->context, FALSE);
    cairo_font_options_t *options = lib->cairo_font_options_create();
    lib->cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    lib->cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    lib->pango_cairo_context_set_font_options(flow->context, options);
    lib->cairo_font_options_destroy(options);
    for (int i = 0; i < N_FONTS; i++)
        flow->font[i] = lib->pango_font_description_from_string(fonts[i]);
}

void
flow_close(Flow *flow)
{
    for (int i = 0; i < N_FONTS; i++)
        flow->paper->lib->pango_font_description_free(flow->font[i]);
    g_object_unref(flow->context);
    g_object_unref(flow->map);
}

/* Sets a text in a width and draws it when this pass draws; its height in mm. */
static double
set_text(Flow *flow, Font font, double x, double y, double width, PangoAlignment alignment,
         const char *text, gboolean draw)
{
    const Graphics *lib = flow->paper->lib;
    g_autofree char *valid = g_utf8_make_valid(text, -1);
    PangoLayout *layout = lib->pango_layout_new(flow->context);
    lib->pango_layout_set_font_description(layout, flow->font[font]);
    lib->pango_layout_set_width(layout, (int) (width * POINTS_PER_MM * PANGO_SCALE));
    lib->pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
    lib->pango_layout_set_alignment(layout, alignment);
    lib->pango_layout_set_text(layout, valid, -1);
    int wide, high;
    lib->pango_layout_get_size(layout, &wide, &high);
    if (draw) {
        cairo_t *cr = flow->paper->cr;
        lib->cairo_save(cr);
        lib->cairo_set_source_rgb(cr, 0.0, 0.0, 0.0);
        lib->cairo_translate(cr, x, y);
        lib->cairo_scale(cr, 1.0 / POINTS_PER_MM, 1.0 / POINTS_PER_MM);
        lib->cairo_move_to(cr, 0.0, 0.0);
        lib->pango_cairo_show_layout(cr, layout);
        lib->cairo_restore(cr);
    }
    g_object_unref(layout);
    return (double) high / PANGO_SCALE / POINTS_PER_MM;
}

static void
rule(Flow *flow, double y, double width_mm)
{
    const Graphics *lib = flow->paper->lib;
    cairo_t *cr = flow->paper->cr;
    if (!flow->draw)
        return;
    lib->cairo_set_source_rgb(cr, 0.0, 0.0, 0.0);
    lib->cairo_set_line_width(cr, width_mm);
    lib->cairo_move_to(cr, PAGE_MARGIN_MM, y);
    lib->cairo_line_to(cr, PAGE_WIDTH_MM - PAGE_MARGIN_MM, y);
    lib->cairo_stroke(cr);
}

static void
start_page(Flow *flow)
{
    flow->page++;
    flow->y = TOP_MM;
    set_text(flow, FONT_BOLD, PAGE_MARGIN_MM, 10.0, FIELD_WIDTH_MM, PANGO_ALIGN_LEFT, flow->head,
             flow->draw);
    rule(flow, 19.5, 0.3);
    rule(flow, PAGE_HEIGHT_MM - 16.0, 0.3);
    g_autofree char *number = g_strdup_printf("page %d of %d", flow->page, flow->pages);
    set_text(flow, FONT_SMALL, PAGE_MARGIN_MM, PAGE_HEIGHT_MM - 14.5, 145.0, PANGO_ALIGN_LEFT,
             flow->foot, flow->draw);
    set_text(flow, FONT_SMALL, PAGE_WIDTH_MM - PAGE_MARGIN_MM - 35.0, PAGE_HEIGHT_MM - 14.5, 35.0,
             PANGO_ALIGN_RIGHT, number, flow->draw);
}

void
flow_begin(Flow *flow, gboolean draw)
{
    flow->draw = draw;
    flow->page = 0;
    start_page(flow);
}

void
flow_end(Flow *flow)
{
    if (flow->draw)
        flow->paper->lib->cairo_show_page(flow->paper->cr);
    else
        flow->pages = flow->page;
}

static void
next_page(Flow *flow)
{
    if (flow->draw)
        flow->paper->lib->cairo_show_page(flow->paper->cr);
    start_page(flow);
}

void
flow_need(Flow *flow, double height_mm)
{
    if (flow->y + height_mm > BOTTOM_MM && flow->y > TOP_MM)
        next_page(flow);
}

void
flow_space(Flow *flow, double height_mm)
{
    flow->y += height_mm;
}

void
flow_heading(Flow *flow, const char *text, double keep_mm)
{
    flow_need(flow, HEADING_MM + keep_mm);
    flow->y += flow->y > TOP_MM ? 4.0 : 0.0;
    flow->y += set_text(flow, FONT_HEAD, PAGE_MARGIN_MM, flow->y, FIELD_WIDTH_MM, PANGO_ALIGN_LEFT,
                        text, flow->draw) +
               1.5;
}

void
flow_paragraph(Flow *flow, Font font, const char *text)
{
    double height = set_text(flow, font, 0.0, 0.0, FIELD_WIDTH_MM, PANGO_ALIGN_LEFT, text, FALSE);
    flow_need(flow, height);
    set_text(flow, font, PAGE_MARGIN_MM, flow->y, FIELD_WIDTH_MM, PANGO_ALIGN_LEFT, text,
             flow->draw);
    flow->y += height + 1.2;
}

gboolean
flow_drawing(Flow *flow, const char *heading, const char *svg, double width_mm, GError **error)
{
    const Graphics *lib = flow->paper->lib;
    g_autoptr(RsvgHandle) drawing = drawing_load(lib, svg, error);
    if (drawing == NULL)
        return FALSE;
    double w, h, tallest = BOTTOM_MM - TOP_MM - HEADING_MM;
    drawing_size(lib, drawing, width_mm, &w, &h);
    if (h > tallest) {
        w *= tallest / h;
        h = tallest;
    }
    flow_heading(flow, heading, h);
    double x = PAGE_MARGIN_MM + (FIELD_WIDTH_MM - w) / 2;
    if (flow->draw && !drawing_render(lib, drawing, flow->paper->cr, x, flow->y, w, h, error))
        return FALSE;
    flow->y += h + 2.0;
    return TRUE;
}

gboolean
flow_sketch(Flow *flow, const char *svg, GError **error)
{
    const Graphics *lib = flow->paper->lib;
    g_autoptr(RsvgHandle) drawing = drawing_load(lib, svg, error);
    if (drawing == NULL)
        return FALSE;
    double w, h;
    drawing_size(lib, drawing, FIELD_WIDTH_MM, &w, &h);
    flow_need(flow, h);
    if (flow->draw &&
        !drawing_render(lib, drawing, flow->paper->cr, PAGE_MARGIN_MM, flow->y, w, h, error))
        return FALSE;
    flow->y += h + 1.5;
    return TRUE;
}

/* Tallest cell of a row; heads are set in bold. */
static double
row_height(Flow *flow, size_t n, const Column column[], char *const cell[])
{
    double height = 0.0;
    for (size_t i = 0; i < n; i++) {
        const char *text = cell != NULL ? cell[i] : column[i].head;
        Font font = cell != NULL ? FONT_TEXT : FONT_BOLD;
        height = fmax(height, set_text(flow, font, 0.0, 0.0, column[i].width_mm - CELL_GAP_MM,
                                       PANGO_ALIGN_LEFT, text, FALSE));
    }
    return height + 1.4;
}

static void
set_row(Flow *flow, size_t n, const Column column[], char *const cell[], double height)
{
    double x = PAGE_MARGIN_MM;
    for (size_t i = 0; i < n; i++) {
        const char *text = cell != NULL ? cell[i] : column[i].head;
        Font font = cell != NULL ? FONT_TEXT : FONT_BOLD;
        set_text(flow, font, x, flow->y + 0.7, column[i].width_mm - CELL_GAP_MM,
                 column[i].number ? PANGO_ALIGN_RIGHT : PANGO_ALIGN_LEFT, text, flow->draw);
        x += column[i].width_mm;
    }
    flow->y += height;
    rule(flow, flow->y, cell != NULL ? 0.1 : 0.3);
}

void
flow_table(Flow *flow, size_t n_columns, const Column column[], size_t n_rows, char *const cell[])
{
    gboolean headed = column[0].head != NULL;
    double head = headed ? row_height(flow, n_columns, column, NULL) : 0.0;
    for (size_t row = 0; row < n_rows; row++) {
        char *const *texts = &cell[row * n_columns];
        double height = row_height(flow, n_columns, column, texts);
        int page = flow->page;
        flow_need(flow, height + (row == 0 ? head : 0.0));
        if (headed && (row == 0 || page != flow->page))
            set_row(flow, n_columns, column, NULL, head);
        set_row(flow, n_columns, column, texts, height);
    }
    flow->y += 2.0;
}
