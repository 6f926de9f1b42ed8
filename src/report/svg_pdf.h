/* SVG to PDF at true size, and to PNG. Opens the graphics libraries at the first call. */
#pragma once

#include <glib.h>

typedef struct {
    const char *title; /* of the PDF, or NULL */
    const char
        *created; /* "2027-04-12T00:00:00Z", or NULL: no date. The same text gives the same bytes */
    double margin_mm; /* white around the drawing */
    double width_mm;  /* of a drawing without a size in mm: how wide it becomes; 0: 160 */
} PaperHow;

#define REPORT_ERROR report_error_quark()
GQuark report_error_quark(void);

/* A drawing that states its size in mm keeps it; the page is the drawing and its margin. */
gboolean svg_to_pdf(const char *svg, const PaperHow *how, const char *path, GError **error);
gboolean svg_to_png(const char *svg, int width_px, const char *path, GError **error);
