/* A drawn network for a circuit simulator to solve too. */
#pragma once

#include <stdio.h>

#include "network_draft.h"

/* Elements and a start for each node; the caller adds what is to be done with it. Chargers have no such form: aborts. */
void netlist_print(FILE *out, const Draft *draft, const char *title);
