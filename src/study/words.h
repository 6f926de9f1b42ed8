/* Names of records in the owner's words, for what study says itself. */
#pragma once

#include "boat/boat.h"

/* Its `what`, else its id with blanks; g_free. */
char *study_name(const Record *record);
