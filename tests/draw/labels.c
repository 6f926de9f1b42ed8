/* Boxes of ink of all texts. */
#include "labels.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>
#include <pango/pangocairo.h>

#include "svg_read.h"

typedef struct {
    double x0, y0, x1, y1;
    const char *text;
} Label;

/* The wider of the usual fonts that a reader may have; what is measured is the ink, not the line. */
static Label
measured(PangoContext *context, const Element *e)
{
    PangoLayout *layout = pango_layout_new(context);
    PangoFontDescription *font = pango_font_description_from_string("Liberation Sans");
    pango_font_description_set_absolute_size(font, 15 * PANGO_SCALE);
    const char *classes = element_get(e, "class");
    if (strstr(classes, "view-name") || strstr(classes, "key-head") ||
        strstr(classes, "centre-name") || strstr(classes, "board"))
        pango_font_description_set_weight(font, PANGO_WEIGHT_BOLD);
    pango_layout_set_font_description(layout, font);
    pango_layout_set_text(layout, e->text, -1);
    PangoRectangle ink, logical;
    pango_layout_get_pixel_extents(layout, &ink, &logical);
    double base = pango_layout_get_baseline(layout) / (double) PANGO_SCALE;
    const char *anchor = element_get(e, "text-anchor");
    double share = anchor == NULL ? 0.0 : strcmp(anchor, "end") == 0 ? 1.0 : 0.5;
    double x = element_number(e, "x") - share * logical.width, y = element_number(e, "y");
    pango_font_description_free(font);
    g_object_unref(layout);
    return (Label){x + ink.x, y - base + ink.y, x + ink.x + ink.width,
                   y - base + ink.y + ink.height, e->text};
}

static GArray *
labels_of(GPtrArray *elements)
{
    PangoFontMap *map = pango_cairo_font_map_new();
    pango_cairo_font_map_set_resolution(PANGO_CAIRO_FONT_MAP(map), 72.0);
    PangoContext *context = pango_font_map_create_context(map);
    GArray *labels = g_array_new(FALSE, FALSE, sizeof(Label));
    for (guint i = 0; i < elements->len; i++) {
        const Element *e = g_ptr_array_index(elements, i);
        if (strcmp(e->name, "text") != 0)
            continue;
        Label label = measured(context, e);
        g_array_append_val(labels, label);
    }
    g_object_unref(context);
    g_object_unref(map);
    return labels;
}

void
labels_stand_apart(const char *what, GPtrArray *elements)
{
    const double touch = 0.6; /* a pixel of rounding either way */
    double width, height;
    const Element *root = g_ptr_array_index(elements, 0);
    sscanf(element_get(root, "viewBox"), "0 0 %lf %lf", &width, &height);
    g_autoptr(GArray) labels = labels_of(elements);
    for (guint i = 0; i < labels->len; i++) {
        const Label *a = &g_array_index(labels, Label, i);
        if (a->x0 < -0.5 || a->y0 < -0.5 || a->x1 > width + 0.5 || a->y1 > height + 0.5)
            fail_msg("%s: \"%s\" leaves the picture (%g %g %g %g)", what, a->text, a->x0, a->y0,
                     a->x1, a->y1);
        for (guint k = i + 1; k < labels->len; k++) {
            const Label *b = &g_array_index(labels, Label, k);
            if (a->x0 + touch < b->x1 && b->x0 + touch < a->x1 && a->y0 + touch < b->y1 &&
                b->y0 + touch < a->y1)
                fail_msg("%s: \"%s\" stands on \"%s\"", what, a->text, b->text);
        }
    }
}
