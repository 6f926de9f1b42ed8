/* A scan or drawing of the hull (STL, OBJ, PLY) as stations of the boat file: what was made of it, with the reasons, and
 * the edits that would write it down. Nothing is read or written here but memory. */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "boat/edit.h"

typedef struct {
    double length_m, unit_m; /* NAN: not said */
    int up, forward;         /* axes of the file with their sign: 1 x, 2 y, 3 z; 0: not said */
    size_t stations;         /* 0: 21 */
} ScanHints;

typedef struct {
    char *told;    /* what was proposed, for the owner to confirm */
    bool sure;     /* nothing is doubtful */
    GArray *edits; /* Edit; texts are owned by the scan */
    GPtrArray *texts;
} Scan;

/* NULL with *problem (g_free). boat_text tells which stations stand there already: they are removed by the edits. */
Scan *scan_read(const void *data, gsize size, const ScanHints *hints, const char *boat_text,
                gsize boat_length, char **problem);
void scan_free(Scan *scan);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Scan, scan_free)
