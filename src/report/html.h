/* What every piece of a page is told by whoever writes the page. */
#pragma once

#include "base/markup.h"
#include "report/report.h"

typedef struct {
    UnitsChoice units;
    /* Where the field of a path is changed, and where the working of an answer or finding is shown: the target of a link,
     * g_free; either function may be NULL, and so may what it returns: no link. */
    char *(*field_link)(const void *context, const char *path);
    char *(*why_link)(const void *context, const char *name);
    const void *context;
    /* Where the page bears the title already: 2 or 3, the rank of the headings of the parts. 0: a title of rank 2 above parts
     * of rank 3. */
    int parts_rank;
} HtmlHow;
