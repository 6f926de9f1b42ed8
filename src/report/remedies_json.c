/* Remedies as JSON. Member names and nesting are a contract: outside programs read them. */
#include "report/remedies_json.h"

#include <math.h>

#include "report/forecast_json.h"
#include "report/remedies_text.h"
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
moves(Json *json, const Remedy *remedy)
{
    json_begin(json, "moved", '[');
    for (size_t i = 0; i < remedy->n_moves; i++) {
        json_begin(json, NULL, '{');
        json_text(json, "answer", remedy->move[i].answer);
        json_number(json, "before", remedy->move[i].before);
        json_number(json, "after", remedy->move[i].after);
        json_end(json, '}');
    }
    json_end(json, ']');
}

static void
one(Json *json, const Result *result, const Remedy *remedy)
{
    g_autofree char *words = remedy_words(result, remedy, UNITS_METRIC);
    json_begin(json, NULL, '{');
    json_begin(json, "edits", '[');
    for (size_t i = 0; i < remedy->n_edits; i++) {
        json_begin(json, NULL, '{');
        json_text(json, "path", remedy->edit[i].path);
        json_text(json, "value", remedy->edit[i].value);
        json_end(json, '}');
    }
    json_end(json, ']');
    if (remedy->because != NULL)
        json_text(json, "because", remedy->because);
    json_text(json, "says", words);
    json_text(json, "level", level_word(remedy->level));
    json_number(json, "value", remedy->value);
    json_number(json, "spread", remedy->spread);
    ids(json, "gained", remedy->n_gained, remedy->gained);
    ids(json, "lost", remedy->n_lost, remedy->lost);
    if (remedy->n_exchanged > 0)
        ids(json, "exchanged", remedy->n_exchanged, remedy->exchanged);
    moves(json, remedy);
    if (isfinite(remedy->p50_day) || isfinite(remedy->chance_frac)) {
        json_number(json, "chance_before", remedy->chance_before_frac);
        json_number(json, "chance", remedy->chance_frac);
        json_quantity(json, "p50_before", remedy->p50_before_day, Q_DATE);
        json_quantity(json, "p50", remedy->p50_day, Q_DATE);
    }
    json_number(json, "kilos", remedy->kilos);
    json_number(json, "money", remedy->money);
    json_end(json, '}');
}

static void
list(Json *json, const char *key, const Result *result, size_t n, const Remedy remedy[])
{
    json_begin(json, key, '[');
    for (size_t i = 0; i < n; i++)
        one(json, result, &remedy[i]);
    json_end(json, ']');
}

void
json_remedies(Json *json, const Result *result, const RemediesOf *of)
{
    list(json, "remedies", result, of != NULL ? of->n_remedies : 0, of != NULL ? of->remedy : NULL);
}

static void
of_finding(Json *json, const Result *result, const RemediesOf *of)
{
    const Finding *f = result_finding_find(result, of->finding);
    g_autofree char *title = finding_sentence(result, f, UNITS_METRIC);
    json_begin(json, NULL, '{');
    json_text(json, "id", f->id);
    json_text(json, "level", level_word(f->level));
    json_text(json, "about", f->about);
    json_text(json, "title", title);
    json_remedies(json, result, of);
    list(json, "rejected", result, of->n_rejected, of->rejected);
    json_text(json, "nothing", of->nothing);
    json_end(json, '}');
}

void
write_remedies_json(const Result *result, const Remedies *remedies, const Asked *asked,
                    GString *out)
{
    Json json = {.out = out};
    json_begin(&json, NULL, '{');
    json_text(&json, "careen", CAREEN_VERSION);
    json_text(&json, "boat", boat_name(result));
    json_text(&json, "stage", stage_word(result_stage(result)));
    ids(&json, "options", asked->n_options, asked->options);
    json_number(&json, "solved", (double) remedies->solves);
    json_begin(&json, "findings", '[');
    for (size_t i = 0; i < remedies->n; i++)
        of_finding(&json, result, &remedies->of[i]);
    json_end(&json, ']');
    if (asked->forecast != NULL)
        json_helps(&json, asked->forecast);
    json_end(&json, '}');
    g_string_append_c(out, '\n');
}
