/* Blocks and texts of a plan or forecast.
 *
 * Invariant: what is handed out lives until the whole is cleared. */
#include "result/work/kept.h"

WorkKept
work_kept_new(void)
{
    return (WorkKept){g_ptr_array_new_with_free_func(g_free), g_string_chunk_new(4096),
                      g_string_sized_new(256)};
}

void
work_kept_clear(WorkKept *kept)
{
    g_ptr_array_unref(kept->blocks);
    g_string_chunk_free(kept->texts);
    g_string_free(kept->scratch, TRUE);
}

void *
work_kept_block(WorkKept *kept, size_t n, size_t size)
{
    void *block = g_malloc0_n(MAX(n, 1), size);
    g_ptr_array_add(kept->blocks, block);
    return block;
}

const char *
work_kept_text(WorkKept *kept, const char *format, va_list args)
{
    g_autofree char *text = g_strdup_vprintf(format, args);
    return g_string_chunk_insert(kept->texts, text); /* few are alike: not worth a look-up */
}
