/* Calculator of all-day entries of a calendar that is handed out. */
#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"
#include "calc/work/table_words.h"

static const Input span_inputs[] = {IN_TEXT("first", .word_kind = "date"),
                                    IN_TEXT("last", .word_kind = "date")};
static const Output span_outputs[] = {OUT_TEXT("dtstart", "ical-date"),
                                      OUT_TEXT("dtend", "ical-date"), OUT_TEXT("due", "ical-date")};

static char *
ical_date(double day)
{
    Date date = day_date(day);
    return g_strdup_printf("%04d%02d%02d", date.year, date.month, date.day);
}

static void
run_span(const CalcArguments *in, CalcResults *out)
{
    Date first, last;
    if (!table_words_date(out, "first", argument_text(in, "first"), &first) ||
        !table_words_date(out, "last", argument_text(in, "last"), &last))
        return;
    double from = date_day(first), to = date_day(last);
    if (!(to >= from) || day_date(to + 1.0).year == 0) {
        results_refuse(out, "the last day must not come before the first, both of the Gregorian "
                            "calendar");
        return;
    }
    /* DTEND and DUE of the date form are the first moment after: RFC 5545 3.6.1, 3.6.2. */
    g_autofree char *start = ical_date(from), *after = ical_date(to + 1.0);
    results_word(out, "dtstart", start);
    results_word(out, "dtend", after);
    results_word(out, "due", after);
}

const Calculator calculator_ical_span = {
    .name = "ical-span",
    .question = "dates that an all-day entry carries in an exported calendar",
    .sheet = "work.md 7.4",
    CALCULATOR_BODY(span_inputs, span_outputs),
    .run = run_span,
};
