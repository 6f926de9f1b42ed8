/* Memory of plain C: cleared, and never NULL, for running out of it ends the program. */
#pragma once

#include <stddef.h>
#include <stdlib.h>

static inline void *
fresh(size_t n, size_t size)
{
    void *memory = calloc(n > 0 ? n : 1, size);
    if (memory == NULL)
        abort();
    return memory;
}
