/* Words and order of Standing. */
#include "base/source.h"

const char *
standing_word(Standing standing)
{
    static const char *const words[] = {"derived", "read",     "read-2nd",
                                        "owner",   "practice", "memory"};
    return words[standing];
}

Standing
standing_worse(Standing a, Standing b)
{
    return a > b ? a : b;
}
