/* Words and numbers of a text that ends nowhere but at its length. Invariant: at <= end, and the
 * locale has no say. */
#include "physics/shape/mesh_build.h"

#include <math.h>
#include <string.h>

static bool
is_blank(char c)
{
    return c == ' ' || c == '\t' || c == '\r' || c == '\v' || c == '\f';
}

size_t
mesh_text_word(MeshText *text, const char **word)
{
    while (text->at < text->end && is_blank(*text->at))
        text->at++;
    *word = text->at;
    while (text->at < text->end && !is_blank(*text->at) && *text->at != '\n')
        text->at++;
    return (size_t) (text->at - *word);
}

bool
mesh_text_line(MeshText *text)
{
    const char *next = memchr(text->at, '\n', (size_t) (text->end - text->at));
    text->line += next != NULL;
    text->at = next != NULL ? next + 1 : text->end;
    return text->at < text->end;
}

size_t
mesh_text_any(MeshText *text, const char **word)
{
    for (;;) {
        size_t n = mesh_text_word(text, word);
        if (n > 0 || text->at >= text->end)
            return n;
        mesh_text_line(text);
    }
}

bool
mesh_text_is(const char *word, size_t n, const char *expected)
{
    return n == strlen(expected) && memcmp(word, expected, n) == 0;
}

/* 10^n by squares; what overflows or vanishes is refused or is nothing. */
static double
power_of_ten(int n)
{
    static const double small[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                   1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                   1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
    int size = n < 0 ? -n : n;
    return size <= 22 ? small[size] : pow(10.0, size);
}

typedef struct {
    unsigned long long digits;
    int exponent;
    bool any;
} Decimal;

static const char *
read_digits(const char *p, const char *end, Decimal *d, bool fraction)
{
    for (; p < end && *p >= '0' && *p <= '9'; p++) {
        d->any = true;
        if (d->digits < 100000000000000000ULL) {
            d->digits = 10 * d->digits + (unsigned) (*p - '0');
            d->exponent -= fraction;
        } else {
            d->exponent += !fraction && d->exponent < 10000;
        }
    }
    return p;
}

bool
mesh_text_number(const char *word, size_t n, double *value)
{
    const char *p = word, *end = word + n;
    bool negative = p < end && *p == '-';
    Decimal d = {0};
    p += p < end && (*p == '-' || *p == '+');
    p = read_digits(p, end, &d, false);
    if (p < end && *p == '.')
        p = read_digits(p + 1, end, &d, true);
    if (!d.any)
        return false;
    if (p < end && (*p == 'e' || *p == 'E')) {
        Decimal power = {0};
        bool less = ++p < end && *p == '-';
        p += p < end && (*p == '-' || *p == '+');
        p = read_digits(p, end, &power, false);
        if (!power.any || power.digits > 400)
            return false;
        d.exponent += less ? -(int) power.digits : (int) power.digits;
    }
    double ten = power_of_ten(d.exponent), size = (double) d.digits;
    size = d.exponent < 0 ? size / ten : size * ten;
    *value = negative ? -size : size;
    return p == end && isfinite(size);
}

bool
mesh_text_integer(const char *word, size_t n, long long *value)
{
    const char *p = word, *end = word + n;
    bool negative = p < end && *p == '-';
    Decimal d = {0};
    p += p < end && (*p == '-' || *p == '+');
    p = read_digits(p, end, &d, false);
    if (!d.any || p != end || d.exponent != 0)
        return false;
    *value = negative ? -(long long) d.digits : (long long) d.digits;
    return true;
}
