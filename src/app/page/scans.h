/* Scans of the hull that lie in NAME.files/ beside the boat file. */
#pragma once

#include "app/page/desk.h"
#include "app/serve/params.h"
#include "study/scan.h"

char *scans_folder(const Desk *desk); /* whether or not it is there; g_free */
/* STL, OBJ and PLY that lie there, sorted; char *, freed with the array. */
GPtrArray *scans_list(const Desk *desk);
/* What is made of one of them with the hints of a form (length, unit, up, forward); NULL with *problem. */
Scan *scan_of_desk(const Desk *desk, const char *name, const Edition *edition, const Params *hints,
                   char **problem);
