/* Words and order of Validity. */
#include "base/validity.h"

const char *
validity_word(Validity validity)
{
    static const char *const words[] = {"valid", "extrapolated", "refused"};
    return words[validity];
}

Validity
validity_worse(Validity a, Validity b)
{
    return a > b ? a : b;
}
