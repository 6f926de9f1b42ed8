/* The one door through which text becomes SVG or HTML: everything is escaped but markup_raw. */
#pragma once

#include <glib.h>

typedef struct Markup Markup;

Markup *markup_new(void);
void markup_free(Markup *markup);
char *markup_steal(Markup *markup); /* the finished text, frees the writer; g_free */
/* Opens <name a="v" ...>; attribute names and values in pairs, ended by NULL; a NULL value leaves the attribute out. */
void markup_open(Markup *markup, const char *name, ...) G_GNUC_NULL_TERMINATED;
void markup_empty(Markup *markup, const char *name, ...) G_GNUC_NULL_TERMINATED; /* <name .../> */
void markup_close(Markup *markup);                  /* the innermost open element */
void markup_text(Markup *markup, const char *text); /* escaped; control characters become U+FFFD */
void markup_element(Markup *markup, const char *name, const char *text, ...) G_GNUC_NULL_TERMINATED;
void markup_raw(Markup *markup, const char *finished); /* finished SVG or HTML only */
/* Coordinate as text with at most three decimals, no exponent, no -0; valid until the sixteenth next call on this writer. */
const char *markup_number(Markup *markup, double value);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Markup, markup_free)
