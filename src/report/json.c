/* Check, answers and why as JSON. Member names and nesting are a contract: outside programs read
 * them. */
#include "report/json.h"

#include <math.h>
#include <string.h>

#include "report/json_out.h"
#include "report/doubt_json.h"
#include "report/forecast_json.h"
#include "report/remedies_json.h"
#include "report/scan_symbols.h"
#include "report/words.h"

static void
members_of_answer(Json *json, const Answer *a)
{
    json_begin(json, a->name, '{');
    json_text(json, "name", a->kind->name);
    json_text(json, "label", a->kind->label);
    json_quantity(json, "value", a->value, a->kind->kind);
    json_text(json, "unit", kind_si(a->kind->kind));
    json_number(json, "spread", a->spread);
    json_text(json, "basis", basis_word(a->basis));
    json_text(json, "validity", validity_word(a->validity));
    json_text(json, "standing", standing_word(a->standing));
    json_text(json, "record", a->record);
    json_text(json, "situation", a->situation);
    json_end(json, '}');
}

static void
answers_object(Json *json, const char *key, const Result *result, size_t n,
               const char *const names[])
{
    json_begin(json, key, '{');
    for (size_t i = 0; n == 0 && i < result_answers(result); i++)
        members_of_answer(json, result_answer(result, i));
    for (size_t i = 0; i < n; i++) {
        const Answer *answer = result_answer_find(result, names[i]);
        if (answer != NULL)
            members_of_answer(json, answer);
    }
    json_end(json, '}');
}

static void
measured_value(Json *json, const Finding *f)
{
    if (!f->measured) {
        json_text(json, "value", NULL);
        json_text(json, "limit", NULL);
        return;
    }
    json_begin(json, "value", '{');
    json_quantity(json, "value", f->value, f->kind);
    json_text(json, "unit", kind_si(f->kind));
    json_number(json, "spread", f->spread);
    json_end(json, '}');
    json_begin(json, "limit", '{');
    json_quantity(json, "value", f->limit, f->kind);
    json_text(json, "unit", kind_si(f->kind));
    json_text(json, "sense", f->sense == AT_MOST ? "at most" : "at least");
    json_end(json, '}');
}

static void
finding_object(Json *json, const Result *result, const Asked *asked, const Finding *f)
{
    g_autofree char *title = finding_sentence(result, f, UNITS_METRIC);
    bool sourced = f->source.text != NULL && *f->source.text != '\0';
    Standing standing =
        sourced || f->working == NULL ? f->source.standing : working_standing(f->working);
    json_begin(json, NULL, '{');
    json_text(json, "id", f->id);
    json_text(json, "level", level_word(f->level));
    json_text(json, "discipline", f->check->discipline);
    json_text(json, "about", f->about);
    json_text(json, "title", title);
    measured_value(json, f);
    json_text(json, "source", sourced ? f->source.text : NULL);
    json_text(json, "standing", standing_word(standing));
    json_text(json, "note", f->source_note);
    json_text(json, "basis", basis_word(f->basis));
    json_text(json, "validity", validity_word(f->validity));
    g_autofree char *situation = f->situation != NULL ? situation_id(f->situation) : NULL;
    const char *variant = f->situation != NULL ? strstr(f->situation, ", ") : NULL;
    json_text(json, "situation", situation);
    json_text(json, "variant", variant != NULL ? variant + 2 : NULL);
    json_text(json, "cause", f->cause);
    if (f->settle_text != NULL || f->settle_path != NULL) {
        json_begin(json, "settle", '{');
        json_text(json, "path", f->settle_path);
        json_text(json, "text", f->settle_text);
        json_end(json, '}');
    } else
        json_text(json, "settle", NULL);
    json_remedies(json, result,
                  asked->remedies != NULL ? remedies_for(asked->remedies, f->id) : NULL);
    json_end(json, '}');
}

static void
finish(Json *json)
{
    json_end(json, '}');
    g_string_append_c(json->out, '\n');
}

void
write_check_json(const Result *result, const Asked *asked, GString *out)
{
    Json json = {.out = out};
    size_t answered, questions;
    result_questions(result, &answered, &questions);
    json_begin(&json, NULL, '{');
    json_text(&json, "careen", CAREEN_VERSION);
    json_text(&json, "boat", boat_name(result));
    json_text(&json, "stage", stage_word(result_stage(result)));
    json_begin(&json, "options", '[');
    for (size_t i = 0; i < asked->n_options; i++)
        json_text(&json, NULL, asked->options[i]);
    json_end(&json, ']');
    json_begin(&json, "questions", '{');
    json_number(&json, "answered", (double) answered);
    json_number(&json, "asked", (double) questions);
    json_end(&json, '}');
    answers_object(&json, "answers", result, 0, NULL);
    json_begin(&json, "findings", '[');
    for (size_t i = 0; i < result_findings(result); i++)
        finding_object(&json, result, asked, result_finding(result, i));
    json_end(&json, ']');
    if (asked->doubt != NULL)
        json_next(&json, asked->doubt);
    if (asked->forecast != NULL)
        json_forecast(&json, asked->forecast);
    finish(&json);
}

void
write_answers_json(const Result *result, size_t n, const char *const names[], GString *out)
{
    Json json = {.out = out};
    answers_object(&json, NULL, result, n, names);
    g_string_append_c(out, '\n');
}

static void
step_value(Json *json, const char *key, const Step *step, bool list)
{
    if (!list) {
        json_quantity(json, key, step->n > 0 ? step->value[0] : NAN, step->kind);
        return;
    }
    json_begin(json, key, '[');
    for (size_t i = 0; i < step->n; i++)
        json_quantity(json, NULL, step->value[i], step->kind);
    json_end(json, ']');
}

static bool
is_list(const Step *step)
{
    return step->n != 1 || step->names != NULL;
}

static void
inputs_object(Json *json, const Working *working, size_t index)
{
    const Step *step = working_step(working, index);
    json_begin(json, "inputs", '{');
    SymbolScan scan = symbol_scan(step->expression);
    while (symbol_next(&scan)) {
        const Step *input = symbol_step(working, index, &scan);
        if (input != NULL && scan.first)
            step_value(json, input->symbol, input, is_list(input));
    }
    json_end(json, '}');
}

static void
step_object(Json *json, const Working *working, size_t index)
{
    static const char *const types[] = {"given", "equals", "found"};
    const Step *step = working_step(working, index);
    json_begin(json, NULL, '{');
    json_text(json, "symbol", step->symbol);
    json_text(json, "label", step->label);
    json_text(json, "type", types[step->type]);
    json_text(json, "expression", step->expression);
    inputs_object(json, working, index);
    step_value(json, "value", step, is_list(step));
    json_text(json, "unit", kind_si(step->kind));
    json_number(json, "spread", step->spread);
    json_text(json, "basis", basis_word(step->basis));
    json_text(json, "source", step->source.text);
    json_text(json, "standing", standing_word(step->source.standing));
    json_text(json, "validity", validity_word(step->validity));
    json_text(json, "path", step->path);
    if (step->names != NULL) {
        json_begin(json, "names", '[');
        for (size_t i = 0; i < step->n; i++)
            json_text(json, NULL, step->names[i]);
        json_end(json, ']');
    }
    json_end(json, '}');
}

bool
write_why_json(const Result *result, const char *name, GString *out)
{
    const Answer *answer = result_answer_find(result, name);
    const Finding *finding = result_finding_find(result, name);
    if (answer == NULL && finding == NULL)
        return false;
    const Working *working = answer != NULL ? answer->working : finding->working;
    Json json = {.out = out};
    json_begin(&json, NULL, '{');
    json_text(&json, "name", name);
    json_text(&json, "title", working != NULL ? working_title(working) : NULL);
    json_begin(&json, "steps", '[');
    for (size_t i = 0; working != NULL && i < working_steps(working); i++)
        step_object(&json, working, i);
    json_end(&json, ']');
    finish(&json);
    return true;
}
