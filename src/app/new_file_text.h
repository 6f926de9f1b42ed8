/* The text of a new boat file. */
#pragma once

#include "app/questions.h"

/* Only what was answered, and guesses that are marked as such. Not yet read back: a wrong answer stands in it as typed.
 * NULL with *problem (question's id first, g_free) when an answer holds bytes that no boat file may hold. g_free. */
char *new_file_text(const Replies *answers, const char *fallback_name, UnitsChoice units,
                    char **problem);
