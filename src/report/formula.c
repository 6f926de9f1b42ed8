/* Reading the plain notation. Depth is bounded, so that no text can exhaust the stack; brackets are
 * gone in the tree, whoever writes it sets those that are needed. */
#include "report/formula.h"

#include <string.h>

#include "report/scan_symbols.h"

enum { DEEPEST = 60 };

struct Formula {
    GPtrArray *terms; /* owns all */
    Term *equations;
};

typedef struct {
    Formula *formula;
    const char *at;
    int depth;
} Reader;

static Term *read_sum(Reader *reader);

void
formula_free(Formula *formula)
{
    if (formula == NULL)
        return;
    g_ptr_array_unref(formula->terms);
    g_free(formula);
}

const Term *
formula_equations(const Formula *formula)
{
    return formula->equations;
}

bool
term_says(const Term *term, const char *word)
{
    return term->length == strlen(word) && strncmp(term->text, word, term->length) == 0;
}

static Term *
term_new(Reader *reader, TermType type, const char *text, gsize length)
{
    Term *term = g_new0(Term, 1);
    *term = (Term){.type = type, .text = text, .length = length};
    g_ptr_array_add(reader->formula->terms, term);
    return term;
}

/* Behind the blanks; 0 at the end. */
static char
peek(Reader *reader)
{
    reader->at += strspn(reader->at, " ");
    return *reader->at;
}

static bool
take(Reader *reader, char wanted)
{
    if (peek(reader) != wanted)
        return false;
    reader->at++;
    return true;
}

static gsize
number_length(const char *at)
{
    static const char digits[] = "0123456789";
    gsize length = strspn(at, digits);
    if (length > 0 && at[length] == '.')
        length += 1 + strspn(at + length + 1, digits);
    if (length > 0 && (at[length] == 'e' || at[length] == 'E')) {
        gsize sign = at[length + 1] == '+' || at[length + 1] == '-' ? 2 : 1;
        gsize exponent = strspn(at + length + sign, digits);
        length += exponent > 0 ? sign + exponent : 0;
    }
    return length;
}

/* NULL when a part is missing. */
static Term *
read_arguments(Reader *reader, Term *call)
{
    Term **end = &call->part;
    char join = '\0';
    do {
        Term *argument = read_sum(reader);
        if (argument == NULL)
            return NULL;
        argument->join = join;
        join = ',';
        *end = argument;
        end = &argument->next;
    } while (take(reader, ','));
    return take(reader, ')') ? call : NULL;
}

static Term *
read_name(Reader *reader)
{
    const char *begin = reader->at;
    gsize unknown = strlen(NOT_KNOWN);
    gsize length =
        strncmp(begin, NOT_KNOWN, unknown) == 0 ? unknown : (gsize) (symbol_end(begin) - begin);
    if (length == 0)
        return NULL;
    reader->at += length;
    Term *term = term_new(reader, TERM_NAME, begin, length);
    if (length == unknown && strncmp(begin, NOT_KNOWN, unknown) == 0)
        return term;
    if (!take(reader, '('))
        return term;
    term->type = TERM_CALL;
    return read_arguments(reader, term);
}

static Term *
read_atom(Reader *reader)
{
    if (take(reader, '(')) {
        Term *inside = read_sum(reader);
        return inside != NULL && take(reader, ')') ? inside : NULL;
    }
    gsize length = number_length(reader->at);
    if (length == 0)
        return read_name(reader);
    reader->at += length;
    return term_new(reader, TERM_NUMBER, reader->at - length, length);
}

/* -x^2 is -(x^2), and a^b^c is a^(b^c). */
static Term *
read_signed(Reader *reader)
{
    if (reader->depth >= DEEPEST)
        return NULL;
    reader->depth++;
    Term *result = NULL;
    if (take(reader, '-')) {
        Term *inside = read_signed(reader);
        if (inside != NULL) {
            result = term_new(reader, TERM_MINUS, NULL, 0);
            result->part = inside;
        }
    } else {
        Term *base = read_atom(reader);
        result = base;
        if (base != NULL && take(reader, '^')) {
            Term *exponent = read_signed(reader);
            result = exponent != NULL ? term_new(reader, TERM_POWER, NULL, 0) : NULL;
            if (result != NULL) {
                exponent->join = '^';
                base->next = exponent;
                result->part = base;
            }
        }
    }
    reader->depth--;
    return result;
}

/* Parts read by `read`, joined by any of `joins`; one alone stays itself. */
static Term *
read_joined(Reader *reader, TermType type, const char *joins, Term *(*read)(Reader *) )
{
    Term *first = read(reader);
    if (first == NULL || peek(reader) == '\0' || strchr(joins, *reader->at) == NULL)
        return first;
    Term *whole = term_new(reader, type, NULL, 0);
    whole->part = first;
    for (Term *last = first; peek(reader) != '\0' && strchr(joins, *reader->at) != NULL;) {
        char join = *reader->at++;
        last->next = read(reader);
        last = last->next;
        if (last == NULL)
            return NULL;
        last->join = join;
    }
    return whole;
}

static Term *
read_product(Reader *reader)
{
    return read_joined(reader, TERM_PRODUCT, "*/", read_signed);
}

static Term *
read_sum(Reader *reader)
{
    return read_joined(reader, TERM_SUM, "+-", read_product);
}

/* "= right" alone is read too: a line that goes on from the one above it. */
static Term *
read_equation(Reader *reader)
{
    Term *equation = term_new(reader, TERM_EQUATION, NULL, 0);
    Term **end = &equation->part;
    char join = take(reader, '=') ? '=' : '\0';
    do {
        Term *side = read_sum(reader);
        if (side == NULL)
            return NULL;
        side->join = join;
        join = '=';
        *end = side;
        end = &side->next;
    } while (take(reader, '='));
    return equation;
}

Formula *
formula_parse(const char *text)
{
    g_autoptr(Formula) formula = g_new0(Formula, 1);
    formula->terms = g_ptr_array_new_with_free_func(g_free);
    if (!g_utf8_validate(text, -1, NULL))
        return NULL;
    Reader reader = {formula, text, 0};
    Term **end = &formula->equations;
    do {
        Term *equation = read_equation(&reader);
        if (equation == NULL)
            return NULL;
        *end = equation;
        end = &equation->next;
    } while (take(&reader, ';'));
    return peek(&reader) == '\0' ? g_steal_pointer(&formula) : NULL;
}
