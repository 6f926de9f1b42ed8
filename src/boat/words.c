/* Words and forms that are no quantity: flags, dates, times, positions, densities, wires, shares of a day.
 *
 * Invariant: *out is written only on success; every refusal says what was expected. */
#include "boat/read_internal.h"

#include <math.h>
#include <string.h>

#include "base/wire_gauge.h"
#include "catalog/trade_table.h"

static bool
say(char **problem, char *text)
{
    *problem = text;
    return false;
}

bool
words_flag(const char *text, Flag *flag, char **problem)
{
    size_t length = strlen(text);
    bool shown = length > 6 && g_str_has_prefix(text, "yes (") && text[length - 1] == ')';
    bool reason = length > 5 && g_str_has_prefix(text, "no (") && text[length - 1] == ')';
    if (strcmp(text, "yes") == 0)
        *flag = FLAG_YES_BARE;
    else if (shown)
        *flag = FLAG_YES_SHOWN;
    else if (strcmp(text, "no") == 0 || reason)
        *flag = FLAG_NO;
    else if (strcmp(text, "unknown") == 0)
        *flag = FLAG_UNKNOWN;
    else
        return say(problem,
                   g_strdup_printf("expected `no`, or `yes (date or evidence)`; found `%s`", text));
    return true;
}

static bool
digits(const char *text, size_t n, int *value)
{
    *value = 0;
    for (size_t i = 0; i < n; i++) {
        if (!g_ascii_isdigit(text[i]))
            return false;
        *value = *value * 10 + (text[i] - '0');
    }
    return true;
}

bool
words_date(const char *text, Date *date, char **problem)
{
    int year, month, day;
    if (strlen(text) != 10 || !digits(text, 4, &year) || text[4] != '-' ||
        !digits(text + 5, 2, &month) || text[7] != '-' || !digits(text + 8, 2, &day))
        return say(problem, g_strdup_printf("expected a date as 2027-04-12; found `%s`", text));
    if (month < 1 || month > 12 || day < 1 || year < 1700 || year > 2300 ||
        !g_date_valid_dmy((GDateDay) day, (GDateMonth) month, (GDateYear) year))
        return say(problem,
                   g_strdup_printf(
                       "the calendar has no day %s; expected year-month-day as 2027-04-12", text));
    *date = (Date){year, month, day};
    return true;
}

bool
words_time(const char *text, double *second, char **problem)
{
    int hour, minute;
    if (strlen(text) != 5 || !digits(text, 2, &hour) || text[2] != ':' ||
        !digits(text + 3, 2, &minute) || hour > 23 || minute > 59)
        return say(problem, g_strdup_printf("expected a time of day as 17:30; found `%s`", text));
    *second = hour * 3600.0 + minute * 60.0;
    return true;
}

static bool
one_angle(const char *text, const char *plus, const char *minus, double most, double *rad)
{
    char *end;
    if (!g_ascii_isdigit(text[0]))
        return false;
    double degrees = g_ascii_strtod(text, &end);
    if (g_str_has_prefix(end, "°"))
        end += strlen("°");
    g_autofree char *side = g_strstrip(g_strdup(end));
    bool positive = strcmp(side, plus) == 0;
    if (!isfinite(degrees) || degrees > most || (!positive && strcmp(side, minus) != 0))
        return false;
    *rad = (positive ? degrees : -degrees) * G_PI / 180.0;
    return true;
}

bool
words_position(const char *text, EarthPosition *position, char **problem)
{
    g_auto(GStrv) parts = g_strsplit(text, ",", -1);
    EarthPosition read;
    if (g_strv_length(parts) != 2 ||
        !one_angle(g_strstrip(parts[0]), "N", "S", 90.0, &read.latitude_rad) ||
        !one_angle(g_strstrip(parts[1]), "E", "W", 180.0, &read.longitude_rad))
        return say(
            problem,
            g_strdup_printf("expected latitude and longitude as 52.1 N, 4.6 E; found `%s`", text));
    *position = read;
    return true;
}

bool
words_density(const char *text, Quantity *density, char **problem)
{
    if (strcmp(text, "fresh") == 0)
        *density = (Quantity){.value = 1000.0, .spread = 0.0, .basis = BASIS_STATED, .count = 1};
    else if (strcmp(text, "salt") == 0)
        *density = (Quantity){.value = 1025.0, .spread = 0.0, .basis = BASIS_STATED, .count = 1};
    else if (strcmp(text, "brackish") == 0)
        *density = (Quantity){.value = 1012.0, .spread = 12.0, .basis = BASIS_ASSUMED, .count = 1};
    else if (g_ascii_isalpha(text[0]) && !g_str_has_prefix(text, "about") &&
             strcmp(text, "unknown") != 0)
        return say(problem,
                   g_strdup_printf(
                       "expected fresh, brackish, salt or a density such as 1008 kg/m3; found `%s`",
                       text));
    else
        return quantity_parse(text, Q_DENSITY, density, problem);
    return true;
}

/* --- wires ------------------------------------------------------------------------------------ */

/* Cable of vehicles by its own least areas; NAN where the table has none. */
static double
sae_area_m2(int number)
{
    static const double circular_mil_m2 = 0.7853981633974483 * 25.4e-6 * 25.4e-6;
    g_autoptr(TradeTable) table = trade_table_load(TABLE_GAUGES);
    g_autofree char *row =
        number > 0 ? g_strdup_printf("awg-%d", number) : g_strdup_printf("awg-%d/0", 1 - number);
    for (size_t i = 0; i < table->n; i++)
        if (strcmp(table->text[0][i], row) == 0)
            return table->figure[0][i] * circular_mil_m2;
    return NAN;
}

/* Where a gauge stands: behind `about`, if that is there. */
static const char *
find_gauge(const char *text, const char **behind, int *number, bool *vehicle)
{
    const char *at = text + strspn(text, " \t");
    if (g_str_has_prefix(at, "about "))
        at += strspn(at + 5, " \t") + 5;
    const char *end;
    if (!wire_gauge_scan(at, &end, number))
        return NULL;
    end += strspn(end, " \t");
    bool american = g_ascii_strncasecmp(end, "AWG", 3) == 0;
    *vehicle = g_ascii_strncasecmp(end, "SAE", 3) == 0;
    if ((!american && !*vehicle) || g_ascii_isalpha(end[3]))
        return NULL;
    *behind = end + 3;
    return at;
}

/* A gauge becomes its area; what stands around it (about, ±, a basis) is read as for any quantity. */
bool
words_wire(const char *text, Quantity *area, char **problem)
{
    const char *behind;
    int number;
    bool vehicle;
    const char *at = find_gauge(text, &behind, &number, &vehicle);
    if (at == NULL)
        return quantity_parse(text, Q_SMALL_AREA, area, problem);
    double m2 = vehicle ? sae_area_m2(number) : wire_gauge_area_m2(number);
    if (!isfinite(m2))
        return say(problem,
                   g_strdup_printf("no area is known of `%s`; expected the area in mm2, or "
                                   "a gauge from 18 to 4/0 SAE",
                                   text));
    char digits_of[G_ASCII_DTOSTR_BUF_SIZE];
    g_ascii_dtostr(digits_of, sizeof digits_of, m2);
    g_autofree char *as_area =
        g_strdup_printf("%.*s%s m2%s", (int) (at - text), text, digits_of, behind);
    return quantity_parse(as_area, Q_SMALL_AREA, area, problem);
}

static bool
hours_a_day(const char *text, Quantity *share)
{
    static const double day_h = 24.0;
    Quantity hours;
    if (!quantity_parse(text, Q_DURATION, &hours, NULL))
        return false;
    *share = hours;
    share->value /= day_h;
    share->spread /= day_h;
    return true;
}

bool
words_share_of_day(const char *text, Quantity *share, char **problem)
{
    gsize length = strlen(text);
    bool in_hours = length > 0 && g_ascii_isalpha(text[length - 1]);
    if ((in_hours && hours_a_day(text, share)) || quantity_parse(text, Q_FRACTION, share, NULL) ||
        hours_a_day(text, share))
        return true;
    return say(problem, g_strdup_printf("expected a share such as 40 %%, or hours a day such as "
                                        "4 h; found `%s`",
                                        text));
}

/* The kind whose unit it is; the first of several that share one. */
bool
words_any(const char *text, Quantity *value, QuantityKind *kind, char **problem)
{
    static const QuantityKind first[] = {Q_LENGTH, Q_MASS, Q_FRACTION};
    for (size_t i = 0; i < G_N_ELEMENTS(first) + Q_N_KINDS; i++) {
        *kind = i < G_N_ELEMENTS(first) ? first[i] : (QuantityKind) (i - G_N_ELEMENTS(first));
        g_autofree char *why = NULL;
        if (quantity_parse(text, *kind, value, &why))
            return true;
    }
    return say(problem, g_strdup_printf(
                            "expected a number with its unit, such as 300 mm; found `%s`", text));
}
