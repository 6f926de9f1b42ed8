/* Reads back what was drawn: every element with its attributes and text, by GLib's own parser. */
#pragma once

#include <glib.h>

typedef struct {
    char *name, *text; /* text: directly inside */
    GHashTable *attribute;
    char *parent;
} Element;

/* NULL with *problem when the text is not well-formed. Elements in the order of their opening. */
GPtrArray *svg_read(const char *svg, char **problem);
const char *element_get(const Element *element, const char *attribute); /* NULL */
double element_number(const Element *element, const char *attribute);   /* NAN */
