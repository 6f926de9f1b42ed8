/* The QR code of an address: for the terminal as blocks, for a page as SVG. */
#pragma once

#include <stdbool.h>

#include "base/markup.h"

char *qr_blocks(
    const char *
        text); /* lines of UTF-8, two modules a letter, dark on light; NULL when too long; g_free */
/* <svg class="qr"> with that accessible name; false: too long, nothing written. */
bool qr_svg(Markup *markup, const char *text, const char *title);
