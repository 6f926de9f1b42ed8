/* Arrays and texts that a plan or a forecast of the work owns. */
#pragma once

#include <glib.h>

typedef struct {
    GPtrArray *blocks;
    GStringChunk *texts;
    GString *scratch; /* where a text is put together */
} WorkKept;

WorkKept work_kept_new(void);
void work_kept_clear(WorkKept *kept);                         /* frees all of them */
void *work_kept_block(WorkKept *kept, size_t n, size_t size); /* zeroed */
const char *work_kept_text(WorkKept *kept, const char *format, va_list args);
