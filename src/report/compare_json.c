/* Plans side by side as JSON. Member names and nesting are a contract: outside programs read them. */
#include "report/compare_json.h"

#include "report/forecast_json.h"
#include "report/json_out.h"
#include "report/words.h"

static void
ids(Json *json, const char *key, size_t n, const char *const list[])
{
    json_begin(json, key, '[');
    for (size_t i = 0; i < n; i++)
        json_text(json, NULL, list[i]);
    json_end(json, ']');
}

static void
answers(Json *json, const Plan *plan)
{
    json_begin(json, "answers", '{');
    for (size_t i = 0; i < plan->n_answers; i++) {
        const PlanAnswer *a = &plan->answer[i];
        json_begin(json, a->name, '{');
        json_quantity(json, "value", a->value, a->kind);
        json_text(json, "unit", kind_si(a->kind));
        json_number(json, "spread", a->spread);
        if (plan->option != NULL) {
            json_quantity(json, "base", a->base, a->kind);
            json_number(json, "difference-spread", a->diff_spread);
            json_flag(json, "differs", a->differs);
        }
        json_end(json, '}');
    }
    json_end(json, '}');
}

static void
levels(Json *json, const Plan *plan)
{
    json_begin(json, "findings", '{');
    for (int level = LEVEL_DANGER; level <= LEVEL_FINE; level++)
        json_number(json, level_word((Level) level), (double) plan->level[level]);
    json_end(json, '}');
}

static void
masses(Json *json, const Plan *plan)
{
    json_number(json, "kilos", plan->kilos);
    json_number(json, "along", plan->x_m);
    json_number(json, "across", plan->y_m);
    json_number(json, "height", plan->z_m);
    json_begin(json, "masses", '[');
    for (size_t i = 0; i < plan->n_masses; i++) {
        json_begin(json, NULL, '{');
        json_text(json, "item", plan->mass[i].item);
        json_number(json, "kilos", plan->mass[i].kilos);
        json_number(json, "along", plan->mass[i].x_m);
        json_number(json, "across", plan->mass[i].y_m);
        json_number(json, "height", plan->mass[i].z_m);
        json_end(json, '}');
    }
    json_end(json, ']');
}

static void
one(Json *json, const Plan *plan)
{
    json_begin(json, NULL, '{');
    json_text(json, "option", plan->option);
    json_text(json, "stage", stage_word(plan->stage));
    json_text(json, "why", plan->why);
    json_text(json, "fault", plan->fault);
    answers(json, plan);
    ids(json, "gained", plan->n_gained, plan->gained);
    ids(json, "lost", plan->n_lost, plan->lost);
    levels(json, plan);
    masses(json, plan);
    json_number(json, "holes-below", (double) plan->holes_below);
    json_number(json, "money", plan->money);
    json_number(json, "unpriced", (double) plan->n_unpriced);
    json_end(json, '}');
}

void
write_compare_json(const Result *result, const Comparison *comparison, const Asked *asked,
                   GString *out)
{
    Json json = {.out = out};
    json_begin(&json, NULL, '{');
    json_text(&json, "careen", CAREEN_VERSION);
    json_text(&json, "boat", boat_name(result));
    ids(&json, "options", asked->n_options, asked->options);
    json_begin(&json, "plans", '[');
    for (size_t i = 0; i < comparison->n; i++)
        one(&json, &comparison->plan[i]);
    json_end(&json, ']');
    if (asked->forecast != NULL)
        json_last_days(&json, asked->forecast);
    json_end(&json, '}');
    g_string_append_c(out, '\n');
}
