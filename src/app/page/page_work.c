/* The work: what next, when it is done and how likely in time, what would help; then what every discipline has. */
#include <math.h>

#include "app/page/pages.h"
#include "base/date.h"
#include "base/number.h"
#include "report/forecast_words.h"
#include "report/words.h"
#include "study/work_answers.h"

enum { MOST_NEXT = 6, MOST_HELPS = 8 };

/* Takes the words over; NULL: nothing. */
static void
say(Page *page, const char *element, char *words)
{
    if (words != NULL)
        page_text(page, element, NULL, words);
    g_free(words);
}

static void
next_task(Page *page, const WorkForecast *forecast, const ForecastTask *task)
{
    const WorkTask *work = &forecast->plan->task[task->task];
    g_autofree char *days = days_words(task->start_day, task->finish_day);
    g_autofree char *hands = hands_words(forecast, task);
    markup_open(page->out, "li", NULL);
    markup_open(page->out, "h3", NULL);
    if (work->record != NULL)
        page_anchor(page, page_record_link(page, work->path), NULL, work->name);
    else
        markup_text(page->out, work->name);
    markup_close(page->out);
    say(page, "p",
        g_strdup_printf("%s%s%s.", days, hands != NULL ? ", " : "", hands != NULL ? hands : ""));
    if (task->why != NULL)
        page_text(page, "p", "quiet", task->why);
    if (work->tools != NULL)
        say(page, "p", g_strdup_printf("Bring: %s.", work->tools));
    if (work->parts != NULL)
        say(page, "p", g_strdup_printf("Parts: %s.", work->parts));
    markup_close(page->out);
}

static void
next(Page *page, const WorkForecast *forecast)
{
    size_t index[MOST_NEXT];
    size_t n = forecast_next(forecast, MOST_NEXT, index);
    page_heading(page, "Do this next");
    if (n == 0)
        page_text(page, "p", "empty", "Nothing can be begun.");
    markup_open(page->out, "ol", "class", "next", NULL);
    for (size_t i = 0; i < n; i++)
        next_task(page, forecast, &forecast->task[index[i]]);
    markup_close(page->out);
}

Result *
page_forecast_result(const Page *page, const WorkForecast *forecast)
{
    SolveInput input = page->shown->loaded->input;
    input.only = "work";
    Result *result = solve(&input);
    work_answers_give(forecast, result);
    return result;
}

/* The answers of the forecast, each with its working behind it. */
static void
forecast_answers(Page *page, const WorkForecast *forecast)
{
    g_autoptr(Result) result = page_forecast_result(page, forecast);
    markup_open(page->out, "dl", "class", "facts few", NULL);
    for (size_t i = 0; i < result_answers(result); i++) {
        const Answer *answer = result_answer(result, i);
        if (work_answer_known(answer->name) && answer->record == NULL)
            page_fact(page, answer->kind->label, answer);
    }
    markup_close(page->out);
}

static void
finish(Page *page, const WorkForecast *forecast)
{
    page_heading(page, "When it is done, and how likely in time");
    forecast_answers(page, forecast);
    markup_open(page->out, "ul", "class", "list", NULL);
    for (size_t i = 0; i < forecast->n_milestones; i++)
        say(page, "li", reached_words(forecast, &forecast->milestone[i]));
    say(page, "li", stuck_words(forecast));
    say(page, "li", pace_words(forecast));
    markup_close(page->out);
    g_autofree char *trials = g_strdup_printf("From %zu trials in which every task takes its hours "
                                              "as they may fall. Hours that are wrong "
                                              "in the file are wrong here too.",
                                              forecast->trials);
    page_text(page, "p", "quiet", trials);
}

void
page_helps(Page *page, const WorkForecast *forecast)
{
    page_heading(page, "What would help most, tried on the same trials");
    size_t n = helps_that_count(forecast, MOST_HELPS);
    if (n == 0)
        page_text(page, "p", "empty", "Nothing that was tried makes a difference.");
    markup_open(page->out, "ul", "class", "list", NULL);
    for (size_t i = 0; i < n; i++)
        say(page, "li", help_words(forecast, &forecast->help[i]));
    markup_close(page->out);
}

void
page_last_days(Page *page, const WorkForecast *forecast)
{
    page_heading(page, "In time, the last day to begin, and what it costs");
    markup_open(page->out, "ul", "class", "list", NULL);
    for (size_t i = 0; i < forecast->n_options; i++) {
        g_autofree char *name = option_name(&forecast->option[i]);
        g_autofree char *words = option_words(forecast, &forecast->option[i]);
        *name = g_ascii_toupper(*name);
        say(page, "li", g_strdup_printf("%s: %s.", name, words));
    }
    markup_close(page->out);
}

static void
money_cell(Page *page, double money)
{
    g_autofree char *text = number_show(money, NAN, Q_MONEY, page->units);
    markup_element(page->out, "td", text, "class", "number", NULL);
}

static void
months(Page *page, const WorkForecast *forecast)
{
    page_heading(page, "Money by month");
    say(page, "p", money_words(forecast, page->units));
    if (forecast->n_months == 0) {
        page_text(page, "p", "empty", "No prices are written down.");
        return;
    }
    markup_open(page->out, "div", "class", "wide", "tabindex", "0", "role", "region", "aria-label",
                "Money by month", NULL);
    markup_open(page->out, "table", NULL);
    markup_open(page->out, "tr", NULL);
    for (const char *const *head =
             (const char *const[]){"Month", "By the plan", "All to its end, as likely as not",
                                   "All to its end, 8 in 10", NULL};
         *head != NULL; head++)
        markup_element(page->out, "th", *head, "scope", "col", NULL);
    markup_close(page->out);
    for (size_t i = 0; i < forecast->n_months; i++) {
        const ForecastMonth *month = &forecast->month[i];
        g_autofree char *name = g_strdup_printf("%04d-%02d", month->year, month->month);
        markup_open(page->out, "tr", NULL);
        markup_element(page->out, "th", name, "scope", "row", NULL);
        money_cell(page, month->likely_money);
        money_cell(page, month->p50_money);
        money_cell(page, month->p80_money);
        markup_close(page->out);
    }
    markup_close(page->out);
    markup_close(page->out);
}

static void
forecast(Page *page)
{
    g_auto(StudyView) view = {0};
    if (!page_study(page, STUDY_FORECAST, NULL, &view))
        return;
    if (view.forecast->fault != NULL) {
        page_heading(page, "When it is done");
        page_text(page, "p", "empty", view.forecast->fault);
        return;
    }
    next(page, view.forecast);
    finish(page, view.forecast);
    page_helps(page, view.forecast);
    page_last_days(page, view.forecast);
    months(page, view.forecast);
}

void
page_work(Page *page)
{
    page_title(page, "%s", page->info->menu);
    forecast(page);
    page_discipline_rest(page, "work");
}
