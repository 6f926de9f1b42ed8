/* The table is filled once, before any thread but the first needs it. */
#include "app/serve/libraries.h"

#include "base/library.h"

typedef enum { SOUP, QR, N_LIBRARIES } Library;

static const char *const sonames[N_LIBRARIES] = {"libsoup-3.0.so.0", "libqrencode.so.4"};

static const LibraryFunction functions[] = {
#define LIBRARY(library, function) {library, #function, offsetof(Libraries, function)},
#include "app/serve/libraries.def"
#undef LIBRARY
};

Libraries lib;

bool
libraries_open(GError **error)
{
    static gsize once;
    static char *problem;
    if (g_once_init_enter(&once)) {
        library_open("pages", N_LIBRARIES, sonames, G_N_ELEMENTS(functions), functions, &lib,
                     &problem);
        g_once_init_leave(&once, 1);
    }
    if (problem == NULL)
        return true;
    g_set_error_literal(error, G_IO_ERROR, G_IO_ERROR_NOT_SUPPORTED, problem);
    return false;
}
