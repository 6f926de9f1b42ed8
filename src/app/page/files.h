/* What can be had as a file: pictures, papers, tables, and the files that the boat file names. */
#pragma once

#include "app/page/site.h"

/* false: no file is had at this address. */
bool files_answer(Site *site, Desk *desk, Visit *visit, const char *rest);
