/* Opens the libraries once and for good: their types stay registered, so they are never closed. */
#include "report/graphics_lib.h"

#include "base/library.h"
#include "report/svg_pdf.h"

typedef enum { RSVG, CAIRO, PANGO, PANGOCAIRO, N_LIBRARIES } Library;

static const char *const sonames[N_LIBRARIES] = {"librsvg-2.so.2", "libcairo.so.2",
                                                 "libpango-1.0.so.0", "libpangocairo-1.0.so.0"};

static const LibraryFunction functions[] = {
#define GRAPHICS(library, function) {library, #function, offsetof(Graphics, function)},
#include "report/graphics.def"
#undef GRAPHICS
};

static Graphics table;
static char *problem;

GQuark
report_error_quark(void)
{
    return g_quark_from_static_string("careen-report-error");
}

const Graphics *
graphics_lib(GError **error)
{
    static gsize once;
    if (g_once_init_enter(&once)) {
        library_open("pictures", N_LIBRARIES, sonames, G_N_ELEMENTS(functions), functions, &table,
                     &problem);
        g_once_init_leave(&once, 1);
    }
    if (problem == NULL)
        return &table;
    g_set_error_literal(error, REPORT_ERROR, 0, problem);
    return NULL;
}
