/* Blank sheets to take to the boat. */
#pragma once

#include "report/report.h"

#include <glib.h>

/* Ashore, afloat, heel trial, tanks: where to hold the tape, tables to fill in, and how the numbers are typed. boat_name
 * is untrusted text; today is printed when it is given. A4, as a PDF; the same input gives the same bytes. NULL with
 * *error. */
GBytes *write_measuring_sheets(const char *boat_name, Date today, GError **error);
