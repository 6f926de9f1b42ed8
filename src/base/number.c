/* Numbers as shown. The last digit kept is decided by the spread alone: its leading digit, or its
 * leading two where the first is a 1. */
#include "base/number.h"

#include <float.h>
#include <glib.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/date.h"
#include "base/unit.h"

enum { MOST_DIGITS = 6, PLAIN_DIGITS = 4 };
#define HARD_BLANK "\xc2\xa0"

/* Through text: log10 misses powers of ten by a hair. */
static int
exponent_in_text(double value)
{
    char text[32];
    g_ascii_formatd(text, sizeof text, "%.15e", fabs(value));
    return (int) g_ascii_strtoll(strchr(text, 'e') + 1, NULL, 10);
}

/* Powers of ten that a double holds exactly. */
static const double power_of_ten[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                      1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                      1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};

/* A size by a power of ten; NAN where the power is not exact. */
static double
shifted(double size, int exponent)
{
    size_t n = (size_t) abs(exponent);
    return n >= G_N_ELEMENTS(power_of_ten) ? NAN
           : exponent < 0                  ? size * power_of_ten[n]
                                           : size / power_of_ten[n];
}

/* Text only where the lead stands at a power of ten, or beyond the exact ones: it costs a microsecond. */
static int
exponent_of(double value)
{
    double size = fabs(value);
    int guess = (int) floor(log10(size));
    double lead = shifted(size, guess);
    return lead > 1.0 + 1e-12 && lead < 10.0 - 1e-11 ? guess : exponent_in_text(value);
}

static double
rounded(double value, int place)
{
    char text[400];
    if (place >= 0) {
        double step = pow(10.0, place);
        return round(value / step) * step;
    }
    char format[16];
    g_snprintf(format, sizeof format, "%%.%df", -place);
    return g_ascii_strtod(g_ascii_formatd(text, sizeof text, format, value), NULL);
}

/* Power of ten of the last digit that a spread supports. */
static int
place_of_spread(double spread)
{
    int place = exponent_of(spread);
    /* 0.96 shown to one digit is 1.0: look at the leading digit after rounding. */
    double lead = shifted(spread, place);
    if (!(fabs(lead - 1.95) > 1e-9 && fabs(lead - 9.95) > 1e-9))
        lead = rounded(spread, place - 1) / pow(10.0, place);
    if (lead >= 9.95)
        return place;
    return lead < 1.95 ? place - 1 : place;
}

static int
place_for(double value, double spread)
{
    bool plain = !(spread > 0.0) || !isfinite(spread);
    if (value == 0.0)
        return plain ? 0 : place_of_spread(spread);
    int lead = exponent_of(value);
    if (plain)
        return lead - PLAIN_DIGITS + 1;
    return MAX(place_of_spread(spread), lead - MOST_DIGITS + 1);
}

static void
append_grouped(GString *out, const char *digits)
{
    size_t whole = strspn(digits, "0123456789");
    for (size_t i = 0; i < whole; i++) {
        if (i > 0 && (whole - i) % 3 == 0)
            g_string_append(out, HARD_BLANK);
        g_string_append_c(out, digits[i]);
    }
    g_string_append(out, digits + whole);
}

/* The number to the given place; trailing zeros behind the point stay only when they are known. */
static char *
plain_number(double value, int place, bool trim)
{
    char text[400], format[16];
    if (place >= 0) /* behind the point, writing it rounds it */
        value = rounded(value, place);
    g_snprintf(format, sizeof format, "%%.%df", place < 0 ? -place : 0);
    g_ascii_formatd(text, sizeof text, format, fabs(value));
    if (trim && strchr(text, '.') != NULL) {
        char *last = text + strlen(text) - 1;
        while (*last == '0')
            *last-- = '\0';
        if (*last == '.')
            *last = '\0';
    }
    bool nothing = text[strspn(text, "0.")] == '\0';
    GString *out = g_string_new(value < 0.0 && !nothing ? "-" : "");
    append_grouped(out, text);
    return g_string_free(out, FALSE);
}

static char *
exponent_number(double value, int place, bool trim)
{
    char text[64], format[16];
    int decimals = CLAMP(exponent_of(value) - place, 0, MOST_DIGITS - 1);
    g_snprintf(format, sizeof format, "%%.%de", decimals);
    g_ascii_formatd(text, sizeof text, format, value);
    char *e = strchr(text, 'e'), *end = e;
    bool point = strchr(text, '.') != NULL;
    while (trim && point && end[-1] == '0')
        end--;
    if (end[-1] == '.')
        end--;
    return g_strdup_printf("%.*se%d", (int) (end - text), text,
                           (int) g_ascii_strtoll(e + 1, NULL, 10));
}

/* A value in its shown unit, with the digits that a spread in the same unit supports. */
static char *
digits_of(double value, double spread)
{
    bool plain = !(spread > 0.0), small = fabs(value) < 1e-5, large = fabs(value) >= 1e15;
    int place = place_for(value, spread);
    if (plain || small || large) {
        /* 9.9996 to four digits is 10.00, not 10.000. */
        double at_place = place > -300 && place < 300 ? rounded(value, place) : value;
        if (plain && at_place != 0.0 && exponent_of(at_place) > exponent_of(value))
            place++;
        if (at_place != 0.0 && (small || large))
            return exponent_number(value, place, plain);
    }
    return plain_number(value, MAX(place, -30), plain);
}

/* A spread itself, in the digits that it leaves to its value. */
static char *
digits_of_spread(double spread)
{
    int place = place_of_spread(spread);
    bool extreme = spread < 1e-5 || spread >= 1e15;
    return extreme ? exponent_number(spread, place, false) : plain_number(spread, place, false);
}

typedef struct {
    QuantityKind kind;
    double below; /* SI; up to here, in size */
    const char *unit;
} Step;

/* Where the trade changes the unit with the size; the last row of a kind has no end. */
static const Step metric_steps[] = {
    {Q_SMALL_LENGTH, 1.0, "mm"},
    {Q_SMALL_LENGTH, INFINITY, "m"},
    {Q_SMALL_AREA, 0.01, "mm2"},
    {Q_SMALL_AREA, INFINITY, "m2"},
    {Q_MASS_PER_LENGTH, 1e3, "kg/m"},
    {Q_MASS_PER_LENGTH, INFINITY, "t/cm"},
    {Q_POWER, 1e4, "W"},
    {Q_POWER, INFINITY, "kW"},
    {Q_FORCE, 1e4, "N"},
    {Q_FORCE, INFINITY, "kN"},
    {Q_TORQUE, 1e4, "N m"},
    {Q_TORQUE, INFINITY, "kN m"},
    {Q_PRESSURE, 1e3, "Pa"},
    {Q_PRESSURE, 1e5, "kPa"},
    {Q_PRESSURE, INFINITY, "bar"},
};
static const Step imperial_steps[] = {
    {Q_MASS_PER_LENGTH, 1e3, "lb/ft"},
    {Q_MASS_PER_LENGTH, INFINITY, "lb/in"},
};
static const Step all_steps[] = {
    {Q_TIME, 120.0, "s"},    {Q_TIME, 7200.0, "min"}, {Q_TIME, INFINITY, "h"},
    {Q_ENERGY, 3600.0, "J"}, {Q_ENERGY, 3.6e5, "Wh"}, {Q_ENERGY, INFINITY, "kWh"},
};

static const char *
find_step(size_t n, const Step steps[], QuantityKind kind, double size)
{
    for (size_t i = 0; i < n; i++) {
        if (steps[i].kind == kind && size < steps[i].below)
            return steps[i].unit;
    }
    return NULL;
}

const char *
number_unit(double si, QuantityKind kind, UnitsChoice units)
{
    double size = fabs(si);
    const char *unit = units == UNITS_IMPERIAL
                           ? find_step(G_N_ELEMENTS(imperial_steps), imperial_steps, kind, size)
                           : find_step(G_N_ELEMENTS(metric_steps), metric_steps, kind, size);
    /* Nothing has no size: it is shown in the usual unit. */
    if (unit == NULL && si != 0.0)
        unit = find_step(G_N_ELEMENTS(all_steps), all_steps, kind, size);
    return unit != NULL ? unit : kind_shown(kind, units);
}

static Unit
unit_of(const char *text, QuantityKind kind)
{
    Unit unit = {.factor = 1.0};
    if (*text != '\0' && !unit_parse(text, kind, &unit, NULL))
        g_assert_not_reached();
    return unit;
}

/* Inches that a spread supports: between a half and a twentieth of it, as decimals are. */
static double
inch_step(double inches, double spread)
{
    if (spread > 0.0) {
        static const double steps[] = {0.125, 0.25, 0.5, 1.0};
        for (size_t i = 0; i < G_N_ELEMENTS(steps); i++) {
            if (spread < 4.0 * steps[i])
                return steps[i];
        }
        return spread < 24.0 ? 1.0 : 12.0;
    }
    return fabs(inches) < 120.0 ? 0.125 : fabs(inches) < 12000.0 ? 1.0 : 12.0;
}

static void
append_inches(GString *out, unsigned eighths)
{
    static const char *const shares[] = {"", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"};
    unsigned whole = eighths / 8, share = eighths % 8;
    if (whole > 0 || share == 0)
        g_string_append_printf(out, "%u%s", whole, share > 0 ? " " : "");
    g_string_append_printf(out, "%s in", shares[share]);
}

/* 5 ft 6 1/2 in */
static char *
feet_and_inches(double metres, double spread_m)
{
    double inches = metres / 0.0254, spread = spread_m / 0.0254;
    double step = inch_step(inches, spread);
    double eighths = round(inches / step) * step * 8.0;
    if (fabs(eighths) >= 96e6 || (fabs(inches) < 1.0 && inches != 0.0 && !(spread > 0.25)))
        return NULL;
    GString *out = g_string_new(eighths < 0.0 ? "-" : "");
    unsigned all = (unsigned) fabs(eighths), feet = all / 96, rest = all % 96;
    if (feet > 0 || step >= 12.0) {
        char digits[16];
        g_snprintf(digits, sizeof digits, "%u", feet);
        append_grouped(out, digits);
        g_string_append(out, " ft");
        if (rest > 0)
            g_string_append_c(out, ' ');
    }
    if (rest > 0 || (feet == 0 && step < 12.0))
        append_inches(out, rest);
    return g_string_free(out, FALSE);
}

static char *
with_unit(char *digits, const char *unit)
{
    if (*unit == '\0')
        return digits;
    char *text = g_strconcat(digits, " ", unit, NULL);
    g_free(digits);
    return text;
}

static char *
feet_shown(double si, double spread)
{
    char *text = feet_and_inches(si, spread);
    if (text != NULL)
        return text;
    const char *unit = fabs(si) < 1.0 ? "in" : "ft";
    Unit inch = unit_of(unit, Q_LENGTH);
    return with_unit(digits_of(unit_number(&inch, si), unit_number_difference(&inch, spread)),
                     unit);
}

/* Past this size a number means nothing, and its shown unit might not hold it. */
static const double LARGEST = 1e290, SMALLEST = 1e-290;

static bool
is_known(double si, double spread)
{
    return fabs(si) < LARGEST && !(spread >= LARGEST);
}

static double
spread_that_counts(double spread)
{
    return spread > SMALLEST ? spread : 0.0;
}

static bool
in_feet(QuantityKind kind, UnitsChoice units)
{
    return kind == Q_LENGTH && units == UNITS_IMPERIAL;
}

/* Things counted are shown to the last one. */
static bool
is_counted(double si, double spread, QuantityKind kind)
{
    return kind == Q_COUNT && !(spread > 0.0) && si == floor(si) && fabs(si) < 1e15;
}

char *
number_show(double si, double spread, QuantityKind kind, UnitsChoice units)
{
    if (!is_known(si, spread))
        return g_strdup("not known");
    si = fabs(si) > SMALLEST ? si : 0.0;
    spread = spread_that_counts(spread);
    if (kind == Q_DATE)
        return day_words(si);
    if (in_feet(kind, units))
        return feet_shown(si, spread);
    if (is_counted(si, spread, kind))
        return plain_number(si, 0, false);
    const char *shown = number_unit(si, kind, units);
    Unit unit = unit_of(shown, kind);
    return with_unit(digits_of(unit_number(&unit, si), unit_number_difference(&unit, spread)),
                     shown);
}

char *
number_show_spread(double si, double spread, QuantityKind kind, UnitsChoice units)
{
    g_autofree char *value = number_show(si, spread, kind, units);
    spread = spread_that_counts(spread);
    if (!is_known(si, spread) || spread == 0.0)
        return g_steal_pointer(&value);
    if (in_feet(kind, units)) {
        g_autofree char *feet = feet_shown(spread, 2.0 * spread);
        return g_strdup_printf("%s ± %s", value, feet);
    }
    QuantityKind counted = kind == Q_DATE ? Q_DAYS : kind;
    const char *shown = number_unit(si, counted, units);
    Unit unit = unit_of(shown, counted);
    g_autofree char *width =
        with_unit(digits_of_spread(unit_number_difference(&unit, spread)), shown);
    return g_strdup_printf("%s ± %s", value, width);
}

char *
number_exact(double value)
{
    if (!isfinite(value))
        return g_strdup("null");
    if (value == 0.0)
        return g_strdup("0");
    char text[G_ASCII_DTOSTR_BUF_SIZE], format[8];
    /* Fifteen digits bring back any decimal that has no more; below the normal doubles even one may do. */
    for (int digits = fabs(value) < DBL_MIN ? 1 : 15; digits <= 17; digits++) {
        g_snprintf(format, sizeof format, "%%.%dg", digits);
        g_ascii_formatd(text, sizeof text, format, value);
        if (g_ascii_strtod(text, NULL) == value)
            break;
    }
    return g_strdup(text);
}
