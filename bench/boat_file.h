/* The boat file that a timing is run on. */
#pragma once

#include <stdio.h>

#include "study/plan.h"

/* NULL, and told, when argv names no file that is a boat; *read holds its text (g_free). */
static inline Boat *
boat_of_argument(int argc, char *argv[], PlanText *text, char **read)
{
    g_autoptr(GError) error = NULL;
    if (argc != 2 || !g_file_get_contents(argv[1], read, &text->length, &error)) {
        fprintf(stderr, "usage: %s FILE\n", argv[0]);
        return NULL;
    }
    text->text = *read;
    Boat *boat = plan_boat(text, &error);
    if (boat == NULL)
        fprintf(stderr, "%s\n", error->message);
    return boat;
}
