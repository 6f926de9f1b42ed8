/* What changes the boat: edits of fields, moves, tried remedies, undo and redo, earlier states, the name of who edits. */
#pragma once

#include "app/page/site.h"

/* false: nothing is saved at this address (the part of the path behind the boat's). */
bool saving_answer(Site *site, Desk *desk, Visit *visit, const char *rest);
/* Where a scan is put: a new file in NAME.files/; NULL with *problem. g_free. */
char *saving_scan_place(const Desk *desk, const Visit *visit, char **problem);
void saving_scan_arrived(Site *site, Desk *desk, Visit *visit, const char *file);
