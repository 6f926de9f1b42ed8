/* The error domain of the store. Invariant: every message names the file it is about. */
#include "store/error.h"

#include <errno.h>

G_DEFINE_QUARK(store - error, store_error)

gboolean
store_error_system(GError **error, StoreError code, const char *file, const char *doing)
{
    int number = errno;
    g_autofree char *shown = g_filename_display_name(file);
    g_set_error(error, STORE_ERROR, code, "%s: %s: %s", shown, doing, g_strerror(number));
    return FALSE;
}
