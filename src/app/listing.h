/* What can be had by name: pictures, papers. */
#pragma once

#include "app/command_line.h"

typedef struct {
    const char *name, *title, *what;
    const char *of; /* one "device" may be named behind a point; or NULL */
} Listed;

/* A line each, or JSON: an object whose member key lists them. */
void listing_write(const CommandLine *line, const char *key, size_t n, const Listed listed[],
                   GString *out);
/* Complains that there is no such picture (what), with the nearest name; the status. */
int listing_lacks(const char *what, const char *name, size_t n, const Listed listed[]);
