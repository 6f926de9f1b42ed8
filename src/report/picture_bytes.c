/* Pictures as files: what the command and the page hand out is the same.
 * Invariant: a sheet of paper bears print that can be read; a screen shows the whole and can be enlarged. */
#include "report/picture_bytes.h"

#include <string.h>

#include "report/svg_pdf.h"

enum { PNG_WIDTH_px = 1600 };
#define A4_FIELD_MM 277.0 /* between margins of 10 mm, upright */

static GBytes *
paper_bytes(const PictureInfo *info, const void *figure, DrawHow how, GError **error)
{
    g_autoptr(GPtrArray) pages = g_ptr_array_new_with_free_func(g_free);
    unsigned sheets = picture_sheets(info, figure, &how);
    for (unsigned sheet = 1; sheet <= sheets; sheet++) {
        how.sheet = sheets > 1 ? sheet : 0;
        g_ptr_array_add(pages, picture_file(info, figure, &how, PALETTE_PRINT));
    }
    g_ptr_array_add(pages, NULL);
    PaperHow paper = {.title = info->title, .margin_mm = 10.0, .tallest_mm = A4_FIELD_MM};
    return svg_to_pdf((const char *const *) pages->pdata, &paper, error);
}

GBytes *
picture_bytes(const PictureInfo *info, const void *figure, UnitsChoice units, const char *ending,
              GError **error)
{
    DrawHow how = {.prefix = "picture", .units = units};
    if (strcmp(ending, "pdf") == 0)
        return paper_bytes(info, figure, how, error);
    char *svg = picture_file(info, figure, &how, PALETTE_SCREEN);
    if (strcmp(ending, "png") != 0)
        return g_bytes_new_take(svg, strlen(svg));
    GBytes *bytes = svg_to_png(svg, PNG_WIDTH_px, error);
    g_free(svg);
    return bytes;
}
