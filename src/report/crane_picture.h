/* Her outline from the side, hanging in two slings. */
#pragma once

#include "result/picture/arrangement.h"

typedef struct {
    double x_m;       /* NAN: not known, and not drawn */
    const char *name; /* "aft sling" */
    const char *load; /* in the reader's units, or NULL */
} CraneSling;

/* SVG as wide as the text field; NULL when the arrangement has no outline. lcg_m NAN: no centre is drawn. g_free. */
char *crane_picture(const ArrangementPicture *arrangement, const CraneSling sling[2], double lcg_m);
