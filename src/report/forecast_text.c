/* A forecast for the terminal.
 * Invariant: names of tasks stand in the owner's words, paths behind them. */
#include "report/forecast_text.h"

#include <math.h>

#include "report/colour.h"
#include "report/forecast_words.h"
#include "report/study_head.h"
#include "report/words.h"
#include "report/wrap.h"

enum { MOST_NEXT = 6, MOST_HELPS = 6, INDENT = 4 };

static void
one_next(const WorkForecast *forecast, const ForecastTask *task, size_t number, const Style *style,
         GString *out)
{
    const WorkTask *work = &forecast->plan->task[task->task];
    g_autofree char *name = text_clean(work->name);
    g_autofree char *first =
        work->stated ? g_strdup_printf("%s (%s)", name, work->path) : g_strdup(name);
    g_string_append_printf(out, "%2zu. ", number);
    wrap_text(out, first, INDENT, INDENT, style_width(style));
    g_autofree char *days = days_words(task->start_day, task->finish_day);
    g_autofree char *hands = hands_words(forecast, task);
    g_autofree char *when =
        g_strdup_printf("%s%s%s%s%s.", days, hands != NULL ? "; " : "", hands != NULL ? hands : "",
                        task->why != NULL ? "; " : "", task->why != NULL ? task->why : "");
    g_autofree char *clean = text_clean(when);
    study_detail(clean, INDENT, style, out);
}

static void
next(const WorkForecast *forecast, const Style *style, GString *out)
{
    size_t index[MOST_NEXT];
    size_t n = forecast_next(forecast, MOST_NEXT, index);
    study_heading("Do this next", style, out);
    for (size_t i = 0; i < n; i++)
        one_next(forecast, &forecast->task[index[i]], i + 1, style, out);
    if (n == 0)
        study_detail("Nothing can be begun.", 0, style, out);
}

static void
detail(char *words, const Style *style, GString *out)
{
    if (words == NULL)
        return;
    g_autofree char *clean = text_clean(words);
    study_detail(clean, 0, style, out);
    g_free(words);
}

static void
finish(const WorkForecast *forecast, const Style *style, GString *out)
{
    study_heading("When it is done, and how likely in time", style, out);
    for (size_t i = 0; i < forecast->n_milestones; i++)
        detail(reached_words(forecast, &forecast->milestone[i]), style, out);
    detail(stuck_words(forecast), style, out);
    detail(pace_words(forecast), style, out);
    if (isfinite(forecast->no_slot_frac) && forecast->no_slot_frac >= 0.005) {
        g_autofree char *missed = share_words(forecast->no_slot_frac);
        detail(
            g_strdup_printf("%s that she misses every slot ashore that is written down.", missed),
            style, out);
    }
}

void
write_helps_text(const WorkForecast *forecast, const Style *style, GString *out)
{
    study_heading("What would help most to be done in time", style, out);
    size_t n = helps_that_count(forecast, MOST_HELPS);
    for (size_t i = 0; i < n; i++)
        detail(help_words(forecast, &forecast->help[i]), style, out);
    if (n == 0)
        study_detail("Nothing that was tried makes a difference.", 0, style, out);
}

void
write_last_days_text(const WorkForecast *forecast, const Style *style, GString *out)
{
    study_heading("In time, the last day to begin, and what it costs", style, out);
    if (forecast->fault != NULL) {
        detail(g_strdup(forecast->fault), style, out);
        return;
    }
    for (size_t i = 0; i < forecast->n_options; i++) {
        g_autofree char *words = option_words(forecast, &forecast->option[i]);
        g_autofree char *name = option_name(&forecast->option[i]);
        detail(g_strdup_printf("%s: %s.", name, words), style, out);
    }
}

static void
money(const WorkForecast *forecast, const Style *style, GString *out)
{
    study_heading("Money", style, out);
    detail(money_words(forecast, style->units), style, out);
}

void
write_forecast_text(const WorkForecast *forecast, const Style *style, GString *out)
{
    if (forecast->fault != NULL) {
        study_heading("When it is done", style, out);
        detail(g_strdup(forecast->fault), style, out);
        return;
    }
    next(forecast, style, out);
    finish(forecast, style, out);
    write_helps_text(forecast, style, out);
    write_last_days_text(forecast, style, out);
    money(forecast, style, out);
}
