/* A boat with more circuits than anybody has, named in every script and with markup, some of them hardly known. */
#pragma once

#include <glib.h>

/* Its file, without errors. The same seed gives the same text; g_free. */
char *wild_boat(unsigned circuits, guint32 seed);
