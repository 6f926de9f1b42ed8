/* A formula of the plain notation as a tree: + - * / ^, brackets, functions, `left = right`, several parted by `;`. */
#pragma once

#include <glib.h>
#include <stdbool.h>

typedef enum {
    TERM_NUMBER,
    TERM_NAME,
    TERM_CALL,    /* text is the function, parts its arguments */
    TERM_MINUS,   /* of one part */
    TERM_SUM,     /* parts joined by + and - */
    TERM_PRODUCT, /* parts joined by * and / */
    TERM_POWER,   /* base and exponent */
    TERM_EQUATION /* parts joined by =; one part alone is an expression */
} TermType;

typedef struct Term Term;
struct Term {
    TermType type;
    char join; /* what stands before it among its sisters: + - * / = ^ or , ; 0 for the first */
    const char *text; /* of a number, a name or a function; not ended */
    gsize length;
    Term *part; /* the first of its parts */
    Term *next; /* the next sister */
};

typedef struct Formula Formula;

/* NULL: the text is no formula. It is borrowed and must outlive the tree. */
Formula *formula_parse(const char *text);
void formula_free(Formula *formula);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Formula, formula_free)
const Term *formula_equations(const Formula *formula); /* the first; the others are its sisters */
bool term_says(const Term *term, const char *word);    /* of a number, a name or a function */

/* A name that numbers_put_in writes where a number is missing. */
#define NOT_KNOWN "not known"
