/* Reads a text that is wrong and looks for one complaint. */
#pragma once

#include <stddef.h>

#include <glib.h>

typedef struct {
    const char *name;
    const char *text;
    unsigned line;      /* of the complaint; 0: none in the text */
    const char *says;   /* part of it */
    const char *option; /* chosen, or NULL */
} Bad;

void expect_complaint(const Bad *bad, const char *text, gsize length);
void expect_complaints(size_t n, const Bad bad[]); /* all are tried before it fails */
