/* Where a number or a rule comes from, and how far it may be trusted. */
#pragma once

typedef enum {
    STANDING_DERIVED,   /* mechanics, derived and checked here */
    STANDING_READ,      /* seen in the named publication */
    STANDING_SECONDARY, /* seen quoted in another publication */
    STANDING_OWNER,     /* the owner states what he read, with document and date */
    STANDING_PRACTICE,  /* common practice, no source */
    STANDING_MEMORY     /* recalled: may warn, can never show that a rule is met */
} Standing;

typedef struct {
    const char *text;
    Standing standing;
} Source;

/* A published method as data: the formula as printed in the working (plain notation: + - * / ^,
 * named functions, no implied product) and its source. */
typedef struct {
    const char *name;
    const char *formula;
    Source source;
} Method;

/* "derived", "read", "read-2nd", "owner", "practice", "memory". */
const char *standing_word(Standing standing);

/* The less trustworthy of two. */
Standing standing_worse(Standing a, Standing b);
