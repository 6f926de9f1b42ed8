/* Plans side by side.
 * Invariant: the difference of an answer is judged against the spread of the difference: what both plans share cancels, and
 * only what differs between them is moved. */
#include "study/compare.h"

#include <math.h>
#include <string.h>

#include "boat/model.h"
#include "checks/derive/masses.h"
#include "study/plan_masses.h"

typedef struct {
    gatomicrefcount references;
    GPtrArray *blocks;
    GStringChunk *texts;
} Store;

typedef struct { /* one plan at one stage, solved */
    const char *option;
    Stage stage;
    char *fault;
    Boat *boat;
    SolveInput input;
    Result *result;
    double *diff_variance; /* [answers of result] of what only this plan has */
    double *base_variance; /* the same answers moved by what only the base has */
} Solved;

typedef struct {
    const SolveInput *solve;
    const PlanText *text;
    const StudyHow *how;
    size_t n;
    Solved *solved; /* base now, base done, then option by option */
    gint solves;
} Work;

/* ---- solving ---- */

static void
solve_plan(size_t i, void *data)
{
    Work *work = data;
    Solved *s = &work->solved[i];
    g_autoptr(GError) error = NULL;
    g_autofree const char **options = g_new(const char *, work->text->n_options + 2);
    size_t n = work->text->n_options;
    for (size_t k = 0; k < n; k++)
        options[k] = work->text->options[k];
    if (s->option != NULL)
        options[n++] = s->option;
    s->boat = plan_read(boat_base(work->solve->boat), n, options, &error);
    if (s->boat == NULL) {
        s->fault = g_strdup(error->message);
        return;
    }
    s->input = *work->solve;
    s->input.boat = s->boat;
    s->input.stage = s->stage;
    s->result = solve(&s->input);
    g_atomic_int_inc(&work->solves);
}

/* ---- the spread of a difference ---- */

static bool
same_number(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

/* Whether the other plan has the same input, value and spread alike. */
static bool
shared(const Input *input, const GHashTable *others)
{
    const GArray *list = g_hash_table_lookup((GHashTable *) others, input->path);
    for (guint i = 0; list != NULL && i < list->len; i++) {
        const Input *other = g_array_index(list, const Input *, i);
        if (other->part == input->part && other->entry == input->entry &&
            same_number(other->value, input->value) && same_number(other->spread, input->spread))
            return true;
    }
    return false;
}

static GHashTable *
by_path(const Inputs *inputs)
{
    GHashTable *table =
        g_hash_table_new_full(g_str_hash, g_str_equal, NULL, (GDestroyNotify) g_array_unref);
    for (guint i = 0; i < inputs->input->len; i++) {
        const Input *input = &g_array_index(inputs->input, Input, i);
        GArray *list = g_hash_table_lookup(table, input->path);
        if (list == NULL) {
            list = g_array_new(FALSE, FALSE, sizeof(const Input *));
            g_hash_table_insert(table, (gpointer) input->path, list);
        }
        g_array_append_val(list, input);
    }
    return table;
}

/* Adds the variance of every answer of `like` that the inputs of one plan alone bring to that plan's result. */
static void
own_variance(Work *work, const Solved *s, const Inputs *own, const GHashTable *others,
             const Result *like, double variance[])
{
    size_t n = result_answers(like);
    g_autofree double *together = g_new0(double, N_INPUT_GROUPS *n + 1);
    g_autoptr(Boat) copy = boat_copy(s->boat);
    for (guint i = 0; i < own->input->len && !study_cancelled(work->how); i++) {
        const Input *input = &g_array_index(own->input, Input, i);
        if (shared(input, others) || input->part == PART_MOMENT)
            continue;
        input_move(input, copy, input->spread / 2.0);
        SolveInput moved = s->input;
        moved.boat = copy;
        g_autoptr(Result) result = solve(&moved);
        g_atomic_int_inc(&work->solves);
        input_move(input, copy, 0.0);
        for (size_t k = 0; k < n; k++) {
            const char *name = result_answer(like, k)->name;
            const Answer *was = result_answer_find(s->result, name),
                         *now = result_answer_find(result, name);
            double d = was != NULL && now != NULL ? 2.0 * (now->value - was->value) : NAN;
            if (!isfinite(d))
                continue;
            if (input->group == INPUT_ALONE)
                variance[k] += d * d;
            else
                together[(size_t) input->group * n + k] += d;
        }
    }
    for (int g = INPUT_BY_EYE; g < N_INPUT_GROUPS; g++)
        for (size_t k = 0; k < n; k++)
            variance[k] += pow(together[(size_t) g * n + k], 2);
}

static void
move_difference(size_t i, void *data)
{
    Work *work = data;
    Solved *s = &work->solved[i + 2];
    const Solved *base = &work->solved[i % 2];
    if (s->result == NULL || base->result == NULL)
        return;
    g_autoptr(Inputs) own = inputs_of(&s->input);
    g_autoptr(Inputs) of_base = inputs_of(&base->input);
    g_autoptr(GHashTable) at_own = by_path(own);
    g_autoptr(GHashTable) at_base = by_path(of_base);
    size_t n = result_answers(s->result);
    s->diff_variance = g_new0(double, n + 1);
    s->base_variance = g_new0(double, n + 1);
    own_variance(work, s, own, at_base, s->result, s->diff_variance);
    own_variance(work, base, of_base, at_own, s->result, s->base_variance);
}

/* ---- putting it down ---- */

static void *
block(Store *store, size_t n, size_t size)
{
    void *made = g_malloc0_n(MAX(n, 1), size);
    g_ptr_array_add(store->blocks, made);
    return made;
}

static const char *
keep(Store *store, const char *text)
{
    return text != NULL ? g_string_chunk_insert_const(store->texts, text) : NULL;
}

/* The governing answer may be that of a record: its bare name is what counts. */
static bool
bare(const Answer *answer)
{
    g_autofree char *name = g_strdup_printf("%s.%s", answer->kind->discipline, answer->kind->name);
    return strcmp(name, answer->name) == 0;
}

static void
put_answers(Store *store, Plan *plan, const Solved *s, const Solved *base)
{
    size_t n = result_answers(s->result);
    PlanAnswer *answer = block(store, n, sizeof *answer);
    plan->answer = answer;
    for (size_t k = 0; k < n; k++) {
        const Answer *from = result_answer(s->result, k);
        if (!bare(from))
            continue;
        const Answer *was = base != NULL && base->result != NULL
                                ? result_answer_find(base->result, from->name)
                                : NULL;
        PlanAnswer *to = &answer[plan->n_answers++];
        *to = (PlanAnswer){.name = keep(store, from->name),
                           .label = from->kind->label,
                           .kind = from->kind->kind,
                           .value = from->value,
                           .spread = from->spread,
                           .base = was != NULL ? was->value : NAN,
                           .diff_spread = NAN};
        if (s->diff_variance == NULL)
            continue;
        to->diff_spread = sqrt(s->diff_variance[k] + s->base_variance[k]);
        double off = fabs(to->value - to->base);
        /* A millionth is rounding, whatever the spread. */
        to->differs = isnan(to->base) != isnan(to->value) ||
                      (off > to->diff_spread && off > 1e-6 * fabs(to->base));
    }
}

static const char *const *
put_ids(Store *store, const GPtrArray *ids)
{
    const char **list = block(store, ids->len, sizeof *list);
    for (guint i = 0; i < ids->len; i++)
        list[i] = keep(store, ids->pdata[i]);
    return list;
}

static void
put_findings(Store *store, Plan *plan, const Result *now, const Result *base)
{
    g_autoptr(GPtrArray) gained = g_ptr_array_new();
    g_autoptr(GPtrArray) lost = g_ptr_array_new();
    result_count(now, ANY_LINE, plan->level);
    for (size_t i = 0; i < result_findings(now); i++) {
        const Finding *f = result_finding(now, i);
        const Finding *was = base != NULL ? result_finding_find(base, f->id) : NULL;
        if (base != NULL && f->level <= LEVEL_DOUBT && (was == NULL || f->level < was->level))
            g_ptr_array_add(gained, (gpointer) f->id);
    }
    for (size_t i = 0; base != NULL && i < result_findings(base); i++) {
        const Finding *was = result_finding(base, i);
        const Finding *f = result_finding_find(now, was->id);
        if (was->level <= LEVEL_DOUBT && (f == NULL || f->level > was->level))
            g_ptr_array_add(lost, (gpointer) was->id);
    }
    plan->n_gained = gained->len;
    plan->gained = put_ids(store, gained);
    plan->n_lost = lost->len;
    plan->lost = put_ids(store, lost);
}

/* Openings under water in the situation with nobody aboard; what is watertight is a hole all the same. */
static size_t
holes_below(const Result *result)
{
    size_t holes = 0;
    for (size_t i = 0; i < result_answers(result); i++) {
        const Answer *a = result_answer(result, i);
        g_autofree char *own =
            g_strdup_printf("afloat.opening-height.%s@light", a->record != NULL ? a->record : "");
        holes += strcmp(a->name, own) == 0 && a->value < 0.0;
    }
    return holes;
}

static void
put_money(Plan *plan, const Boat *boat)
{
    size_t n, priced = 0;
    double sum = 0.0;
    const Record *const *items = boat_records(boat, &section_items, &n);
    for (size_t i = 0; i < n; i++) {
        const Item *item = items[i]->data;
        if (item->state != ITEM_TO_FIT)
            continue;
        if (isfinite(item->price_money)) {
            sum += item->price_money;
            priced++;
        } else {
            plan->n_unpriced++;
        }
    }
    plan->money = priced > 0 ? sum : NAN;
}

static void
put_masses(Store *store, Plan *plan, const Solved *s, const Solved *base)
{
    plan->x_m = plan->y_m = plan->z_m = NAN;
    if (base == NULL || base->result == NULL)
        return;
    g_autoptr(GArray) changes = plan_mass_changes(&base->input, &s->input);
    PlanMass *mass = block(store, changes->len, sizeof *mass);
    double mx = 0.0, my = 0.0, mz = 0.0, size = 0.0;
    for (guint i = 0; i < changes->len; i++) {
        mass[i] = g_array_index(changes, PlanMass, i);
        mass[i].item = keep(store, mass[i].item);
        mass[i].name = keep(store, mass[i].name);
        plan->kilos += mass[i].kilos;
        size += fabs(mass[i].kilos);
        mx += mass[i].kilos * mass[i].x_m;
        my += mass[i].kilos * mass[i].y_m;
        mz += mass[i].kilos * mass[i].z_m;
    }
    plan->mass = mass;
    plan->n_masses = changes->len;
    /* A swap of equal weights has no centre to speak of. */
    if (fabs(plan->kilos) > 0.5 * size) {
        plan->x_m = mx / plan->kilos;
        plan->y_m = my / plan->kilos;
        plan->z_m = mz / plan->kilos;
    }
}

static const char *
why_of(const Boat *boat, const char *option)
{
    const Record *record =
        option != NULL && boat != NULL ? boat_find(boat, &section_options, option) : NULL;
    return record != NULL ? ((const OptionSection *) record->data)->why : NULL;
}

static void
put_plan(Store *store, Plan *plan, const Solved *s, const Solved *base)
{
    *plan = (Plan){.option = keep(store, s->option),
                   .stage = s->stage,
                   .fault = keep(store, s->fault),
                   .why = keep(store, why_of(s->boat, s->option)),
                   .money = NAN};
    if (s->result == NULL)
        return;
    put_answers(store, plan, s, base);
    put_findings(store, plan, s->result, base != NULL ? base->result : NULL);
    put_masses(store, plan, s, base);
    put_money(plan, s->boat);
    plan->holes_below = holes_below(s->result);
}

static Comparison *
put_all(Work *work)
{
    Store *store = g_new0(Store, 1);
    g_atomic_ref_count_init(&store->references);
    store->blocks = g_ptr_array_new_with_free_func(g_free);
    store->texts = g_string_chunk_new(4096);
    Comparison *comparison = g_new0(Comparison, 1);
    Plan *plan = block(store, work->n, sizeof *plan);
    *comparison =
        (Comparison){.n = work->n, .plan = plan, .solves = (size_t) work->solves, .owner = store};
    if (work->solved[0].boat != NULL) {
        const Vessel *vessel = boat_single(work->solved[0].boat, &section_boat)->data;
        comparison->currency = keep(store, vessel->currency);
    }
    for (size_t i = 0; i < work->n; i++)
        put_plan(store, &plan[i], &work->solved[i], i >= 2 ? &work->solved[i % 2] : NULL);
    return comparison;
}

Comparison *
compare_plans(const SolveInput *solve, const PlanText *text, size_t n_options,
              const char *const options[], const StudyHow *how)
{
    Work work = {.solve = solve, .text = text, .how = how, .n = 2 * (n_options + 1)};
    work.solved = g_new0(Solved, work.n);
    for (size_t i = 0; i < work.n; i++) {
        work.solved[i].option = i >= 2 ? options[i / 2 - 1] : NULL;
        work.solved[i].stage = i % 2 == 0 ? STAGE_NOW : STAGE_DONE;
    }
    bool whole = study_each(work.n, solve_plan, &work, how) &&
                 study_each(work.n - 2, move_difference, &work, how);
    Comparison *comparison = whole ? put_all(&work) : NULL;
    for (size_t i = 0; i < work.n; i++) {
        result_free(work.solved[i].result);
        boat_free(work.solved[i].boat);
        g_free(work.solved[i].fault);
        g_free(work.solved[i].diff_variance);
        g_free(work.solved[i].base_variance);
    }
    g_free(work.solved);
    return comparison;
}

Comparison *
comparison_ref(Comparison *comparison)
{
    g_atomic_ref_count_inc(&((Store *) comparison->owner)->references);
    return comparison;
}

void
comparison_free(Comparison *comparison)
{
    if (comparison == NULL)
        return;
    Store *store = comparison->owner;
    if (!g_atomic_ref_count_dec(&store->references))
        return;
    g_ptr_array_unref(store->blocks);
    g_string_chunk_free(store->texts);
    g_free(store);
    g_free(comparison);
}
