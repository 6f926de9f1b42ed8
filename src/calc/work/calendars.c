/* Calculators of calendars: dates, daylight, and work in the hours of a week. */
#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "calc/work/table_words.h"
#include "physics/work/calendar.h"
#include "physics/work/dates.h"
#include "physics/work/daylight.h"

static const char *const weekday_words[] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun", NULL};
static const char *const yes_words[] = {"no", "yes", NULL};

/* --- day-number ---------------------------------------------------------------------------------------------------- */

static const Input day_inputs[] = {IN_TEXT("day", .word_kind = "date")};
static const Output day_outputs[] = {
    OUT_NUMBER("julian_day", "1"), OUT_WORD("weekday", weekday_words), OUT_NUMBER("iso_year", "1"),
    OUT_NUMBER("iso_week", "1"), OUT_NUMBER("day_of_year", "1")};
static const Method *const day_methods[] = {&dates_number_method, NULL};

static void
run_day(const CalcArguments *in, CalcResults *out)
{
    Date date;
    if (!table_words_date(out, "day", argument_text(in, "day"), &date))
        return;
    double number = date_day(date);
    if (isnan(number)) {
        results_refuse(out, "the Gregorian calendar begins on 1582-10-15");
        return;
    }
    long day = (long) number;
    int year, week;
    dates_iso_week(day, &year, &week);
    results_set(out, "julian_day", number);
    results_word(out, "weekday", weekday_words[dates_weekday(day)]);
    results_set(out, "iso_year", year);
    results_set(out, "iso_week", week);
    results_set(out, "day_of_year", dates_of_year(day));
}

const Calculator calculator_day_number = {
    .name = "day-number",
    .question = "day number, weekday and week of a date",
    .sheet = "work.md 7.2",
    CALCULATOR_BODY(day_inputs, day_outputs),
    .methods = day_methods,
    .run = run_day,
};

/* --- daylight-hours ------------------------------------------------------------------------------------------------ */

static const char *const sun_words[] = {"rises", "always-up", "never-up", NULL}; /* as Sun */
static const Input light_inputs[] = {
    IN_TEXT("day", .word_kind = "date"),
    IN_NUMBER("latitude", "rad"),
    IN_NUMBER("longitude", "rad"),
    IN_NUMBER("zone", "h", .standard = "0 h"),
    IN_NUMBER("opens", "h", .otherwise = "none"),
    IN_NUMBER("closes", "h", .otherwise = "none"),
};
static const Output light_outputs[] = {OUT_WORD("sun", sun_words), OUT_NUMBER("sunrise", "h"),
                                       OUT_NUMBER("sunset", "h"),  OUT_NUMBER("day_length", "h"),
                                       OUT_NUMBER("dawn", "h"),    OUT_NUMBER("dusk", "h"),
                                       OUT_NUMBER("usable", "h")};
static const Method *const light_methods[] = {&daylight_hour_angle_method, &daylight_usable_method,
                                              NULL};

static void
run_light(const CalcArguments *in, CalcResults *out)
{
    Date date;
    Daylight light;
    double opens = argument_number(in, "opens"), closes = argument_number(in, "closes");
    if (!table_words_date(out, "day", argument_text(in, "day"), &date))
        return;
    double day = date_day(date);
    if (isnan(day) ||
        daylight_of((long) day, argument_number(in, "latitude"), argument_number(in, "longitude"),
                    argument_number(in, "zone"), &light) == REFUSED) {
        results_refuse(out, "the year must lie within 1900 to 2100, the place short of the poles, "
                            "and the zone within a day");
        return;
    }
    if (opens < 0.0 || closes > 24.0 || opens >= closes)
        results_refuse(out, "opens must come before closes, both within 0 h to 24 h");
    results_word(out, "sun", sun_words[light.sun]);
    results_set(out, "sunrise", light.sunrise_h);
    results_set(out, "sunset", light.sunset_h);
    results_set(out, "day_length", light.day_length_h);
    results_set(out, "dawn", light.dawn_h);
    results_set(out, "dusk", light.dusk_h);
    if (!isnan(opens) && !isnan(closes))
        results_set(out, "usable", daylight_usable_h(&light, opens, closes));
}

const Calculator calculator_daylight_hours = {
    .name = "daylight-hours",
    .question = "sunrise and sunset by the clock, and the working hours that are light",
    .sheet = "work.md 7.3, 7.1",
    CALCULATOR_BODY(light_inputs, light_outputs),
    .methods = light_methods,
    .run = run_light,
};

/* --- work-calendar ------------------------------------------------------------------------------------------------- */

static const Column week_columns[] = {{.name = "day", .words = weekday_words},
                                      {.name = "opens", .unit = "h"},
                                      {.name = "closes", .unit = "h"}};
static const Column closed_columns[] = {{.name = "date"}};
static const Input calendar_inputs[] = {
    IN_TABLE("week", week_columns),
    IN_TABLE("closed", closed_columns, .otherwise = "none"),
    IN_TEXT("start", .word_kind = "date-time"),
    IN_NUMBER("work", "h"),
    IN_WORD("unbroken", yes_words, .standard = "no"),
    IN_NUMBER("wait", "h", .standard = "0 h"),
    IN_NUMBER("within", "h", .otherwise = "none"),
    IN_TEXT("until", .word_kind = "date-time", .otherwise = "none"),
};
static const Output calendar_outputs[] = {
    OUT_WORD("possible", yes_words), OUT_TEXT("begin", "date-time"),
    OUT_TEXT("finish", "date-time"), OUT_NUMBER("hours_until", "h")};
static const Method *const calendar_methods[] = {&calendar_method, NULL};

enum { LONGEST_YEARS = 100 };

typedef struct {
    WeekHours *hours;
    size_t n;
    DaySpan *closed;
    size_t n_closed;
    long day; /* of start */
    int32_t start_min, until_min, work_min, wait_min, within_min;
    bool unbroken;
} WorkAsked;

static void
asked_clear(WorkAsked *asked)
{
    g_free(asked->hours);
    g_free(asked->closed);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(WorkAsked, asked_clear)

static int
minutes(double hours)
{
    return (int) lround(hours * 60.0);
}

static bool
read_week(const CalcArguments *in, CalcResults *out, WorkAsked *asked)
{
    const size_t *day = argument_column_choice(in, "week", "day");
    const double *opens = argument_column(in, "week", "opens");
    const double *closes = argument_column(in, "week", "closes");
    asked->n = argument_rows(in, "week");
    asked->hours = g_new0(WeekHours, asked->n + 1);
    for (size_t i = 0; i < asked->n; i++) {
        if (!(opens[i] >= 0.0 && opens[i] < closes[i] && closes[i] <= 24.0)) {
            results_refuse(out, "hours of a day must open before they close, within 0 h to 24 h");
            return false;
        }
        asked->hours[i] = (WeekHours){(int) day[i], minutes(opens[i]), minutes(closes[i])};
    }
    if (asked->n == 0)
        results_refuse(out, "the week has no hours");
    return asked->n > 0;
}

static bool
read_closed(const CalcArguments *in, CalcResults *out, WorkAsked *asked)
{
    asked->n_closed = argument_rows(in, "closed");
    asked->closed = g_new0(DaySpan, asked->n_closed + 1);
    if (asked->n_closed == 0)
        return true;
    const char *const *text = argument_column_text(in, "closed", "date");
    for (size_t i = 0; i < asked->n_closed; i++) {
        Date date;
        if (!table_words_date(out, "closed", text[i], &date))
            return false;
        double day = date_day(date);
        asked->closed[i].first = asked->closed[i].last = isnan(day) ? 0 : (long) day;
    }
    return true;
}

static bool
read_instant(CalcResults *out, const char *input, const char *text, long *day, int *minute)
{
    if (dates_read_instant(text, day, minute))
        return true;
    g_autofree char *what = g_strdup_printf(
        "%s: expected an instant such as 2025-03-08T09:30, found `%s`", input, text);
    results_error(out, what);
    return false;
}

/* Hours as minutes that cannot overflow a calendar; false when they are negative. */
static bool
read_span(const CalcArguments *in, CalcResults *out, const char *name, double absent,
          int32_t *span_min)
{
    double hours = argument_given(in, name) ? argument_number(in, name) : absent;
    if (!(hours >= 0.0)) {
        results_refuse(out, "hours cannot be negative");
        return false;
    }
    *span_min = minutes(fmin(hours, LONGEST_YEARS * 366.0 * 24.0));
    return true;
}

static bool
read_times(const CalcArguments *in, CalcResults *out, WorkAsked *asked)
{
    long day;
    int minute;
    double never = LONGEST_YEARS * 366.0 * 24.0;
    if (!read_instant(out, "start", argument_text(in, "start"), &asked->day, &minute))
        return false;
    asked->start_min = minute;
    asked->until_min = -1;
    if (argument_given(in, "until")) {
        if (!read_instant(out, "until", argument_text(in, "until"), &day, &minute))
            return false;
        long until = (day - asked->day) * MINUTES_A_DAY + minute;
        if (until < asked->start_min || until > LONGEST_YEARS * 366L * MINUTES_A_DAY) {
            results_refuse(out, "until must come after start, and within a hundred years of it");
            return false;
        }
        asked->until_min = (int32_t) until;
    }
    asked->unbroken = argument_choice(in, "unbroken") == 1;
    return read_span(in, out, "work", 0.0, &asked->work_min) &&
           read_span(in, out, "wait", 0.0, &asked->wait_min) &&
           read_span(in, out, "within", never, &asked->within_min);
}

/* Days that hold it all: what the week takes for the work, what is closed, the wait and the end that is asked about. */
static size_t
days_for(const WorkAsked *asked)
{
    int32_t week_min = 0;
    for (size_t i = 0; i < asked->n; i++)
        week_min += asked->hours[i].closes_min - asked->hours[i].opens_min;
    double days = 7.0 * (asked->work_min / fmax(1.0, week_min) + 3.0) * 2.0 +
                  8.0 * (double) asked->n_closed + asked->wait_min / (double) MINUTES_A_DAY;
    days = fmax(days, asked->until_min / (double) MINUTES_A_DAY + 1.0);
    return (size_t) fmin(days, 2.0 * LONGEST_YEARS * 366.0);
}

static void
say_instant(CalcResults *out, const char *name, long day, int32_t minute)
{
    char text[DATES_INSTANT];
    dates_write_instant(day, minute, text);
    results_word(out, name, text);
}

static void
run_calendar(const CalcArguments *in, CalcResults *out)
{
    g_auto(WorkAsked) asked = {0};
    if (!read_week(in, out, &asked) || !read_closed(in, out, &asked) ||
        !read_times(in, out, &asked))
        return;
    Calendar *c = calendar_week(asked.day, days_for(&asked), asked.n, asked.hours, asked.n_closed,
                                asked.closed, 0, NULL);
    int32_t from = asked.start_min + asked.wait_min, begin, finish;
    int32_t latest = asked.start_min + asked.within_min;
    bool possible = asked.unbroken
                        ? calendar_unbroken(c, from, latest, asked.work_min, &begin, &finish)
                        : calendar_broken(c, from, latest, asked.work_min, &begin, &finish);
    results_word(out, "possible", yes_words[possible]);
    if (possible) {
        say_instant(out, "begin", asked.day, begin);
        say_instant(out, "finish", asked.day, finish);
    }
    if (asked.until_min >= 0)
        results_set(out, "hours_until",
                    calendar_between(c, asked.start_min, asked.until_min) / 60.0);
    calendar_free(c);
}

const Calculator calculator_work_calendar = {
    .name = "work-calendar",
    .question = "when work begins and ends that is done in the hours of a weekly calendar",
    .sheet = "work.md 7.1, 3.5",
    CALCULATOR_BODY(calendar_inputs, calendar_outputs),
    .methods = calendar_methods,
    .run = run_calendar,
};
