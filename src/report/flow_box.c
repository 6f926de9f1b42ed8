/* Boxes and the text fitted into them.
 * Invariant: nothing is drawn outside its box. */
#include "report/flow_box.h"

#include <string.h>

#define LEAST_PT 4.5 /* smaller print is not read in a bilge */
#define STEP_PT 0.5

static void
stroke(Flow *flow, BoxLook look)
{
    static const double dashes[] = {1.6, 1.0};
    const Graphics *lib = flow->paper->lib;
    cairo_t *cr = flow->paper->cr;
    lib->cairo_set_source_rgb(cr, 0.0, 0.0, 0.0);
    lib->cairo_set_line_width(cr, 0.2);
    lib->cairo_set_dash(cr, dashes, look == BOX_CUT ? 2 : 0, 0.0);
    lib->cairo_stroke(cr);
    lib->cairo_set_dash(cr, dashes, 0, 0.0);
}

void
box_rule(Flow *flow, double x1, double y1, double x2, double y2, BoxLook look)
{
    if (!flow->draw)
        return;
    flow->paper->lib->cairo_move_to(flow->paper->cr, x1, y1);
    flow->paper->lib->cairo_line_to(flow->paper->cr, x2, y2);
    stroke(flow, look);
}

/* Sides from the left and from above, so that the dashes of neighbours fall together. */
void
box_frame(Flow *flow, Box box, BoxLook look)
{
    double right = box.x + box.w, foot = box.y + box.h;
    box_rule(flow, box.x, box.y, right, box.y, look);
    box_rule(flow, box.x, foot, right, foot, look);
    box_rule(flow, box.x, box.y, box.x, foot, look);
    box_rule(flow, right, box.y, right, foot, look);
}

static PangoLayout *
layout_new(Flow *flow, const Box *box, gboolean bold, double pt, PangoWrapMode wrap,
           const char *text)
{
    const Graphics *lib = flow->paper->lib;
    PangoLayout *layout = lib->pango_layout_new(flow->context);
    g_autofree char *words = g_strdup_printf("%s%s %.1f", FLOW_FAMILY, bold ? " Bold" : "", pt);
    PangoFontDescription *font = lib->pango_font_description_from_string(words);
    lib->pango_layout_set_font_description(layout, font);
    lib->pango_font_description_free(font);
    lib->pango_layout_set_width(layout, (int) (box->w * POINTS_PER_MM * PANGO_SCALE));
    lib->pango_layout_set_wrap(layout, wrap);
    lib->pango_layout_set_text(layout, text, -1);
    return layout;
}

static double
height_mm(Flow *flow, PangoLayout *layout, double *width_mm)
{
    int wide, high;
    flow->paper->lib->pango_layout_get_size(layout, &wide, &high);
    *width_mm = (double) wide / PANGO_SCALE / POINTS_PER_MM;
    return (double) high / PANGO_SCALE / POINTS_PER_MM;
}

static gboolean
fits(Flow *flow, PangoLayout *layout, const Box *box)
{
    double wide, high = height_mm(flow, layout, &wide);
    return wide <= box->w + 0.01 && high <= box->h + 0.01;
}

/* In the smallest print, words broken where they must, the end left off where even that is too much. */
static PangoLayout *
shortened(Flow *flow, const Box *box, gboolean bold, const char *text)
{
    glong length = g_utf8_strlen(text, -1), low = 0;
    PangoLayout *layout = layout_new(flow, box, bold, LEAST_PT, PANGO_WRAP_WORD_CHAR, text);
    if (fits(flow, layout, box))
        return layout;
    while (length - low > 1) {
        glong half = low + (length - low) / 2;
        g_autofree char *part = g_utf8_substring(text, 0, half);
        g_autofree char *cut = g_strconcat(part, "\u2026", NULL);
        flow->paper->lib->pango_layout_set_text(layout, cut, -1);
        *(fits(flow, layout, box) ? &low : &length) = half;
    }
    g_autofree char *part = g_utf8_substring(text, 0, low);
    g_autofree char *cut = g_strconcat(part, "\u2026", NULL);
    flow->paper->lib->pango_layout_set_text(layout, cut, -1);
    return layout;
}

static PangoLayout *
fitted(Flow *flow, const Box *box, gboolean bold, double most_pt, const char *text)
{
    for (double pt = most_pt; pt >= LEAST_PT; pt -= STEP_PT) {
        PangoLayout *layout = layout_new(flow, box, bold, pt, PANGO_WRAP_WORD, text);
        if (fits(flow, layout, box))
            return layout;
        g_object_unref(layout);
    }
    return shortened(flow, box, bold, text);
}

void
box_text(Flow *flow, Box box, gboolean bold, double most_pt, const char *text)
{
    if (!flow->draw)
        return;
    const Graphics *lib = flow->paper->lib;
    cairo_t *cr = flow->paper->cr;
    g_autofree char *valid = g_utf8_make_valid(text, -1);
    PangoLayout *layout = fitted(flow, &box, bold, most_pt, valid);
    double wide, high = height_mm(flow, layout, &wide);
    lib->cairo_save(cr);
    lib->cairo_set_source_rgb(cr, 0.0, 0.0, 0.0);
    lib->cairo_translate(cr, box.x, box.y + (box.h - high) / 2.0);
    lib->cairo_scale(cr, 1.0 / POINTS_PER_MM, 1.0 / POINTS_PER_MM);
    lib->cairo_move_to(cr, 0.0, 0.0);
    lib->pango_cairo_show_layout(cr, layout);
    lib->cairo_restore(cr);
    g_object_unref(layout);
}
