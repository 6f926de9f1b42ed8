/* Blocks and texts of a picture.
 * Invariant: what is handed out lives as long as the store's blocks. */
#include "checks/figure_store.h"

#include "boat/model.h"

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

const char *
figure_situation(FigureStore *store, const Boat *boat, const char *id)
{
    const Record *record = boat_find(boat, &section_situations, id);
    const char *what = record != NULL ? ((const Situation *) record->data)->what : NULL;
    if (what != NULL)
        return figure_text(store, "%s", what);
    g_autofree char *words = g_strdelimit(g_strdup(id), "-", ' ');
    return figure_text(store, "%s", words);
}
