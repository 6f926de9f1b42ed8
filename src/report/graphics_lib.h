/* librsvg, cairo and Pango behind one table, opened at the first call: see README.md for what
 * linking them would cost. */
#pragma once

#include <cairo-pdf.h>
#include <librsvg/rsvg.h>
#include <pango/pangocairo.h>

typedef struct {
#define GRAPHICS(library, function) __typeof__(function) *function;
#include "report/graphics.def"
#undef GRAPHICS
} Graphics;

/* NULL with *error when a library or a function is not there. Safe from any thread. */
const Graphics *graphics_lib(GError **error);
