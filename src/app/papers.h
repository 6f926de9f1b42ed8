/* The papers to be had by name (report's paper_table), written from a boat. */
#pragma once

#include "app/load.h"
#include "report/sheet.h"

/* A PDF. name is one of paper_table; today year 0: without a day. NULL with *error. */
GBytes *paper_write(const char *name, const Loaded *loaded, Date today, GError **error);
/* The same as a table, CSV, of a paper that has one. */
GBytes *paper_table_write(const char *name, const Loaded *loaded, Date today);
