/* A PDF in the making: millimetres on a surface that ends as bytes. Shared by single drawings and
 * papers. */
#pragma once

#include "report/graphics_lib.h"

#define POINTS_PER_MM (72.0 / 25.4)

typedef struct {
    const Graphics *lib;
    GByteArray *bytes;
    cairo_surface_t *surface;
    cairo_t *cr; /* millimetres, y down */
} Paper;

gboolean paper_open(Paper *paper, double width_mm, double height_mm, const char *title,
                    const char *created, GError **error);
/* Ends the document; NULL with *error when cairo failed anywhere. Frees the paper. */
GBytes *paper_close(Paper *paper, GError **error);

/* A drawing, and how large it is: in mm, or as wide as asked where it states no size. */
RsvgHandle *drawing_load(const Graphics *lib, const char *svg, GError **error);
void drawing_size(const Graphics *lib, RsvgHandle *drawing, double width_mm, double *w_mm,
                  double *h_mm);
gboolean drawing_render(const Graphics *lib, RsvgHandle *drawing, cairo_t *cr, double x, double y,
                        double w, double h, GError **error);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(RsvgHandle, g_object_unref)
