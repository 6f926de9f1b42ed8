/* Sentences about a forecast.
 * Invariant: a chance is said in hundredths, never as sure; what is not known is said so. */
#include "report/forecast_words.h"

#include <math.h>
#include <string.h>

#include "base/date.h"
#include "base/number.h"
#include "report/words.h"

#define TWO_SIGMA 1.96

char *
share_words(double frac)
{
    if (isnan(frac))
        return g_strdup("not known");
    if (frac < 0.005)
        return g_strdup("less than 1 in 100");
    if (frac > 0.995)
        return g_strdup("more than 99 in 100");
    return g_strdup_printf("%.0f in 100", 100.0 * frac);
}

char *
milestone_words(const WorkForecast *forecast, size_t milestone)
{
    return g_strdup(milestone == NO_TASK ? "all the work"
                                         : forecast->plan->milestone[milestone].name);
}

char *
days_words(double from_day, double to_day)
{
    g_autofree char *from = day_words(from_day), *to = day_words(to_day);
    return g_str_equal(from, to) ? g_steal_pointer(&from) : g_strdup_printf("%s to %s", from, to);
}

char *
reached_words(const WorkForecast *forecast, const ForecastMilestone *reached)
{
    g_autofree char *name = milestone_words(forecast, reached->milestone);
    if (isnan(reached->p50_day)) {
        *name = g_ascii_toupper(*name);
        return g_strdup_printf("%s: in most trials it is never reached.", name);
    }
    g_autofree char *middle = day_words(reached->p50_day);
    g_autofree char *early = day_words(reached->p10_day);
    g_autofree char *late =
        isnan(reached->p90_day) ? g_strdup("never") : day_words(reached->p90_day);
    g_autoptr(GString) out = g_string_new(name);
    *out->str = g_ascii_toupper(*out->str);
    g_string_append_printf(out, ": as likely as not done by %s", middle);
    if (strcmp(early, late) == 0)
        g_string_append(out, "; in 8 of 10 trials on that day.");
    else
        g_string_append_printf(out, "; in 8 of 10 trials between %s and %s.", early, late);
    if (isnan(reached->date_day))
        return g_string_free(g_steal_pointer(&out), FALSE);
    g_autofree char *chance = share_words(reached->chance_frac),
                    *date = day_words(reached->date_day - 0.5);
    double low = round(100.0 * reached->chance_low_frac),
           high = round(100.0 * reached->chance_high_frac);
    g_string_append_printf(out, " The chance to make %s: %s", date, chance);
    if (low < high)
        g_string_append_printf(out, " (%.0f to %.0f by the count of trials alone)", low, high);
    g_string_append_c(out, '.');
    return g_string_free(g_steal_pointer(&out), FALSE);
}

char *
stuck_words(const WorkForecast *forecast)
{
    g_autoptr(GString) out = g_string_new(NULL);
    for (size_t i = 0; i < forecast->n_tasks; i++) {
        const ForecastTask *task = &forecast->task[i];
        if (task->awaits != AWAITS_FOREVER || out->len > 0)
            continue;
        g_string_append_printf(out, "\u201c%s\u201d cannot be done by this plan: %s.",
                               forecast->plan->task[task->task].name,
                               task->why != NULL ? task->why : "nothing says why");
    }
    return out->len > 0 ? g_strdup(out->str) : NULL;
}

char *
help_words(const WorkForecast *forecast, const ForecastHelp *help)
{
    const char *task = help->task != NO_TASK ? forecast->plan->task[help->task].name : "";
    g_autofree char *chance = share_words(help->chance_frac);
    g_autoptr(GString) out = g_string_new(NULL);
    switch (help->kind) {
    case HELPS_HAND:
        g_string_append_printf(out, "A second pair of hands on \u201c%s\u201d", task);
        break;
    case HELPS_DROP:
        g_string_append_printf(out, "Leave out \u201c%s\u201d", task);
        break;
    case HELPS_LATER:
        g_string_append_printf(out, "The date %.0f day%s later", help->days,
                               help->days == 1.0 ? "" : "s");
        break;
    case HELPS_HOURS:
        g_string_append(out, "A quarter more hours a week of your own");
        break;
    }
    g_string_append_printf(out, ": %s, %.0f more in 100.", chance,
                           100.0 * fmax(help->gained_frac, 0.0));
    return g_string_free(g_steal_pointer(&out), FALSE);
}

/* "; costs about 24 000 on average, 300 more than the cheapest plan with the same luck" */
static void
append_costs(GString *out, const ForecastOption *option)
{
    if (isnan(option->mean_money))
        return;
    g_autofree char *mean = number_show(option->mean_money, NAN, Q_MONEY, UNITS_METRIC);
    g_autofree char *regret = number_show(option->regret_money, NAN, Q_MONEY, UNITS_METRIC);
    g_string_append_printf(out, "; costs %s on average", mean);
    if (option->regret_money >= 1.0)
        g_string_append_printf(out, ", %s more than the cheapest plan with the same luck", regret);
}

char *
option_words(const WorkForecast *forecast, const ForecastOption *option)
{
    if (option->fault != NULL)
        return g_strdup(option->fault);
    g_autoptr(GString) out = g_string_new(NULL);
    if (isnan(option->p50_day))
        g_string_append(out, "begun now it is in most trials never done");
    else {
        g_autofree char *chance = share_words(option->chance_frac),
                        *asked = share_words(forecast->asked_frac),
                        *middle = day_words(option->p50_day),
                        *last = day_words(option->no_return_day);
        g_string_append_printf(out, "begun now %s to be done in time, as likely as not by %s",
                               chance, middle);
        if (isnan(option->no_return_day))
            g_string_append_printf(out, "; the %s that are wanted are out of reach already", asked);
        else
            g_string_append_printf(out, "; begun after %s less than %s", last, asked);
    }
    append_costs(out, option);
    return g_string_free(g_steal_pointer(&out), FALSE);
}

char *
option_name(const ForecastOption *option)
{
    return option->option != NULL ? name_words(option->option) : g_strdup("the plan as it stands");
}

char *
pace_words(const WorkForecast *forecast)
{
    size_t n = forecast->plan->n_paces;
    if (n == 0)
        return NULL;
    double mean = forecast->pace_log_mean, reach = TWO_SIGMA * forecast->pace_log_sd;
    return g_strdup_printf("Things take %.2g times as long here as they were written down (%.2g to "
                           "%.2g), learned from %zu finished task%s.",
                           exp(mean), exp(mean - reach), exp(mean + reach), n, n == 1 ? "" : "s");
}

char *
hands_words(const WorkForecast *forecast, const ForecastTask *task)
{
    if (task->n_hands == 0)
        return NULL;
    g_autoptr(GString) out = g_string_new(NULL);
    for (size_t i = 0; i < task->n_hands; i++)
        g_string_append_printf(out, "%s%s",
                               i == 0                  ? ""
                               : i + 1 < task->n_hands ? ", "
                                                       : " and ",
                               forecast->plan->hand[task->hand[i]].name);
    return g_string_free(g_steal_pointer(&out), FALSE);
}

/* What is paid, and what is ordered but not paid, as it stands in the file. */
static void
money_so_far(const WorkPlan *plan, double *spent, double *committed)
{
    *spent = *committed = 0.0;
    for (size_t i = 0; i < plan->n_tasks; i++)
        *spent += plan->task[i].spent_money;
    for (size_t i = 0; i < plan->n_purchases; i++) {
        const WorkPurchase *p = &plan->purchase[i];
        double paid = isfinite(p->paid_money) ? p->paid_money : 0.0;
        *spent += paid;
        if (p->state != PURCHASE_WANTED && isfinite(p->price_money.likely))
            *committed += fmax(p->price_money.likely - paid, 0.0);
    }
}

char *
money_words(const WorkForecast *forecast, UnitsChoice units)
{
    double money[2];
    money_so_far(forecast->plan, &money[0], &money[1]);
    g_autofree char *spent = number_show(money[0], NAN, Q_MONEY, units),
                    *committed = number_show(money[1], NAN, Q_MONEY, units);
    g_autofree char *so_far =
        g_strdup_printf("Spent so far %s; ordered and not paid yet %s", spent, committed);
    if (isnan(forecast->cost_p50_money))
        return g_strdup_printf("%s; what is still to come cannot be told.", so_far);
    g_autofree char *half = number_show(forecast->cost_p50_money, NAN, Q_MONEY, units),
                    *most = number_show(forecast->cost_p80_money, NAN, Q_MONEY, units),
                    *more = number_show(forecast->contingency_money, NAN, Q_MONEY, units);
    return g_strdup_printf("%s. Still to be paid: as likely as not less than %s, in 8 of 10 trials "
                           "less than %s. Set %s aside beyond the plain sum.",
                           so_far, half, most, more);
}

size_t
helps_that_count(const WorkForecast *forecast, size_t room)
{
    size_t n = 0;
    while (n < room && n < forecast->n_helps && forecast->help[n].gained_frac >= 0.01)
        n++;
    return n;
}

size_t
forecast_next(const WorkForecast *forecast, size_t room, size_t index[])
{
    double first = INFINITY;
    for (size_t i = 0; i < forecast->n_tasks; i++)
        if (isfinite(forecast->task[i].start_day))
            first = fmin(first, floor(forecast->task[i].start_day));
    size_t n = 0;
    for (size_t i = 0; i < forecast->n_tasks && n < room; i++)
        if (isfinite(forecast->task[i].start_day) && forecast->task[i].start_day < first + 1.0)
            index[n++] = i;
    return n;
}
