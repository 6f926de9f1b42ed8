/* A number and its unit, as SI. Every success is finite, and large or small numbers that SI cannot
 * hold are refused after conversion as well as before. */
#include "base/quantity_text.h"

#include <glib.h>
#include <math.h>
#include <string.h>

#include "base/scan.h"

bool
measure_holds(double value)
{
    return isfinite(value) && (value == 0.0 || fabs(value) > 1e-300) && fabs(value) < 1e300;
}

static char *
with_expected(const char *what, const UnitAsked *asked)
{
    UnitAsked example = {.si = asked->si, .kind = asked->kind, .number = "4.5"};
    g_autofree char *due = unit_expected(&example);
    return g_strdup_printf("%s; %s", what, due);
}

static char *
no_number(const char *text, const UnitAsked *asked)
{
    g_autofree char *what = g_strdup_printf("`%s` is no number", text);
    return with_expected(what, asked);
}

static bool
number_read(const char *text, const UnitAsked *asked, bool lenient, const char **end,
            double *number, char **problem)
{
    char *what = NULL;
    switch (scan_number(text, lenient, end, number, &what)) {
    case SCAN_NUMBER:
        return true;
    case SCAN_NOTHING:
        *problem = no_number(text, asked);
        return false;
    default:
        *problem = strchr(what, '?') != NULL ? g_steal_pointer(&what) : with_expected(what, asked);
        g_free(what);
        return false;
    }
}

static bool
is_feet(const char *word, size_t n)
{
    return (n == 2 && strncmp(word, "ft", n) == 0) ||
           (n == 4 && (strncmp(word, "foot", n) == 0 || strncmp(word, "feet", n) == 0));
}

/* Where the inches begin in the text behind a number of feet, or NULL; 5 ft3 are cubic feet. */
static const char *
find_inches(const char *behind)
{
    const char *word = scan_blanks(behind);
    size_t n = 0;
    while (g_ascii_isalpha(word[n]))
        n++;
    const char *inches = scan_blanks(word + n);
    return is_feet(word, n) && inches > word + n && g_ascii_isdigit(*inches) ? inches : NULL;
}

static bool
read_inches(const char *text, double feet, bool negative, const UnitAsked *asked, bool lenient,
            Measure *out, char **problem)
{
    const char *behind;
    double inches;
    if (!number_read(text, asked, lenient, &behind, &inches, problem))
        return false;
    const char *word = scan_blanks(behind);
    if (!g_str_equal(word, "in") && !g_str_equal(word, "inch") && !g_str_equal(word, "inches")) {
        *problem = g_strdup_printf("`%s` stands where the inches end; 5 ft 6 in is expected", word);
        return false;
    }
    if (feet != floor(fabs(feet)) && feet != -floor(fabs(feet))) {
        *problem = g_strdup("in front of inches the feet are a whole number, as in 5 ft 6 in");
        return false;
    }
    if (inches >= 12.0) {
        *problem = g_strdup("behind feet the inches are less than 12, as in 5 ft 6 in");
        return false;
    }
    Unit foot;
    if (!unit_read("ft", asked, &foot, problem))
        return false;
    double metres = (fabs(feet) * 12.0 + inches) * 254.0 / 10000.0;
    *out = (Measure){.value = negative ? -metres : metres};
    if (!measure_holds(out->value)) {
        *problem = with_expected("the number is too large", asked);
        return false;
    }
    return true;
}

/* 310 per month and 310/month, of money. */
static char *
rate_unit(const char *behind, const UnitAsked *asked)
{
    if (!g_str_equal(asked->si, "money/d"))
        return NULL;
    if (g_str_has_prefix(behind, "per "))
        return g_strconcat("money/", scan_blanks(behind + 4), NULL);
    return *behind == '/' ? g_strconcat("money/", scan_blanks(behind + 1), NULL) : NULL;
}

static bool
is_share(const char *unit)
{
    return g_str_equal(unit, "%") || g_str_equal(unit, "percent") || g_str_equal(unit, "per cent");
}

bool
measure_read(const char *text, const UnitAsked *asked, bool lenient, Measure *out, char **problem)
{
    const char *behind;
    double number;
    if (!number_read(text, asked, lenient, &behind, &number, problem))
        return false;
    const char *inches = find_inches(behind), *begins = scan_blanks(text);
    bool negative = !g_ascii_isdigit(*begins) && *begins != '+' && *begins != '.';
    g_autofree char *as_typed = g_strndup(begins, (gsize) (behind - begins));
    UnitAsked named = {.si = asked->si, .kind = asked->kind, .number = as_typed};
    if (inches != NULL)
        return read_inches(inches, number, negative, &named, lenient, out, problem);

    behind = scan_blanks(behind);
    g_autofree char *rate = rate_unit(behind, asked);
    Unit unit;
    if (!unit_read(rate != NULL ? rate : behind, &named, &unit, problem))
        return false;
    double value = unit_si(&unit, number);
    if (!measure_holds(value)) {
        *problem = g_strdup_printf("`%s %s` is %s", as_typed, behind,
                                   fabs(value) < 1.0 ? "too small to be meant" : "too large");
        return false;
    }
    *out = (Measure){.value = value, .share = is_share(behind)};
    return true;
}

static bool
relative_spread(double percent, const UnitAsked *asked, Measure of, double *out, char **problem)
{
    if (g_str_equal(asked->si, "K")) {
        *problem = g_strdup("a spread in % of a temperature has no meaning; write it in degrees, "
                            "as in 20 °C ± 2 °C");
        return false;
    }
    if (asked->kind == Q_FRACTION && !of.share) {
        *problem = g_strdup("is the spread 5 in a hundred of the whole or of this share? Write 40 "
                            "% ± 5 % or 0.4 ± 0.02");
        return false;
    }
    if (of.value == 0.0) {
        *problem = g_strdup("a spread in % of nothing is nothing; write it with the unit");
        return false;
    }
    *out = fabs(of.value) * percent / 100.0;
    return true;
}

bool
spread_read(const char *text, const UnitAsked *asked, bool lenient, Measure of, double *out,
            char **problem)
{
    const char *behind;
    double number;
    if (!number_read(text, asked, lenient, &behind, &number, problem))
        return false;
    const char *begins = scan_blanks(text);
    g_autofree char *as_typed = g_strdup_printf("± %.*s", (int) (behind - begins), begins);
    behind = scan_blanks(behind);
    if (number < 0.0) {
        *problem = g_strdup_printf(
            "the spread `%s` is negative; it is the same to both sides, as in ± 1 kg", as_typed);
        return false;
    }
    double spread;
    if (is_share(behind) && !of.share) {
        if (!relative_spread(number, asked, of, &spread, problem))
            return false;
    } else {
        UnitAsked named = {.si = asked->si, .kind = asked->kind, .number = as_typed};
        g_autofree char *rate = rate_unit(behind, asked);
        Unit unit;
        if (!unit_read(rate != NULL ? rate : behind, &named, &unit, problem))
            return false;
        spread = unit_si_difference(&unit, number);
    }
    if (!measure_holds(spread)) {
        *problem =
            g_strdup_printf("the spread `%s %s` is too large or too small", as_typed, behind);
        return false;
    }
    *out = spread;
    return true;
}
