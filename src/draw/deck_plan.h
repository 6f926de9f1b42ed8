/* The deck seen from above, bow to the right: what several pictures of things aboard are drawn on. */
#pragma once

#include "draw/views.h"

typedef struct {
    size_t points; /* outline of the hull, aft to forward; 0: not known */
    const double *x_m, *y_m;
} DeckOutline;

/* Takes both sides of the outline into the extent. */
void deck_take(Extent *extent, const DeckOutline *deck);
/* One scale both ways, in the middle of the sheet, with a margin for tags around it. */
Frame deck_frame(const Canvas *canvas, const Extent *extent, double top, double margin);
void deck_draw(Canvas *canvas, const Frame *frame, const DeckOutline *deck);
