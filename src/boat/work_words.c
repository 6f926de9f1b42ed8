/* Hours of a day, days of a year and rules of the order of work, as they are written.
 *
 * Invariant: what is given back is in order: spans rise and do not touch one another's inside, a first day is not
 * after its last. */
#include "boat/work.h"

#include <string.h>

#include "boat/read_internal.h"

static bool
read_clock(const char *text, int *minute)
{
    g_autofree char *padded = strlen(text) == 4 ? g_strconcat("0", text, NULL) : g_strdup(text);
    g_autofree char *unsaid = NULL; /* the whole span is complained of */
    double second;
    if (strcmp(padded, "24:00") == 0) {
        *minute = 24 * 60;
        return true;
    }
    if (!words_time(padded, &second, &unsaid))
        return false;
    *minute = (int) (second / 60.0);
    return true;
}

static bool
read_span(const char *text, WorkHours *hours)
{
    g_auto(GStrv) ends = g_strsplit(text, " to ", -1);
    return g_strv_length(ends) == 2 && read_clock(g_strstrip(ends[0]), &hours->opens_min) &&
           read_clock(g_strstrip(ends[1]), &hours->closes_min) &&
           hours->opens_min < hours->closes_min;
}

size_t
work_hours_parse(const char *text, WorkHours hours[static MAX_WORK_HOURS], char **problem)
{
    g_auto(GStrv) parts = g_strsplit(text, ",", -1);
    size_t n = g_strv_length(parts);
    bool good = n > 0 && n <= MAX_WORK_HOURS;
    for (size_t i = 0; good && i < n; i++)
        good = read_span(parts[i], &hours[i]) &&
               (i == 0 || hours[i].opens_min >= hours[i - 1].closes_min);
    if (good)
        return n;
    if (problem != NULL)
        *problem = g_strdup_printf("expected hours of the day in their order, as 9:00 to 13:00, "
                                   "14:00 to 17:00; found `%s`",
                                   text);
    return 0;
}

static bool
read_day(char *text, Date *date)
{
    g_autofree char *unsaid = NULL; /* both days are complained of together */
    return words_date(g_strstrip(text), date, &unsaid);
}

bool
work_days_parse(const char *text, Date *first, Date *last, char **problem)
{
    g_auto(GStrv) ends = g_strsplit(text, " to ", -1);
    size_t n = g_strv_length(ends);
    bool good =
        (n == 1 || n == 2) && read_day(ends[0], first) && (n == 1 || read_day(ends[1], last));
    if (good && n == 1)
        *last = *first;
    if (good && date_day(*first) <= date_day(*last))
        return true;
    if (problem != NULL)
        *problem = g_strdup_printf("expected a day, or the first and the last of several, as "
                                   "2027-07-03 to 2027-07-17; found `%s`",
                                   text);
    return false;
}

static int
word_index(const char *const words[], size_t n, const char *word)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(words[i], word) == 0)
            return (int) i;
    return -1;
}

int
work_weekday(const char *word)
{
    static const char *const days[] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
    return word_index(days, G_N_ELEMENTS(days), word);
}

int
work_month(const char *word)
{
    static const char *const months[] = {"jan", "feb", "mar", "apr", "may", "jun",
                                         "jul", "aug", "sep", "oct", "nov", "dec"};
    return word_index(months, G_N_ELEMENTS(months), word);
}

/* By their number in docs/methods/work.md 3.2; that of the person cannot be overruled. */
static const char *const rules[] = {"cover",     "heat",       "test",   "support",
                                    "integrity", "ashore",     "cure",   "immersion",
                                    "airing",    "fire-watch", "passage"};

int
work_rule_number(const char *word)
{
    return word_index(rules, G_N_ELEMENTS(rules), word) + 1;
}

const char *
work_rule_word(int number)
{
    return number >= 1 && (size_t) number <= G_N_ELEMENTS(rules) ? rules[number - 1] : "stated";
}
