/* Converters from one direct voltage to another: a source of its own that draws, at the item it is, what it gives and loses. */
#pragma once

#include "checks/wiring/wiring.h"

bool place_converts(const Place *place);
/* Where it draws: the item that it is; NO_PLACE: not said. */
size_t converter_input(const Wiring *wiring, const Place *converter);
/* It gives unless what it asks for is more than reaches it. */
bool converter_gives(const Wiring *wiring, const Flow *flow, const Place *converter);
/* Takes all of them out of a flow. */
void converters_off(const Wiring *wiring, Flow *flow);
/* From what each gives in a solved flow to what it draws (inverts_W of its item); true when that changed. */
bool converters_draw(const Wiring *wiring, Flow *flow);
