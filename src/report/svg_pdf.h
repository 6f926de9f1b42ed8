/* SVG to PDF at true size, and to PNG. Opens the graphics libraries at the first call. */
#pragma once

#include <glib.h>

typedef struct {
    const char *title;   /* of the PDF, or NULL */
    const char *created; /* "2027-04-12T00:00:00", or NULL: 2000-01-01. The same input gives the
                            same bytes */
    double margin_mm;    /* white around the drawing */
    double width_mm;     /* of a drawing that states no size in mm: how wide it becomes; 0: 160 */
    double tallest_mm;   /* what would be taller is made smaller; 0: it stays */
} PaperHow;

#define REPORT_ERROR report_error_quark()
GQuark report_error_quark(void);

/* A page a drawing, the last followed by NULL. One that states its size in mm keeps it; the page is the drawing and its margin.
 * The caller saves the bytes. */
GBytes *svg_to_pdf(const char *const svg[], const PaperHow *how, GError **error);
/* width_px 0: 900. The background is white. */
GBytes *svg_to_png(const char *svg, int width_px, GError **error);
