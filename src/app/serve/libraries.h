/* libsoup and libqrencode behind one table, opened when a page is served: linked, they cost every other command 2 ms. */
#pragma once

#include <gio/gio.h>
#include <libsoup/soup.h>
#include <qrencode.h>
#include <stdbool.h>

typedef struct {
#define LIBRARY(library, function) __typeof__(function) *function;
#include "app/serve/libraries.def"
#undef LIBRARY
} Libraries;

/* Filled by libraries_open, which server_new and whoever draws a code call first. */
extern Libraries lib;
bool libraries_open(GError **error);
