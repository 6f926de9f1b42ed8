/* The papers to be had by name (report's paper_table), written from a boat. */
#pragma once

#include "app/load.h"
#include "report/sheet.h"

/* Its bytes with that ending. name and ending are of paper_table (paper_ends); today year 0: without a day. NULL with *error. */
GBytes *paper_write(const char *name, const char *ending, const Loaded *loaded, Date today,
                    GError **error);
