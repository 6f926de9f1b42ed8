/* How the process keeps its heap.
 * A solve takes and gives back some megabytes. Handed to the system each time, its pages come back empty, one fault each: a fifth
 * of the time of a solve. So up to KEPT_MB stay. Call it once, first thing; where the C library has no such choice nothing is done */
#pragma once

void heap_keep(void);
