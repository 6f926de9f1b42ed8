/* Drawings on paper and on pixels. A unit of length in the SVG is the same length on the paper,
 * unless the drawing states none. */
#include "report/svg_pdf.h"

#include <math.h>
#include <string.h>

#include "report/paper.h"

static cairo_status_t
take_bytes(void *closure, const unsigned char *data, unsigned int length)
{
    g_byte_array_append(closure, data, length);
    return CAIRO_STATUS_SUCCESS;
}

static gboolean
cairo_is_well(const Graphics *lib, cairo_status_t status, GError **error)
{
    if (status == CAIRO_STATUS_SUCCESS)
        return TRUE;
    g_set_error(error, REPORT_ERROR, 0, "drawing failed: %s", lib->cairo_status_to_string(status));
    return FALSE;
}

gboolean
paper_open(Paper *paper, double width_mm, double height_mm, const char *title, const char *created,
           GError **error)
{
    const Graphics *lib = graphics_lib(error);
    if (lib == NULL)
        return FALSE;
    *paper = (Paper){.lib = lib, .bytes = g_byte_array_new()};
    paper->surface = lib->cairo_pdf_surface_create_for_stream(
        take_bytes, paper->bytes, width_mm * POINTS_PER_MM, height_mm * POINTS_PER_MM);
    lib->cairo_pdf_surface_set_metadata(paper->surface, CAIRO_PDF_METADATA_CREATE_DATE,
                                        created != NULL ? created : "2000-01-01T00:00:00");
    g_autofree char *valid = title != NULL ? g_utf8_make_valid(title, -1) : NULL;
    if (valid != NULL)
        lib->cairo_pdf_surface_set_metadata(paper->surface, CAIRO_PDF_METADATA_TITLE, valid);
    paper->cr = lib->cairo_create(paper->surface);
    lib->cairo_scale(paper->cr, POINTS_PER_MM, POINTS_PER_MM);
    return TRUE;
}

GBytes *
paper_close(Paper *paper, GError **error)
{
    const Graphics *lib = paper->lib;
    cairo_status_t drawn = lib->cairo_status(paper->cr);
    lib->cairo_destroy(paper->cr);
    lib->cairo_surface_finish(paper->surface);
    cairo_status_t written = lib->cairo_surface_status(paper->surface);
    lib->cairo_surface_destroy(paper->surface);
    GBytes *bytes = g_byte_array_free_to_bytes(paper->bytes);
    if (cairo_is_well(lib, drawn != CAIRO_STATUS_SUCCESS ? drawn : written, error))
        return bytes;
    g_bytes_unref(bytes);
    return NULL;
}

RsvgHandle *
drawing_load(const Graphics *lib, const char *svg, GError **error)
{
    return lib->rsvg_handle_new_from_data((const guint8 *) svg, strlen(svg), error);
}

/* Millimetres of a length, or NAN when it is no absolute one: a px says nothing about paper. */
static double
millimetres(RsvgLength length)
{
    switch (length.unit) {
    case RSVG_UNIT_MM:
        return length.length;
    case RSVG_UNIT_CM:
        return 10.0 * length.length;
    case RSVG_UNIT_IN:
        return 25.4 * length.length;
    case RSVG_UNIT_PT:
        return length.length / POINTS_PER_MM;
    default:
        return NAN;
    }
}

void
drawing_size(const Graphics *lib, RsvgHandle *drawing, double width_mm, double *w_mm, double *h_mm)
{
    gboolean has_width, has_height, has_box;
    RsvgLength width, height;
    RsvgRectangle box;
    lib->rsvg_handle_get_intrinsic_dimensions(drawing, &has_width, &width, &has_height, &height,
                                              &has_box, &box);
    *w_mm = has_width ? millimetres(width) : NAN;
    *h_mm = has_height ? millimetres(height) : NAN;
    if (isfinite(*w_mm) && isfinite(*h_mm))
        return;
    double shape = has_box && box.width > 0.0 ? box.height / box.width : 1.0;
    *w_mm = width_mm;
    *h_mm = width_mm * shape;
}

gboolean
drawing_render(const Graphics *lib, RsvgHandle *drawing, cairo_t *cr, double x, double y, double w,
               double h, GError **error)
{
    RsvgRectangle whole = {x, y, w, h};
    return lib->rsvg_handle_render_document(drawing, cr, &whole, error);
}

/* On the page that is open. */
static gboolean
draw_page(Paper *paper, const char *svg, const PaperHow *how, double w, double h, GError **error)
{
    g_autoptr(RsvgHandle) drawing = drawing_load(paper->lib, svg, error);
    return drawing != NULL && drawing_render(paper->lib, drawing, paper->cr, how->margin_mm,
                                             how->margin_mm, w, h, error);
}

/* All pages are of the first one's size. */
GBytes *
svg_to_pdf(const char *const svg[], const PaperHow *how, GError **error)
{
    const Graphics *lib = graphics_lib(error);
    g_autoptr(RsvgHandle) first = lib != NULL ? drawing_load(lib, svg[0], error) : NULL;
    if (first == NULL)
        return NULL;
    double w, h, margin = how->margin_mm;
    drawing_size(lib, first, how->width_mm > 0.0 ? how->width_mm : 160.0, &w, &h);
    double shrink = how->tallest_mm > 0.0 ? fmin(1.0, how->tallest_mm / h) : 1.0;
    w *= shrink;
    h *= shrink;
    Paper paper;
    if (!paper_open(&paper, w + 2 * margin, h + 2 * margin, how->title, how->created, error))
        return NULL;
    gboolean drawn = TRUE;
    for (size_t i = 0; drawn && svg[i] != NULL; i++) {
        if (i > 0)
            lib->cairo_show_page(paper.cr);
        drawn = draw_page(&paper, svg[i], how, w, h, error);
    }
    GBytes *bytes = paper_close(&paper, drawn ? error : NULL);
    if (!drawn)
        g_clear_pointer(&bytes, g_bytes_unref);
    return bytes;
}

GBytes *
svg_to_png(const char *svg, int width_px, GError **error)
{
    const Graphics *lib = graphics_lib(error);
    if (lib == NULL)
        return NULL;
    g_autoptr(RsvgHandle) drawing = drawing_load(lib, svg, error);
    if (drawing == NULL)
        return NULL;
    double w = width_px > 0 ? width_px : 900, wide, high;
    drawing_size(lib, drawing, w, &wide, &high);
    double h = ceil(w * high / wide);
    cairo_surface_t *surface =
        lib->cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int) w, (int) h);
    cairo_t *cr = lib->cairo_create(surface);
    lib->cairo_set_source_rgb(cr, 1.0, 1.0, 1.0);
    lib->cairo_paint(cr);
    gboolean drawn = drawing_render(lib, drawing, cr, 0.0, 0.0, w, h, error);
    cairo_status_t status = lib->cairo_status(cr);
    lib->cairo_destroy(cr);
    GByteArray *bytes = g_byte_array_new();
    if (status == CAIRO_STATUS_SUCCESS)
        status = lib->cairo_surface_write_to_png_stream(surface, take_bytes, bytes);
    lib->cairo_surface_destroy(surface);
    if (drawn && cairo_is_well(lib, status, error))
        return g_byte_array_free_to_bytes(bytes);
    g_byte_array_unref(bytes);
    return NULL;
}
