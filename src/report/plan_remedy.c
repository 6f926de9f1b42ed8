/* Remedies of the work in words.
 * Invariant: a day is said as a date and as how far it is moved; a chance always beside the one without the remedy. */
#include "report/plan_remedy.h"

#include <math.h>
#include <string.h>

#include "base/date.h"
#include "report/forecast_words.h"
#include "report/words.h"

#define LONG_AGO_DAYS 400.0 /* how many days since is no news */

static char *
name_of(const Result *result, const char *path, bool quoted)
{
    const char *dot = strrchr(path, '.');
    g_autofree char *record = g_strndup(path, (gsize) (dot - path));
    g_autofree char *name = path_words(result, record);
    return quoted ? g_strdup_printf("\u201c%s\u201d", name) : g_steal_pointer(&name);
}

static char *
day_part(const Result *result, const RemedyPart *part)
{
    const char *key = strrchr(part->path, '.');
    bool task = g_str_has_prefix(part->path, "work."), due = strcmp(key, ".due") == 0;
    g_autofree char *name = name_of(result, part->path, task);
    g_autofree char *to = day_words(part->to_value);
    double by = part->to_value - part->from_value, days = fabs(by);
    if (days > LONG_AGO_DAYS)
        return g_strdup_printf("%s %s on %s", task && !due ? "begin" : "have", name, to);
    const char *way = by > 0.0 ? "later" : "sooner", *many = days == 1.0 ? "" : "s";
    if (task && due)
        return g_strdup_printf("let %s be due %.0f day%s %s, on %s", name, days, many, way, to);
    if (task)
        return g_strdup_printf("begin %s %.0f day%s %s, on %s", name, days, many, way, to);
    if (due)
        return g_strdup_printf("get %s %.0f day%s %s, by %s: from another seller, or by another "
                               "carrier",
                               name, days, many, way, to);
    return g_strdup_printf("ask for %s %.0f day%s %s, on %s", name, days, many, way, to);
}

static char *
slot_part(const Result *result, const RemedyPart *part)
{
    g_autofree char *name = path_words(result, part->path);
    g_autofree char *from = day_words(part->from_value), *to = day_words(part->to_value);
    return g_strdup_printf("book %s on %s instead of %s", name, to, from);
}

static char *
evening_part(const Result *result, const RemedyPart *part)
{
    static const char *const days[][2] = {
        {"mon", "Mondays"}, {"tue", "Tuesdays"},  {"wed", "Wednesdays"}, {"thu", "Thursdays"},
        {"fri", "Fridays"}, {"sat", "Saturdays"}, {"sun", "Sundays"}};
    g_autofree char *name = name_of(result, part->path, false);
    const char *day = part->from;
    for (size_t i = 0; i < G_N_ELEMENTS(days); i++)
        if (strcmp(days[i][0], part->from) == 0)
            day = days[i][1];
    return g_strdup_printf("let %s work on %s too, %s", name, day, part->to);
}

static char *
hand_part(const RemedyPart *part)
{
    g_autofree char *skill = part->to != NULL ? text_clean(part->to) : NULL;
    g_autofree char *who = part->from_value > 1.0 ? g_strdup_printf("%.0f people", part->from_value)
                                                  : g_strdup("somebody");
    return g_strdup_printf("find %s more for %.0f hours a week%s%s", who, part->to_value,
                           skill != NULL ? ", who can do: " : "", skill != NULL ? skill : "");
}

static char *
tie_part(const Result *result, const RemedyPart *part)
{
    g_autofree char *from = path_words(result, part->from), *to = path_words(result, part->to);
    return part->kind == REMEDY_UNTIE
               ? g_strdup_printf("take back that \u201c%s\u201d comes after \u201c%s\u201d", to,
                                 from)
               : g_strdup_printf("do \u201c%s\u201d before \u201c%s\u201d, and open it again "
                                 "afterwards",
                                 to, from);
}

char *
plan_part_words(const Result *result, const RemedyPart *part)
{
    g_autofree char *name = NULL;
    switch (part->kind) {
    case REMEDY_DAY:
        return day_part(result, part);
    case REMEDY_SLOT:
        return slot_part(result, part);
    case REMEDY_EVENING:
        return evening_part(result, part);
    case REMEDY_HAND:
        return hand_part(part);
    case REMEDY_LEAVE_OUT:
        name = name_of(result, part->path, true);
        return g_strdup_printf("leave out %s", name);
    case REMEDY_UNTIE:
    case REMEDY_OVERRULE:
        return tie_part(result, part);
    default:
        return NULL;
    }
}

/* "4 more in 100", "as without it" */
static char *
gain_words(double before, double with)
{
    double gain = 100.0 * (with - before);
    if (fabs(gain) < 0.5)
        return g_strdup("as without it");
    return g_strdup_printf("%.0f in 100 %s", fabs(gain), gain > 0.0 ? "more" : "less");
}

char *
plan_chance_words(const Remedy *remedy)
{
    bool dated = isfinite(remedy->p50_day);
    g_autofree char *middle = day_words(remedy->p50_day), *was = day_words(remedy->p50_before_day);
    if (!isfinite(remedy->chance_frac))
        return !dated ? NULL
               : isfinite(remedy->p50_before_day)
                   ? g_strdup_printf("All is done as likely as not by %s; %s without it.", middle,
                                     was)
                   : g_strdup_printf(
                         "All is done as likely as not by %s; without it nothing can be "
                         "reckoned.",
                         middle);
    g_autofree char *chance = share_words(remedy->chance_frac);
    if (!isfinite(remedy->chance_before_frac))
        return g_strdup_printf("The chance to be done in time is then %s; without it nothing can "
                               "be reckoned.",
                               chance);
    bool stays = fabs(remedy->chance_frac - remedy->chance_before_frac) < 0.005;
    if (stays && (!dated || strcmp(middle, was) == 0))
        return g_strdup_printf("The chance to be done in time stays %s.", chance);
    g_autofree char *gain = gain_words(remedy->chance_before_frac, remedy->chance_frac);
    if (!dated)
        return g_strdup_printf("The chance to be done in time is then %s, %s.", chance, gain);
    return g_strdup_printf("The chance to be done in time is then %s, %s; as likely as not by %s "
                           "(%s without it).",
                           chance, gain, middle, was);
}
