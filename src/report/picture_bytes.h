/* A picture as the bytes of a file. */
#pragma once

#include <glib.h>

#include "draw/draw.h"

#define PICTURE_ENDINGS "svg", "pdf", "png"

/* ending: one of PICTURE_ENDINGS. As PDF on as many sheets as it takes to be read, else the whole in one. NULL with *error. */
GBytes *picture_bytes(const PictureInfo *info, const void *figure, UnitsChoice units,
                      const char *ending, GError **error);
