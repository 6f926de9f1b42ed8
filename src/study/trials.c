/* Trials predicted, with the spread that the unsettled inputs give them, and held to the condition of safety.
 * Invariant: a trial that heels her or loads her stern is refused unless at the bad end of the spread every opening stays 150 mm
 * clear, heel stays below 3 degrees and GM above 0.15 m. */
#include "study/trials.h"

#include <math.h>
#include <string.h>

#include "study/trial_plan.h"

#define STEP 0.5 /* of the spread */
#define CLEAR_M 0.15
#define HEEL_RAD 0.052359877559829881 /* 3 deg */
#define GM_M 0.15
#define NAMED_FRAC 0.02

typedef struct {
    gatomicrefcount references;
    GPtrArray *blocks;
    GStringChunk *texts;
} Store;

typedef struct {
    const SolveInput *solve;
    const Inputs *inputs;
    const char *situation;
    size_t n_plans, n_values;
    TrialPlan plan[MOST_TRIALS];
    double base[MOST_TRIALS * TRIAL_VALUES];
    double *change; /* [n_inputs * n_values]: for the whole spread */
    GAsyncQueue *copies;
    gint solves;
} Trying;

static const Case *
first_case(const Afloat *afloat)
{
    return afloat->cases->len > 0 ? g_ptr_array_index(afloat->cases, 0) : NULL;
}

static Afloat *
float_boat(const Trying *w, const Boat *boat)
{
    return afloat_new(boat, w->solve->catalog, w->solve->stage, w->situation, false);
}

static void
values_of(const Trying *w, const Afloat *afloat, double value[])
{
    for (size_t p = 0; p < w->n_plans; p++)
        trial_values(afloat, first_case(afloat), &w->plan[p], value + p * TRIAL_VALUES);
}

static void
move_one(size_t i, void *data)
{
    Trying *w = data;
    const Input *input = &g_array_index(w->inputs->input, Input, i);
    double value[MOST_TRIALS * TRIAL_VALUES];
    Boat *copy = g_async_queue_try_pop(w->copies);
    if (copy == NULL)
        copy = boat_copy(w->solve->boat);
    input_move(input, copy, STEP * input->spread);
    Afloat *afloat = float_boat(w, copy);
    values_of(w, afloat, value);
    afloat_free(afloat);
    input_move(input, copy, 0.0);
    g_async_queue_push(w->copies, copy);
    g_atomic_int_inc(&w->solves);
    for (size_t k = 0; k < w->n_values; k++) {
        double change = (value[k] - w->base[k]) / STEP;
        w->change[i * w->n_values + k] = isfinite(change) ? change : 0.0;
    }
}

/* First order: what is independent adds as squares, what errs together adds first. */
static double
spread_of_value(const Trying *w, size_t k)
{
    double variance = 0.0, together[N_INPUT_GROUPS] = {0.0};
    for (guint i = 0; i < w->inputs->input->len; i++) {
        double change = w->change[i * w->n_values + k];
        int group = g_array_index(w->inputs->input, Input, i).group;
        if (group == INPUT_ALONE)
            variance += change * change;
        else
            together[group] += change;
    }
    for (int g = INPUT_BY_EYE; g < N_INPUT_GROUPS; g++)
        variance += together[g] * together[g];
    return sqrt(variance);
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

static int
largest_first(gconstpointer a, gconstpointer b)
{
    const DoubtShare *left = a, *right = b;
    if (left->share != right->share)
        return left->share > right->share ? -1 : 1;
    return strcmp(left->path, right->path);
}

static const DoubtShare *
shares(Store *store, const Trying *w, size_t k, size_t *n)
{
    g_autoptr(GArray) list = g_array_new(FALSE, FALSE, sizeof(DoubtShare));
    double all = 0.0;
    for (guint i = 0; i < w->inputs->input->len; i++) {
        const char *path = g_array_index(w->inputs->input, Input, i).path;
        double square = pow(w->change[i * w->n_values + k], 2);
        guint at = 0;
        while (at < list->len && strcmp(g_array_index(list, DoubtShare, at).path, path) != 0)
            at++;
        if (at == list->len) {
            DoubtShare one = {path, 0.0};
            g_array_append_val(list, one);
        }
        g_array_index(list, DoubtShare, at).share += square;
        all += square;
    }
    g_array_sort(list, largest_first);
    DoubtShare *share = block(store, list->len, sizeof *share);
    for (*n = 0; *n < list->len && all > 0.0; (*n)++) {
        const DoubtShare *one = &g_array_index(list, DoubtShare, *n);
        if (one->share < NAMED_FRAC * all)
            break;
        share[*n] = (DoubtShare){keep(store, one->path), one->share / all};
    }
    return share;
}

static const char *
refusal(Store *store, const Trial *trial)
{
    g_autoptr(GString) why = g_string_new(NULL);
    if (!(trial->clear_m >= CLEAR_M))
        g_string_append_printf(
            why, "an opening could come to %.0f mm above the water, and 150 mm is the least",
            trial->clear_m * 1000.0);
    if (!(trial->heel_rad < HEEL_RAD))
        g_string_append_printf(why, "%sshe could heel %.1f degrees, and 3 is the most",
                               why->len > 0 ? "; " : "", trial->heel_rad * 180.0 / G_PI);
    if (!(trial->gm_m > GM_M))
        g_string_append_printf(why,
                               "%sher metacentric height could be %.2f m, and 0.15 m is the least",
                               why->len > 0 ? "; " : "", trial->gm_m);
    return why->len > 0 ? keep(store, why->str) : NULL;
}

static TrialWay
way_of(TrialRead read)
{
    static const TrialWay ways[] = {[READ_FREEBOARD] = TRIAL_FREEBOARD,
                                    [READ_SINKS] = TRIAL_DOWN,
                                    [READ_RISES] = TRIAL_UP,
                                    [READ_PLUMB] = TRIAL_SWING};
    return ways[read];
}

static void
put_trial(Store *store, const Trying *w, size_t p, Trial *trial)
{
    const TrialPlan *plan = &w->plan[p];
    const double *base = w->base + p * TRIAL_VALUES;
    size_t at = p * TRIAL_VALUES;
    *trial = (Trial){.id = plan->id,
                     .title = plan->title,
                     .how = plan->how,
                     .when_not = plan->when_not,
                     .tells = plan->tells,
                     .mass_kg = plan->after.mass_kg,
                     .from_x_m = plan->before.x_m,
                     .to_x_m = plan->after.x_m,
                     .to_y_m = plan->after.y_m,
                     .z_m = plan->people > 0.0 ? NAN : plan->after.z_m,
                     .comes_aboard = !(plan->before.mass_kg > 0.0) && plan->after.mass_kg > 0.0,
                     .people = plan->people,
                     .clear_m = base[TRIAL_CLEAR] - spread_of_value(w, at + TRIAL_CLEAR),
                     .heel_rad = base[TRIAL_HEEL] + spread_of_value(w, at + TRIAL_HEEL),
                     .gm_m = base[TRIAL_GM] - spread_of_value(w, at + TRIAL_GM)};
    if (isnan(base[TRIAL_GM]))
        trial->refused = "she finds no position to rest in it";
    else if (plan->risky)
        trial->refused = refusal(store, trial);
    for (size_t i = 0; trial->refused == NULL && i < plan->n; i++) {
        TrialReading *reading = &trial->reading[trial->n++];
        reading->label = plan->point[i].label;
        reading->way = way_of(plan->point[i].read);
        reading->x_m = plan->point[i].x_m;
        reading->side = plan->point[i].y_m > 0.0 ? 1 : plan->point[i].y_m < 0.0 ? -1 : 0;
        trial->plumb_m = plan->point[i].length_m;
        reading->value_m = base[i];
        reading->spread_m = spread_of_value(w, at + i);
        reading->share = shares(store, w, at + i, &reading->n);
    }
}

static Trials *
trials_new(const char *situation, const char *nothing)
{
    Store *store = g_new0(Store, 1);
    g_atomic_ref_count_init(&store->references);
    store->blocks = g_ptr_array_new_with_free_func(g_free);
    store->texts = g_string_chunk_new(1024);
    Trials *trials = g_new0(Trials, 1);
    trials->owner = store;
    trials->situation = keep(store, situation);
    trials->nothing = nothing;
    return trials;
}

static Trials *
predict(Trying *w, const StudyHow *how)
{
    w->n_values = w->n_plans * TRIAL_VALUES;
    w->change = g_new0(double, w->inputs->input->len * w->n_values + 1);
    w->copies = g_async_queue_new_full((GDestroyNotify) boat_free);
    bool whole = study_each(w->inputs->input->len, move_one, w, how);
    Trials *trials = whole ? trials_new(w->situation, NULL) : NULL;
    if (trials != NULL) {
        Trial *trial = block(trials->owner, w->n_plans, sizeof *trial);
        for (size_t p = 0; p < w->n_plans; p++)
            put_trial(trials->owner, w, p, &trial[p]);
        trials->trial = trial;
        trials->n = w->n_plans;
        trials->solves = (size_t) w->solves;
    }
    g_async_queue_unref(w->copies);
    g_free(w->change);
    return trials;
}

Trials *
trials_find(const SolveInput *solve, const StudyHow *how)
{
    Trying w = {.solve = solve, .situation = solve->situation != NULL ? solve->situation : "light"};
    g_autoptr(Afloat) afloat = float_boat(&w, solve->boat);
    const Case *c = first_case(afloat);
    if (afloat->hull == NULL || c == NULL)
        return trials_new(w.situation,
                          "her shape or her weights are not known well enough to float her");
    if (!case_floats(c))
        return trials_new(w.situation, "she does not float upright");
    SolveInput only = *solve;
    only.situation = w.situation;
    g_autoptr(Inputs) inputs = inputs_of(&only);
    w.inputs = inputs;
    w.n_plans = trial_plans(afloat, c, w.plan);
    values_of(&w, afloat, w.base);
    return predict(&w, how);
}

Trials *
trials_ref(Trials *trials)
{
    g_atomic_ref_count_inc(&((Store *) trials->owner)->references);
    return trials;
}

void
trials_free(Trials *trials)
{
    if (trials == NULL)
        return;
    Store *store = trials->owner;
    if (!g_atomic_ref_count_dec(&store->references))
        return;
    g_ptr_array_unref(store->blocks);
    g_string_chunk_free(store->texts);
    g_free(store);
    g_free(trials);
}

TrialVerdict
trial_judge(const TrialReading *prediction, double reading_m, double read_within_m)
{
    TrialVerdict verdict = {.off_m = reading_m - prediction->value_m,
                            .spread_m = hypot(prediction->spread_m, read_within_m)};
    if (fabs(verdict.off_m) <= verdict.spread_m)
        return verdict;
    verdict.outcome = verdict.off_m > 0.0 ? TRIAL_ABOVE : TRIAL_BELOW;
    verdict.n = prediction->n;
    verdict.accused = prediction->share;
    return verdict;
}
