/* What one text of a boat file says otherwise than another. */
#pragma once

#include "store/store.h"

/* Edited, in the order of the text, at most `most` of them; *more: there were others. NULL when one
 * of the texts cannot be read. */
GPtrArray *differences(const char *before, gsize before_length, const char *after,
                       gsize after_length, guint most, bool *more);
