/* Blocks and texts of a picture.
 * Invariant: what is handed out lives as long as the store's blocks. */
#include "checks/figure_store.h"

void *
figure_block(FigureStore *store, gsize size)
{
    void *block = g_malloc0(MAX(size, 1));
    g_ptr_array_add(store->blocks, block);
    return block;
}

const char *
figure_text(FigureStore *store, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    char *text = g_strdup_vprintf(format, arguments);
    va_end(arguments);
    g_ptr_array_add(store->blocks, text);
    return text;
}
