/* A studied doubt as JSON. Member names and nesting are a contract: outside programs read them. */
#include "report/doubt_json.h"

#include "report/json_out.h"
#include "report/words.h"

static void
shares(Json *json, size_t n, const DoubtShare share[])
{
    json_begin(json, "inputs", '[');
    for (size_t i = 0; i < n; i++) {
        json_begin(json, NULL, '{');
        json_text(json, "path", share[i].path);
        json_number(json, "share", share[i].share);
        json_end(json, '}');
    }
    json_end(json, ']');
}

static void
answers(Json *json, const Doubt *doubt)
{
    json_begin(json, "answers", '{');
    for (size_t i = 0; i < doubt->n_answers; i++) {
        const DoubtAnswer *a = &doubt->answer[i];
        json_begin(json, a->name, '{');
        json_quantity(json, "value", a->value, a->kind);
        json_text(json, "unit", kind_si(a->kind));
        json_number(json, "spread", a->spread);
        json_flag(json, "sampled", a->sampled);
        json_number(json, "before-trials", a->before);
        json_number(json, "moved-by-trials", a->moved);
        shares(json, a->n, a->share);
        json_end(json, '}');
    }
    json_end(json, '}');
}

static void
verdicts(Json *json, const Doubt *doubt)
{
    json_begin(json, "verdicts", '[');
    for (size_t i = 0; i < doubt->n_verdicts; i++) {
        const DoubtVerdict *v = &doubt->verdict[i];
        json_begin(json, NULL, '{');
        json_text(json, "finding", v->finding);
        json_text(json, "level", level_word(v->after));
        json_text(json, "before", level_word(v->before));
        json_flag(json, "could-turn", v->could_turn);
        json_number(json, "margin", v->margin);
        json_number(json, "spread", v->spread);
        json_number(json, "turns", v->turns_frac);
        json_text(json, "settle", v->settle_path);
        shares(json, v->n, v->share);
        json_end(json, '}');
    }
    json_end(json, ']');
}

static void
readings(Json *json, const Doubt *doubt)
{
    json_begin(json, "trials", '[');
    for (size_t i = 0; i < doubt->n_readings; i++) {
        const DoubtReading *r = &doubt->reading[i];
        json_begin(json, NULL, '{');
        json_text(json, "finding", r->finding);
        json_text(json, "path", r->path);
        json_text(json, "where", r->where);
        json_number(json, "read", r->read);
        json_number(json, "within", r->within);
        json_number(json, "reckoned", r->reckoned);
        json_number(json, "spread", r->reckoned_spread);
        json_text(json, "unit", "m");
        json_flag(json, "outside", r->outside);
        json_flag(json, "used", r->used);
        shares(json, r->n, r->share);
        json_end(json, '}');
    }
    json_end(json, ']');
}

void
json_next(Json *json, const Doubt *doubt)
{
    json_begin(json, "next", '[');
    for (size_t i = 0; i < doubt->n_next; i++) {
        const MeasureNext *m = &doubt->next[i];
        json_begin(json, NULL, '{');
        json_text(json, "path", m->path);
        json_text(json, "what", m->what);
        json_text(json, "instrument", m->instrument);
        json_text(json, "how", m->how);
        json_number(json, "minutes", m->minutes);
        json_number(json, "takes", m->takes_frac);
        json_begin(json, "settles", '[');
        for (size_t k = 0; k < m->n; k++)
            json_text(json, NULL, m->settles[k]);
        json_end(json, ']');
        json_end(json, '}');
    }
    json_end(json, ']');
}

void
write_doubt_json(const Result *result, const Doubt *doubt, const Asked *asked, GString *out)
{
    Json json = {.out = out};
    json_begin(&json, NULL, '{');
    json_text(&json, "careen", CAREEN_VERSION);
    json_text(&json, "boat", boat_name(result));
    json_text(&json, "stage", stage_word(result_stage(result)));
    json_begin(&json, "options", '[');
    for (size_t i = 0; i < asked->n_options; i++)
        json_text(&json, NULL, asked->options[i]);
    json_end(&json, ']');
    json_number(&json, "moved", (double) doubt->n_inputs);
    json_number(&json, "solved", (double) doubt->n_solves);
    answers(&json, doubt);
    verdicts(&json, doubt);
    readings(&json, doubt);
    json_next(&json, doubt);
    json_end(&json, '}');
    g_string_append_c(out, '\n');
}
