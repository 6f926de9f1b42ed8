/* Invariant: only how soon memory goes back to the system changes. */
#include "base/heap.h"

#include <malloc.h>

enum { KEPT_MB = 16 };

void
heap_keep(void)
{
#ifdef M_TRIM_THRESHOLD
    mallopt(M_TRIM_THRESHOLD, KEPT_MB << 20);
    mallopt(M_TOP_PAD, 1 << 20);
    mallopt(M_MMAP_THRESHOLD, KEPT_MB << 20);
#endif
}
