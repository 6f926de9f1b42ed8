/* dlopen and dlsym. A library stays open: the types it registered do. */
#include "base/library.h"

#include <dlfcn.h>
#include <glib.h>

bool
library_open(const char *what, size_t n_sonames, const char *const sonames[], size_t n,
             const LibraryFunction functions[], void *table, char **problem)
{
    g_autofree void **handle = g_new0(void *, n_sonames);
    for (size_t i = 0; i < n_sonames; i++) {
        handle[i] = dlopen(sonames[i], RTLD_NOW | RTLD_GLOBAL);
        if (handle[i] == NULL) {
            *problem = g_strdup_printf("%s need the library %s: %s", what, sonames[i], dlerror());
            return false;
        }
    }
    for (size_t i = 0; i < n; i++) {
        void *found = dlsym(handle[functions[i].library], functions[i].name);
        if (found == NULL) {
            *problem = g_strdup_printf("%s is too old: it has no %s", sonames[functions[i].library],
                                       functions[i].name);
            return false;
        }
        *(void **) ((char *) table + functions[i].offset) = found;
    }
    return true;
}
