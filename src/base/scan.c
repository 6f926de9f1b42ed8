/* Scanner for numbers. Only digits that were seen reach strtod, so neither a locale nor strtod's
 * own ideas (nan, inf, hex) can enter; what is returned is finite. */
#include "base/scan.h"

#include <glib.h>
#include <math.h>
#include <string.h>

typedef struct {
    const char *at;
    GString *digits; /* what strtod will read */
    bool lenient;
    char **problem;
} Scanner;

/* Bytes of a blank that does not break lines, as number_show puts between thousands; else 0. */
static size_t
hard_blank(const char *at)
{
    static const char *const blanks[] = {"\xc2\xa0", "\xe2\x80\xaf", "\xe2\x80\x89"};
    if ((unsigned char) *at < 0x80)
        return 0;
    for (size_t i = 0; i < G_N_ELEMENTS(blanks); i++) {
        if (g_str_has_prefix(at, blanks[i]))
            return strlen(blanks[i]);
    }
    return 0;
}

const char *
scan_blanks(const char *text)
{
    for (;;) {
        size_t hard = hard_blank(text);
        if (hard == 0 && *text != ' ' && *text != '\t')
            return text;
        text += hard == 0 ? 1 : hard;
    }
}

static size_t
count_digits(const char *at)
{
    size_t n = 0;
    while (g_ascii_isdigit(at[n]))
        n++;
    return n;
}

static bool
fail(Scanner *s, char *what)
{
    *s->problem = what;
    return false;
}

static void
take_digits(Scanner *s)
{
    size_t n = count_digits(s->at);
    g_string_append_len(s->digits, s->at, (gssize) n);
    s->at += n;
}

/* Digits, in groups of three where hard blanks stand between them. */
static void
take_whole(Scanner *s)
{
    bool may_group = count_digits(s->at) <= 3;
    take_digits(s);
    for (size_t blank;
         may_group && (blank = hard_blank(s->at)) > 0 && count_digits(s->at + blank) == 3;) {
        s->at += blank;
        take_digits(s);
    }
}

/* 1,5 is asked about; with lenient it is 1.5, but 1,500 stays a question: 1.5 or 1500. */
static bool
take_comma(Scanner *s, size_t before, bool leading_zero)
{
    size_t behind = count_digits(s->at + 1);
    const char *next = s->at + 1 + behind;
    bool more = *next == ',' || (*next == '.' && g_ascii_isdigit(next[1]));
    bool thousands = more || (behind == 3 && before <= 3 && !leading_zero);
    const char *whole = s->digits->str;
    if (more)
        return fail(
            s, g_strdup("commas between thousands are not taken; write the number without them"));
    if (thousands)
        return fail(s,
                    g_strdup_printf(
                        "`%s,%.*s` can mean %s.%.*s or %s%.*s; which? Write it without the comma",
                        whole, (int) behind, s->at + 1, whole, (int) behind, s->at + 1, whole,
                        (int) behind, s->at + 1));
    if (!s->lenient)
        return fail(s,
                    g_strdup_printf("`%s,%.*s` has a comma; is %s.%.*s meant? Write a point", whole,
                                    (int) behind, s->at + 1, whole, (int) behind, s->at + 1));
    s->at++;
    g_string_append_c(s->digits, '.');
    take_digits(s);
    return true;
}

static bool
take_decimals(Scanner *s)
{
    if (*s->at == '.') {
        if (!g_ascii_isdigit(s->at[1]))
            return fail(s, g_strdup("digits are missing behind the point"));
        g_string_append_c(s->digits, '.');
        s->at++;
        take_digits(s);
        if (*s->at == '.' && g_ascii_isdigit(s->at[1]))
            return fail(s, g_strdup("a second point stands in the number"));
        if (*s->at == ',' && g_ascii_isdigit(s->at[1]))
            return fail(
                s, g_strdup("a point and a comma stand in the number; write it with a point only"));
    }
    return true;
}

static void
take_exponent(Scanner *s)
{
    if (*s->at != 'e' && *s->at != 'E')
        return;
    const char *at = s->at + 1;
    if (*at == '+' || *at == '-')
        at++;
    size_t n = count_digits(at);
    if (n == 0)
        return;
    g_string_append_len(s->digits, s->at, at + n - s->at);
    s->at = at + n;
}

/* 3/8 behind a number just read; *share is the value of it, 0 where none stands. */
static bool
take_fraction(Scanner *s, const char *at, double *share)
{
    size_t above = count_digits(at),
           below = above > 0 && at[above] == '/' ? count_digits(at + above + 1) : 0;
    *share = 0.0;
    if (below == 0)
        return true;
    const char *next = at + above + 1 + below;
    double numerator = g_ascii_strtod(at, NULL), denominator = g_ascii_strtod(at + above + 1, NULL);
    if (*next == '/' || *next == '.' || above > 9 || below > 9)
        return fail(s, g_strdup("a fraction is two whole numbers, such as 3/8"));
    if (denominator == 0.0)
        return fail(s, g_strdup("the fraction divides by zero"));
    *share = numerator / denominator;
    s->at = next;
    return true;
}

static bool
read_decimal(Scanner *s, double *value)
{
    size_t whole = s->digits->len;
    take_whole(s);
    whole = s->digits->len - whole;
    bool zero = whole > 0 && s->digits->str[0] == '0';
    if (*s->at == ',' && g_ascii_isdigit(s->at[1])) {
        if (!take_comma(s, whole, zero))
            return false;
    } else if (!take_decimals(s)) {
        return false;
    }
    take_exponent(s);
    *value = g_ascii_strtod(s->digits->str, NULL);
    if (!isfinite(*value))
        return fail(s, g_strdup("the number is too large"));
    bool nothing = s->digits->str[strspn(s->digits->str, "0.")] == '\0' ||
                   strchr("eE", s->digits->str[strspn(s->digits->str, "0.")]) != NULL;
    if (!nothing && fabs(*value) < 1e-300)
        return fail(s, g_strdup("the number is too small to be meant"));
    return true;
}

/* 25 1/d */
static bool
is_per_unit(const char *at)
{
    return at[0] == '1' && at[1] == '/' && !g_ascii_isdigit(at[2]);
}

/* What may follow a whole number: a fraction, or by mistake another number. */
static bool
read_tail(Scanner *s, bool whole, double *value)
{
    const char *behind = scan_blanks(s->at);
    if (behind == s->at || !g_ascii_isdigit(*behind) || is_per_unit(behind))
        return true;
    const char *before = s->at;
    double share = 0.0;
    if (whole && !take_fraction(s, behind, &share))
        return false;
    if (s->at == before) {
        size_t n = count_digits(behind);
        if (n == 3 && whole)
            return fail(s, g_strdup_printf("`%s %.*s` are two numbers; is %s%.*s meant?",
                                           s->digits->str, 3, behind, s->digits->str, 3, behind));
        return fail(s, g_strdup("two numbers stand side by side"));
    }
    if (share >= 1.0)
        return fail(s, g_strdup("the fraction behind a whole number is less than 1, as in 1 1/2"));
    *value += share;
    return true;
}

static bool
read_unsigned(Scanner *s, double *value)
{
    const char *begins = s->at;
    if (!take_fraction(s, s->at, value))
        return false;
    if (s->at != begins)
        return true;
    if (!read_decimal(s, value))
        return false;
    size_t n = s->digits->len;
    return read_tail(s, strspn(s->digits->str, "0123456789") == n, value);
}

static size_t
minus_sign(const char *at)
{
    return *at == '-' ? 1 : g_str_has_prefix(at, "\xe2\x88\x92") ? 3 : 0;
}

Scan
scan_number(const char *text, bool lenient, const char **end, double *value, char **problem)
{
    Scanner s = {.at = scan_blanks(text), .lenient = lenient, .problem = problem};
    size_t minus = minus_sign(s.at);
    s.at += minus > 0 ? minus : *s.at == '+';
    bool begins = g_ascii_isdigit(*s.at) || (*s.at == '.' && g_ascii_isdigit(s.at[1]));
    if (!begins)
        return SCAN_NOTHING;
    s.digits = g_string_new(NULL);
    double read;
    bool taken = read_unsigned(&s, &read);
    g_string_free(s.digits, TRUE);
    if (!taken)
        return SCAN_WRONG;
    *value = minus > 0 && read != 0.0 ? -read : read;
    *end = s.at;
    return SCAN_NUMBER;
}
