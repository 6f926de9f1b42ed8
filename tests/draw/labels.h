/* Whether the texts of a picture can be read: measured by Pango, not by the estimate they were placed with. */
#pragma once

#include <glib.h>

/* Fails the test, naming what is looked at, when a text stands on another or leaves the picture. elements: of svg_read. */
void labels_stand_apart(const char *what, GPtrArray *elements);
