/* From the tree of a formula to MathML. Invariant: each write_ function but write_factors writes
 * exactly one element. A product with divisions becomes fractions in the order typed: a * b / c * d
 * is (a b over c) times d. */
#include "report/formula_math.h"

#include <string.h>

#include "report/symbol_math.h"

#define TIMES_SILENT "\u2062"
#define APPLIED "\u2061"
#define MINUS "\u2212"
#define DEGREE "0.017453292519943295" /* pi / 180 */

static void write_expression(const Term *term, Markup *out);

static bool
is_degree(const Term *term)
{
    return term->type == TERM_NUMBER && term_says(term, DEGREE);
}

/* Where a group of factors begins to divide, and where the next group begins. */
static const Term *
group_slash(const Term *begin)
{
    while (begin != NULL && begin->join != '/')
        begin = begin->next;
    return begin;
}

static const Term *
group_end(const Term *slash)
{
    while (slash != NULL && slash->join == '/')
        slash = slash->next;
    return slash;
}

static bool
is_fraction(const Term *term)
{
    return is_degree(term) || (term->type == TERM_PRODUCT && group_slash(term->part) != NULL);
}

/* Whether a minus stands first in what is written; a sum within a product has brackets before it. */
static bool
begins_with_minus(const Term *term)
{
    if (term->type == TERM_SUM)
        term = term->part;
    while (term->type == TERM_PRODUCT && !is_fraction(term))
        term = term->part;
    return term->type == TERM_MINUS;
}

static bool
begins_with_digit(const Term *term)
{
    while (term->type == TERM_POWER || term->type == TERM_PRODUCT)
        term = term->part;
    return term->type == TERM_NUMBER && !is_degree(term);
}

static void
write_operator(const char *sign, Markup *out)
{
    markup_element(out, "mo", sign, NULL);
}

static void
write_bracketed(const Term *term, Markup *out)
{
    markup_open(out, "mrow", NULL);
    write_operator("(", out);
    write_expression(term, out);
    write_operator(")", out);
    markup_close(out);
}

static void
write_degree(Markup *out)
{
    markup_open(out, "mfrac", NULL);
    markup_element(out, "mi", "\u03c0", NULL);
    markup_element(out, "mn", "180", NULL);
    markup_close(out);
}

static void
write_factor(const Term *term, bool first, bool last, Markup *out)
{
    bool open_sum = term->type == TERM_CALL && term_says(term, "sum") && !last;
    if (term->type == TERM_SUM || open_sum || (!first && begins_with_minus(term)))
        write_bracketed(term, out);
    else
        write_expression(term, out);
}

/* Silent between letters; a sign wherever figures could be read together. */
static void
write_times(const Term *left, const Term *right, Markup *out)
{
    bool number_before = left->type == TERM_NUMBER && !is_degree(left);
    if (begins_with_digit(right) || (number_before && is_fraction(right))) {
        write_operator("\u00d7", out);
        return;
    }
    write_operator(TIMES_SILENT, out);
    markup_empty(out, "mspace", "width", "0.17em", NULL);
}

/* Begin up to end, side by side in the row that is open. `bare`: nothing else stands beside them. */
static void
write_factors(const Term *begin, const Term *end, bool first, bool bare, Markup *out)
{
    if (bare && begin->next == end) {
        write_expression(begin, out);
        return;
    }
    const Term *before = NULL;
    for (const Term *term = begin; term != end; term = term->next) {
        if (before != NULL)
            write_times(before, term, out);
        write_factor(term, first && term == begin, term->next == end, out);
        before = term;
    }
}

static void
write_row(const Term *begin, const Term *end, Markup *out)
{
    markup_open(out, "mrow", NULL);
    write_factors(begin, end, true, true, out);
    markup_close(out);
}

static void
write_product(const Term *product, Markup *out)
{
    const Term *before = NULL;
    markup_open(out, "mrow", NULL);
    for (const Term *begin = product->part; begin != NULL;) {
        const Term *slash = group_slash(begin), *end = group_end(slash);
        if (before != NULL)
            write_times(before, begin, out);
        if (slash != NULL) {
            markup_open(out, "mfrac", NULL);
            write_row(begin, slash, out);
            write_row(slash, end, out);
            markup_close(out);
        } else
            write_factors(begin, NULL, begin == product->part, false, out);
        before = product; /* a fraction; what does not divide is the last */
        begin = end;
    }
    markup_close(out);
}

/* A term of a sum behind its sign. */
static void
write_summand(const Term *term, Markup *out)
{
    bool inner = term->type == TERM_SUM && term->join == '-';
    if (inner || (term->join != '\0' && begins_with_minus(term)))
        write_bracketed(term, out);
    else
        write_expression(term, out);
}

static void
write_sum(const Term *sum, Markup *out)
{
    markup_open(out, "mrow", NULL);
    for (const Term *term = sum->part; term != NULL; term = term->next) {
        if (term->join != '\0')
            write_operator(term->join == '-' ? MINUS : "+", out);
        write_summand(term, out);
    }
    markup_close(out);
}

static void
write_minus(const Term *minus, Markup *out)
{
    const Term *inside = minus->part;
    bool brackets = inside->type == TERM_SUM || begins_with_minus(inside);
    markup_open(out, "mrow", NULL);
    write_operator(MINUS, out);
    if (brackets)
        write_bracketed(inside, out);
    else
        write_expression(inside, out);
    markup_close(out);
}

/* The function's name, upright, raised where an exponent is given, and its arguments in brackets. */
static void
write_applied(const Term *call, const Term *exponent, Markup *out)
{
    g_autofree char *name = g_strndup(call->text, call->length);
    bool arc = term_says(call, "asin") || term_says(call, "acos") || term_says(call, "atan");
    g_autofree char *shown = arc ? g_strdup_printf("arc%s", name + 1) : g_strdup(name);
    markup_open(out, "mrow", NULL);
    if (exponent != NULL) {
        markup_open(out, "msup", NULL);
        markup_element(out, "mi", shown, "mathvariant", "normal", NULL);
        write_expression(exponent, out);
        markup_close(out);
    } else
        markup_element(out, "mi", shown, "mathvariant", "normal", NULL);
    write_operator(APPLIED, out);
    markup_open(out, "mrow", NULL);
    write_operator("(", out);
    for (const Term *argument = call->part; argument != NULL; argument = argument->next) {
        if (argument != call->part)
            write_operator(",", out);
        write_expression(argument, out);
    }
    write_operator(")", out);
    markup_close(out);
    markup_close(out);
}

static void
write_call(const Term *call, Markup *out)
{
    bool one = call->part->next == NULL;
    if (one && (term_says(call, "sqrt") || term_says(call, "cbrt"))) {
        bool cube = term_says(call, "cbrt");
        markup_open(out, cube ? "mroot" : "msqrt", NULL);
        write_expression(call->part, out);
        if (cube)
            markup_element(out, "mn", "3", NULL);
        markup_close(out);
    } else if (one && (term_says(call, "abs") || term_says(call, "sum"))) {
        bool sum = term_says(call, "sum");
        markup_open(out, "mrow", NULL);
        write_operator(sum ? "\u2211" : "|", out);
        if (sum)
            write_factor(call->part, false, true, out);
        else {
            write_expression(call->part, out);
            write_operator("|", out);
        }
        markup_close(out);
    } else
        write_applied(call, NULL, out);
}

/* tan(a)^2 is written tan^2(a), but only for these and a plain exponent: tan^-1 means another thing. */
static bool
raises_its_name(const Term *base, const Term *exponent)
{
    bool known = term_says(base, "sin") || term_says(base, "cos") || term_says(base, "tan");
    return known && exponent->type == TERM_NUMBER;
}

static void
write_power(const Term *power, Markup *out)
{
    const Term *base = power->part, *exponent = base->next;
    if (base->type == TERM_NAME && !term_says(base, NOT_KNOWN)) {
        write_symbol_math(base, write_expression, exponent, out);
        return;
    }
    if (base->type == TERM_CALL && raises_its_name(base, exponent)) {
        write_applied(base, exponent, out);
        return;
    }
    bool plain = base->type == TERM_NUMBER && !is_degree(base) &&
                 memchr(base->text, 'e', base->length) == NULL &&
                 memchr(base->text, 'E', base->length) == NULL;
    bool enclosed = base->type == TERM_CALL && (term_says(base, "sqrt") || term_says(base, "abs"));
    markup_open(out, "msup", NULL);
    if (plain || enclosed)
        write_expression(base, out);
    else
        write_bracketed(base, out);
    write_expression(exponent, out);
    markup_close(out);
}

/* Without brackets around it. */
static void
write_expression(const Term *term, Markup *out)
{
    switch (term->type) {
    case TERM_NUMBER:
        if (is_degree(term))
            write_degree(out);
        else
            write_number_math(term, out);
        break;
    case TERM_NAME:
        write_symbol_math(term, NULL, NULL, out);
        break;
    case TERM_CALL:
        write_call(term, out);
        break;
    case TERM_MINUS:
        write_minus(term, out);
        break;
    case TERM_SUM:
        write_sum(term, out);
        break;
    case TERM_PRODUCT:
        write_product(term, out);
        break;
    case TERM_POWER:
        write_power(term, out);
        break;
    case TERM_EQUATION:
        g_assert_not_reached();
    }
}

static void
open_math(MathShape shape, Markup *out)
{
    markup_open(out, "math", "display", shape == MATH_BLOCK ? "block" : NULL, "displaystyle",
                shape == MATH_BROKEN ? "true" : NULL, NULL);
}

/* One piece: the sign before it and the term. */
static void
write_piece(char join, const Term *term, bool summand, Markup *out)
{
    if (join != '\0')
        markup_text(out, " ");
    open_math(MATH_BROKEN, out);
    if (join != '\0')
        markup_element(out, "mo",
                       join == '-'   ? MINUS
                       : join == '+' ? "+"
                                     : "=",
                       "form", "infix", "lspace", "0", "rspace", "0.22em", NULL);
    if (summand)
        write_summand(term, out);
    else
        write_expression(term, out);
    markup_close(out);
}

static void
write_side_broken(const Term *side, Markup *out)
{
    const Term *first = side->type == TERM_SUM ? side->part : side;
    write_piece(side->join, first, false, out);
    for (const Term *term = first == side ? NULL : first->next; term != NULL; term = term->next)
        write_piece(term->join, term, true, out);
}

static void
write_equation(const Term *equation, MathShape shape, Markup *out)
{
    if (shape != MATH_BROKEN)
        open_math(shape, out);
    for (const Term *side = equation->part; side != NULL; side = side->next) {
        if (shape == MATH_BROKEN) {
            write_side_broken(side, out);
            continue;
        }
        if (side->join == '=')
            write_operator("=", out);
        write_expression(side, out);
    }
    if (shape != MATH_BROKEN)
        markup_close(out);
}

bool
write_formula_math(const char *formula, MathShape shape, Markup *out)
{
    g_autoptr(Formula) read = formula_parse(formula);
    if (read == NULL) {
        open_math(shape, out);
        markup_element(out, "mtext", formula, NULL);
        markup_close(out);
        return false;
    }
    const Term *first = formula_equations(read);
    for (const Term *equation = first; equation != NULL; equation = equation->next) {
        if (equation != first)
            markup_text(out, shape == MATH_BLOCK ? "\n" : "; ");
        write_equation(equation, shape, out);
    }
    return true;
}

/* A letter and a figure are a column each, what joins two parts or encloses one is two. */
static int
columns(const Term *term)
{
    int sum = (int) g_utf8_strlen(term->text != NULL ? term->text : "", (gssize) term->length);
    for (const Term *part = term->part; part != NULL; part = part->next)
        sum += columns(part) + 2;
    return sum;
}

int
formula_math_columns(const char *formula)
{
    g_autoptr(Formula) read = formula_parse(formula);
    if (read == NULL)
        return (int) strlen(formula);
    int widest = 0;
    for (const Term *equation = formula_equations(read); equation; equation = equation->next)
        for (const Term *side = equation->part; side != NULL; side = side->next)
            for (const Term *term = side->type == TERM_SUM ? side->part : side; term != NULL;
                 term = term == side ? NULL : term->next)
                widest = MAX(widest, columns(term));
    return widest;
}
