/* The file that -o names. */
#pragma once

#include <glib.h>
#include <stdbool.h>

/* Whether it may be written: never over the boat file it is made from. Complains. */
bool output_allowed(const char *output, const char *boat_file);
/* The ending of a file name in small letters, without its dot; "" when there is none. g_free. */
char *output_ending(const char *output);
/* Writes the bytes, whole or not at all (a device or pipe straight through), and drops them; with bytes NULL complains of
 * problem. The status. */
int output_bytes(const char *output, GBytes *bytes, GError *problem);
