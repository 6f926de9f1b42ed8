/* What holds, told in few lines: of a question with many equal answers the one nearest to its limit. */
#pragma once

#include "result/result.h"

enum { FINE_TOLD_SINGLY = 3 }; /* more of one question are folded */

/* How many findings of a check are fine, and the one nearest to its limit: least share of the limit to spare; where none has a
 * number, the first. NULL when none is fine. */
const Finding *fine_nearest(const Result *result, const CheckInfo *check, size_t *n);
