/* The style sheet of pictures with the colours written out, for readers of SVG that know no
 * variables. */
#pragma once

#include "draw/draw.h"

char *style_plain(Palette palette); /* g_free */
