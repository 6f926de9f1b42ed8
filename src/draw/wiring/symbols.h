/* Symbols of the wiring's pictures, in the manner of IEC 60617; each about 22 units wide around its middle. */
#pragma once

#include "draw/canvas.h"
#include "result/picture/one_line.h"

#define SYMBOL_HALF 11.0 /* half its width and height */

/* Lines reach it from the left at its middle. */
void draw_symbol(Canvas *canvas, NodeKind kind, double x, double y);
const char *symbol_words(NodeKind kind); /* "battery", "motor" */

/* A fuse or breaker in a line from x0 to x1, which is drawn too, with the classes of the wire. */
void draw_guard(Canvas *canvas, GuardKind kind, const char *wire, double x0, double x1, double y);
/* What stands over it: "10 A", "C16", "none"; "" when nothing is written. g_free. */
char *guard_text(const Guard *guard);
