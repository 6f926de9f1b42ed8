/* Opens the libraries once and for good: their types stay registered, so they are never closed. */
#include "report/graphics_lib.h"

#include <dlfcn.h>

#include "report/svg_pdf.h"

typedef enum { RSVG, CAIRO, PANGO, PANGOCAIRO, N_LIBRARIES } Library;

static const char *const sonames[N_LIBRARIES] = {"librsvg-2.so.2", "libcairo.so.2",
                                                 "libpango-1.0.so.0", "libpangocairo-1.0.so.0"};

static const struct {
    Library library;
    const char *name;
    size_t offset;
} functions[] = {
#define GRAPHICS(library, function) {library, #function, offsetof(Graphics, function)},
#include "report/graphics.def"
#undef GRAPHICS
};

static Graphics table;
static char *problem;

static void
open_all(void)
{
    void *handle[N_LIBRARIES];
    for (int i = 0; i < N_LIBRARIES; i++) {
        handle[i] = dlopen(sonames[i], RTLD_NOW | RTLD_GLOBAL);
        if (handle[i] == NULL) {
            problem = g_strdup_printf("pictures need the library %s: %s", sonames[i], dlerror());
            return;
        }
    }
    for (size_t i = 0; i < G_N_ELEMENTS(functions); i++) {
        void *found = dlsym(handle[functions[i].library], functions[i].name);
        if (found == NULL) {
            problem = g_strdup_printf("%s is too old: it has no %s", sonames[functions[i].library],
                                      functions[i].name);
            return;
        }
        *(void **) ((char *) &table + functions[i].offset) = found;
    }
}

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
        open_all();
        g_once_init_leave(&once, 1);
    }
    if (problem == NULL)
        return &table;
    g_set_error_literal(error, REPORT_ERROR, 0, problem);
    return NULL;
}
