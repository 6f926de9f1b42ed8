/* How far a method reaches for the numbers it was given. */
#pragma once

typedef enum {
    VALID,        /* inside the range the method was made for */
    EXTRAPOLATED, /* computed, but outside it: shown wherever the number appears */
    REFUSED       /* no number: every output is NAN */
} Validity;

/* "valid", "extrapolated", "refused". */
const char *validity_word(Validity validity);

/* The worse of two. */
Validity validity_worse(Validity a, Validity b);
