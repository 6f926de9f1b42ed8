/* A forecast as JSON.
 * Invariant: what is not known is null. */
#include "report/forecast_json.h"

#include "report/forecast_words.h"

static const char *
task_path(const WorkForecast *forecast, size_t task)
{
    return task != NO_TASK ? forecast->plan->task[task].path : NULL;
}

static void
tasks(Json *json, const WorkForecast *forecast)
{
    json_begin(json, "tasks", '[');
    for (size_t i = 0; i < forecast->n_tasks; i++) {
        const ForecastTask *task = &forecast->task[i];
        g_autofree char *hands = hands_words(forecast, task);
        json_begin(json, NULL, '{');
        json_text(json, "task", task_path(forecast, task->task));
        json_text(json, "name", forecast->plan->task[task->task].name);
        json_quantity(json, "start", task->start_day, Q_DATE);
        json_quantity(json, "finish", task->finish_day, Q_DATE);
        json_text(json, "hands", hands);
        json_text(json, "why", task->why);
        json_number(json, "criticality", task->criticality_frac);
        json_number(json, "cruciality", task->cruciality_frac);
        json_end(json, '}');
    }
    json_end(json, ']');
}

static void
milestones(Json *json, const WorkForecast *forecast)
{
    json_begin(json, "milestones", '[');
    for (size_t i = 0; i < forecast->n_milestones; i++) {
        const ForecastMilestone *m = &forecast->milestone[i];
        g_autofree char *name = milestone_words(forecast, m->milestone);
        json_begin(json, NULL, '{');
        json_text(json, "name", name);
        json_quantity(json, "plan", m->plan_day, Q_DATE);
        json_quantity(json, "p10", m->p10_day, Q_DATE);
        json_quantity(json, "p50", m->p50_day, Q_DATE);
        json_quantity(json, "p80", m->p80_day, Q_DATE);
        json_quantity(json, "p90", m->p90_day, Q_DATE);
        json_number(json, "chance", m->chance_frac);
        json_number(json, "chance-low", m->chance_low_frac);
        json_number(json, "chance-high", m->chance_high_frac);
        json_end(json, '}');
    }
    json_end(json, ']');
}

void
json_helps(Json *json, const WorkForecast *forecast)
{
    static const char *const kinds[] = {[HELPS_HAND] = "hand",
                                        [HELPS_DROP] = "drop",
                                        [HELPS_LATER] = "later",
                                        [HELPS_HOURS] = "hours"};
    json_begin(json, "helps", '[');
    for (size_t i = 0; i < forecast->n_helps; i++) {
        const ForecastHelp *help = &forecast->help[i];
        json_begin(json, NULL, '{');
        json_text(json, "kind", kinds[help->kind]);
        json_text(json, "task", task_path(forecast, help->task));
        json_number(json, "days", help->days);
        json_number(json, "chance", help->chance_frac);
        json_number(json, "gained", help->gained_frac);
        json_quantity(json, "p50", help->p50_day, Q_DATE);
        json_end(json, '}');
    }
    json_end(json, ']');
}

void
json_last_days(Json *json, const WorkForecast *forecast)
{
    json_begin(json, "chances", '[');
    for (size_t i = 0; i < forecast->n_options; i++) {
        const ForecastOption *option = &forecast->option[i];
        json_begin(json, NULL, '{');
        json_text(json, "option", option->option);
        json_number(json, "chance", option->chance_frac);
        json_quantity(json, "p50", option->p50_day, Q_DATE);
        json_number(json, "cost", option->cost_money);
        json_number(json, "cost-mean", option->mean_money);
        json_number(json, "regret", option->regret_money);
        json_number(json, "mean-cost", option->mean_money);
        json_number(json, "regret", option->regret_money);
        json_quantity(json, "no-return", option->no_return_day, Q_DATE);
        json_text(json, "fault", option->fault);
        json_end(json, '}');
    }
    json_end(json, ']');
}

static void
months(Json *json, const WorkForecast *forecast)
{
    json_begin(json, "months", '[');
    for (size_t i = 0; i < forecast->n_months; i++) {
        const ForecastMonth *month = &forecast->month[i];
        g_autofree char *name = g_strdup_printf("%04d-%02d", month->year, month->month);
        json_begin(json, NULL, '{');
        json_text(json, "month", name);
        json_number(json, "likely", month->likely_money);
        json_number(json, "p50-to-its-end", month->p50_money);
        json_number(json, "p80-to-its-end", month->p80_money);
        json_end(json, '}');
    }
    json_end(json, ']');
}

void
json_forecast(Json *json, const WorkForecast *forecast)
{
    json_begin(json, "forecast", '{');
    json_text(json, "fault", forecast->fault);
    json_number(json, "trials", (double) forecast->trials);
    json_number(json, "seed", (double) forecast->seed);
    json_number(json, "asked", forecast->asked_frac);
    tasks(json, forecast);
    milestones(json, forecast);
    json_helps(json, forecast);
    json_last_days(json, forecast);
    months(json, forecast);
    json_number(json, "cost-p50", forecast->cost_p50_money);
    json_number(json, "cost-p80", forecast->cost_p80_money);
    json_number(json, "contingency", forecast->contingency_money);
    json_end(json, '}');
}
