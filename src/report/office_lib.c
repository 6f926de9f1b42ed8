/* Opens the libraries once and for good. */
#include "report/office_lib.h"

#include "base/library.h"
#include "report/svg_pdf.h"

typedef enum { ICAL, XLSX, N_LIBRARIES } Library;

static const char *const sonames[N_LIBRARIES] = {"libical.so.3", "libxlsxwriter.so.4"};

static const LibraryFunction functions[] = {
#define OFFICE(library, function) {library, #function, offsetof(Office, function)},
#include "report/office.def"
#undef OFFICE
};

static Office table;
static char *problem;

const Office *
office_lib(GError **error)
{
    static gsize once;
    if (g_once_init_enter(&once)) {
        library_open("calendars and workbooks", N_LIBRARIES, sonames, G_N_ELEMENTS(functions),
                     functions, &table, &problem);
        g_once_init_leave(&once, 1);
    }
    if (problem == NULL)
        return &table;
    g_set_error_literal(error, REPORT_ERROR, 0, problem);
    return NULL;
}
