/* What a circuit is called, what its ends are, and whether it carries mains. */
#pragma once

#include "boat/boat.h"

/* As printed at both ends: what the owner typed, else its place in the file; where another circuit bears that already, a letter
 * follows. The same from run to run, whatever is aboard. g_free. */
char *circuit_label(const Boat *boat, const Record *circuit);
/* Busbar, source or item of that id; NULL: there is none. */
const Record *circuit_end(const Boat *boat, const char *id);
/* Both ends are there at the stage. */
bool circuit_aboard(const Boat *boat, const Record *circuit, Stage stage);
/* Mains voltage reaches the end it is fed from. */
bool circuit_is_mains(const Boat *boat, const Record *circuit);
