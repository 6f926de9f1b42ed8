/* libical and libxlsxwriter behind one table, opened at the first calendar or workbook: libical alone draws in 30 MB of Unicode
 * tables that no check needs. */
#pragma once

#include <libical/ical.h>
#include <xlsxwriter.h>

#include <glib.h>

typedef struct {
#define OFFICE(library, function) __typeof__(function) *function;
#include "report/office.def"
#undef OFFICE
} Office;

/* NULL with *error when a library or a function is not there. Safe from any thread. */
const Office *office_lib(GError **error);
