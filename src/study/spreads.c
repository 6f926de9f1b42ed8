/* Differences first, then samples for what jumps.
 * Invariant: the same boat and seed give the same spreads, whatever the number of threads. */
#include "study/spreads.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "study/sample.h"

#define STEP 0.8660254037844386 /* sqrt(3) / 2 of the spread */
#define COUNTS_FRAC 0.005       /* of the variance: below, one side is enough */
#define BUNDLED_FRAC 0.05       /* of all moments squared: what may be bundled at all */
#define BUNDLE_COUNTS_FRAC 0.01 /* of the variance: above, a bundle is taken apart */
#define NOISE 1e-10             /* of an output, or of its SI unit */
#define JUMPS_FRAC 0.02         /* of the variance: below, a jump is no matter */
enum { USUAL_SAMPLES = 128, BUNDLE = 12 };

typedef struct {
    const SolveInput *solve;
    const Inputs *inputs;
    const Outputs *outputs;
    const StudyHow *how;
    Spreads *out;
    unsigned *governor;          /* [n_outputs] of the base */
    GPtrArray *blocks;           /* what moves point at */
    Move *up, *down;             /* [n_inputs] */
    Move *group_up, *group_down; /* [N_INPUT_GROUPS] */
    bool *jumps;                 /* [n_outputs] */
    Move *sampled;               /* NULL: none was */
} Work;

static const Input *
input_at(const Work *w, size_t i)
{
    return &g_array_index(w->inputs->input, Input, i);
}

static void *
block(Work *w, size_t n, size_t size)
{
    void *made = g_malloc0_n(MAX(n, 1), size);
    g_ptr_array_add(w->blocks, made);
    return made;
}

static Move
move_of(Work *w, size_t n, const Nudge *nudge)
{
    return (Move){n, nudge, block(w, w->outputs->n, sizeof(double)),
                  block(w, w->outputs->n, sizeof(unsigned))};
}

static Move
single(Work *w, size_t i, double side)
{
    Nudge *nudge = block(w, 1, sizeof *nudge);
    *nudge = (Nudge){i, side * STEP * input_at(w, i)->spread};
    return move_of(w, 1, nudge);
}

static Move
together(Work *w, int group, double side)
{
    size_t n = 0;
    Nudge *nudge = block(w, w->out->n_inputs, sizeof *nudge);
    for (size_t i = 0; i < w->out->n_inputs; i++)
        if (input_at(w, i)->group == group)
            nudge[n++] = (Nudge){i, side * STEP * input_at(w, i)->spread};
    return move_of(w, n, nudge);
}

/* ---- first pass: every input or bundle to one side, every group of guesses to both ---- */

typedef struct {
    size_t n;
    size_t input[BUNDLE];
} Bundle;

static int
heaviest_first(gconstpointer a, gconstpointer b, gpointer data)
{
    const Work *w = data;
    size_t i = *(const size_t *) a, k = *(const size_t *) b;
    double left = input_at(w, i)->weight, right = input_at(w, k)->weight;
    return left > right ? -1 : left < right ? 1 : i < k ? -1 : i > k;
}

/* Adds the light ones of one field to bundles; the heavy ones stay alone. */
static void
bundle_field(Work *w, const Field *field, GArray *bundles, bool bundled[])
{
    g_autoptr(GArray) list = g_array_new(FALSE, FALSE, sizeof(size_t));
    double left = 0.0, all;
    for (size_t i = 0; i < w->out->n_inputs; i++)
        if (input_at(w, i)->field == field && input_at(w, i)->weight > 0.0) {
            g_array_append_val(list, i);
            left += pow(input_at(w, i)->weight, 2);
        }
    g_array_sort_with_data(list, heaviest_first, w);
    all = left;
    Bundle bundle = {0};
    for (guint k = 0; k < list->len; k++) {
        size_t i = g_array_index(list, size_t, k);
        if (left <= BUNDLED_FRAC * all) {
            bundle.input[bundle.n++] = i;
            bundled[i] = true;
        }
        left -= pow(input_at(w, i)->weight, 2);
        if (bundle.n == BUNDLE || (k + 1 == list->len && bundle.n > 0)) {
            g_array_append_val(bundles, bundle);
            bundle.n = 0;
        }
    }
}

static GArray *
find_bundles(Work *w, bool bundled[])
{
    GArray *bundles = g_array_new(FALSE, FALSE, sizeof(Bundle));
    g_autoptr(GHashTable) seen = g_hash_table_new(NULL, NULL);
    for (size_t i = 0; i < w->out->n_inputs; i++) {
        const Input *input = input_at(w, i);
        if (input->weight > 0.0 && g_hash_table_add(seen, (gpointer) input->field))
            bundle_field(w, input->field, bundles, bundled);
    }
    return bundles;
}

static Move
bundle_move(Work *w, const Bundle *bundle)
{
    Nudge *nudge = block(w, bundle->n, sizeof *nudge);
    for (size_t i = 0; i < bundle->n; i++)
        nudge[i] = (Nudge){bundle->input[i], STEP * input_at(w, bundle->input[i])->spread};
    return move_of(w, bundle->n, nudge);
}

static void
rough_variance(const Work *w, size_t n, const Move move[], double total[])
{
    for (size_t k = 0; k < w->outputs->n; k++)
        for (size_t i = 0; i < n; i++) {
            double d = move[i].value != NULL ? move[i].value[k] - w->out->base[k] : 0.0;
            total[k] += isfinite(d) ? d * d : 0.0;
        }
}

static bool
counts(const Work *w, const Move *move, const double total[], double frac)
{
    for (size_t k = 0; k < w->outputs->n; k++) {
        double d = move->value[k] - w->out->base[k];
        if (isfinite(w->out->base[k]) && (!isfinite(d) || d * d > frac * total[k]))
            return true;
    }
    return false;
}

/* What a bundle did, split by the moments of its members. */
static void
share_out(Work *w, const Bundle *bundle, const Move *move)
{
    double all = 0.0;
    for (size_t i = 0; i < bundle->n; i++)
        all += input_at(w, bundle->input[i])->weight;
    for (size_t i = 0; i < bundle->n; i++) {
        Move *up = &w->up[bundle->input[i]];
        *up = move_of(w, 0, NULL);
        for (size_t k = 0; k < w->outputs->n; k++)
            up->value[k] = w->out->base[k] + (move->value[k] - w->out->base[k]) *
                                                 input_at(w, bundle->input[i])->weight / all;
        memcpy(up->governor, w->governor, w->outputs->n * sizeof *up->governor);
    }
}

/* Solves the inputs alone that are marked; the others keep what they have. */
static bool
solve_alone(Work *w, const bool alone[])
{
    size_t n = 0;
    g_autofree Move *move = g_new(Move, w->out->n_inputs + 1);
    g_autofree size_t *which = g_new(size_t, w->out->n_inputs + 1);
    for (size_t i = 0; i < w->out->n_inputs; i++)
        if (alone[i]) {
            which[n] = i;
            move[n++] = single(w, i, 1.0);
        }
    if (!sweep(w->solve, w->inputs, w->outputs, n, move, w->how))
        return false;
    for (size_t i = 0; i < n; i++)
        w->up[which[i]] = move[i];
    w->out->solves += n;
    return true;
}

static bool
solve_bundles(Work *w, const GArray *bundles)
{
    g_autofree Move *move = g_new(Move, bundles->len + 1);
    g_autofree bool *apart = g_new0(bool, w->out->n_inputs + 1);
    g_autofree double *total = g_new0(double, w->outputs->n + 1);
    for (guint b = 0; b < bundles->len; b++)
        move[b] = bundle_move(w, &g_array_index(bundles, Bundle, b));
    if (!sweep(w->solve, w->inputs, w->outputs, bundles->len, move, w->how))
        return false;
    w->out->solves += bundles->len;
    rough_variance(w, w->out->n_inputs, w->up, total);
    rough_variance(w, bundles->len, move, total);
    for (guint b = 0; b < bundles->len; b++) {
        const Bundle *bundle = &g_array_index(bundles, Bundle, b);
        if (counts(w, &move[b], total, BUNDLE_COUNTS_FRAC))
            for (size_t i = 0; i < bundle->n; i++)
                apart[bundle->input[i]] = true;
        else
            share_out(w, bundle, &move[b]);
    }
    return solve_alone(w, apart);
}

static bool
solve_groups(Work *w)
{
    size_t n = 0;
    Move move[2 * N_INPUT_GROUPS];
    for (int g = INPUT_BY_EYE; g < N_INPUT_GROUPS; g++) {
        move[n++] = together(w, g, 1.0);
        move[n++] = together(w, g, -1.0);
    }
    if (!sweep(w->solve, w->inputs, w->outputs, n, move, w->how))
        return false;
    w->out->solves += n;
    n = 0;
    for (int g = INPUT_BY_EYE; g < N_INPUT_GROUPS; g++) {
        w->group_up[g] = move[n++];
        w->group_down[g] = move[n++];
    }
    return true;
}

static bool
first_pass(Work *w)
{
    g_autofree bool *mark = g_new0(bool, w->out->n_inputs + 1);
    g_autoptr(GArray) bundles = find_bundles(w, mark);
    for (size_t i = 0; i < w->out->n_inputs; i++)
        mark[i] = !mark[i];
    return solve_alone(w, mark) && solve_groups(w) && solve_bundles(w, bundles);
}

/* ---- second pass: to the other side where it counts ---- */

static bool
second_pass(Work *w)
{
    size_t n = 0;
    g_autofree double *total = g_new0(double, w->outputs->n + 1);
    g_autofree size_t *which = g_new(size_t, w->out->n_inputs + 1);
    g_autofree Move *move = g_new(Move, w->out->n_inputs + 1);
    rough_variance(w, w->out->n_inputs, w->up, total);
    for (size_t i = 0; i < w->out->n_inputs; i++) {
        if (input_at(w, i)->group != INPUT_ALONE || w->up[i].n == 0 ||
            !counts(w, &w->up[i], total, COUNTS_FRAC))
            continue;
        which[n] = i;
        move[n++] = single(w, i, -1.0);
    }
    if (!sweep(w->solve, w->inputs, w->outputs, n, move, w->how))
        return false;
    for (size_t i = 0; i < n; i++)
        w->down[which[i]] = move[i];
    w->out->solves += n;
    return true;
}

/* ---- variances ---- */

static double
three_points(double down, double middle, double up)
{
    double mean = (down + 4.0 * middle + up) / 6.0;
    return (pow(down - mean, 2) + 4.0 * pow(middle - mean, 2) + pow(up - mean, 2)) / 6.0;
}

/* A side that was not solved, or where the output is not there, is as far away as the other. */
static void
mirror(double base, double *up, double *down)
{
    if (!isfinite(*down))
        *down = 2.0 * base - *up;
    if (!isfinite(*up))
        *up = 2.0 * base - *down;
}

/* What the solver's own rounding moves is no effect. */
static bool
is_noise(double base, double up, double down)
{
    double floor = NOISE * fmax(1.0, fabs(base));
    return fabs(up - base) < floor && fabs(down - base) < floor;
}

/* False when the output is there on neither side, or not moved. */
static bool
sides(const Move *above, const Move *below, double base, size_t k, double *up, double *down)
{
    *up = above->value[k];
    *down = below->value != NULL ? below->value[k] : NAN;
    mirror(base, up, down);
    return isfinite(base) && isfinite(*up) && isfinite(*down) && !is_noise(base, *up, *down);
}

/* What the unit does: signed for one standard deviation, and its variance. */
static void
put_unit(Spreads *out, size_t unit, size_t k, double down, double base, double up)
{
    out->effect[unit * out->n_outputs + k] = (up - down) / 2.0 / (2.0 * STEP);
    out->variance[unit * out->n_outputs + k] = three_points(down, base, up);
}

static void
gather(Work *w)
{
    Spreads *out = w->out;
    double up, down;
    for (size_t k = 0; k < out->n_outputs; k++) {
        double base = out->base[k];
        for (size_t i = 0; i < out->n_inputs; i++) {
            bool there = sides(&w->up[i], &w->down[i], base, k, &up, &down);
            out->pull[i * out->n_outputs + k] = there ? (up - down) / 2.0 : 0.0;
            if (there && input_at(w, i)->group == INPUT_ALONE)
                put_unit(out, out->unit_of[i], k, down, base, up);
        }
        for (int g = INPUT_BY_EYE; g < N_INPUT_GROUPS; g++)
            if (sides(&w->group_up[g], &w->group_down[g], base, k, &up, &down))
                put_unit(out, (size_t) (g - 1), k, down, base, up);
    }
}

double
spreads_variance(const Spreads *s, size_t output)
{
    double sum = 0.0;
    for (size_t u = 0; u < s->n_units; u++)
        sum += s->variance[u * s->n_outputs + output];
    return sum;
}

/* ---- what jumps ---- */

static bool
move_jumps(const Work *w, const Move *up, const Move *down, size_t k)
{
    double base = w->out->base[k];
    if (!isfinite(up->value[k]) || up->governor[k] != w->governor[k])
        return true;
    if (down->value == NULL)
        return false;
    if (!isfinite(down->value[k]) || down->governor[k] != w->governor[k])
        return true;
    double bend = fabs(up->value[k] + down->value[k] - 2.0 * base);
    return bend > 0.5 * fabs(up->value[k] - down->value[k]);
}

static bool
find_jumps(Work *w)
{
    bool any = false;
    for (size_t k = 0; k < w->outputs->n; k++) {
        double all = spreads_variance(w->out, k), largest = JUMPS_FRAC * all;
        if (!isfinite(w->out->base[k]))
            continue;
        /* Nothing alone moves it: it may stand at a bound that all together leave. */
        w->jumps[k] = !(all > 0.0) && w->out->n_inputs > 0;
        for (size_t i = 0; i < w->out->n_inputs && !w->jumps[k]; i++)
            if (input_at(w, i)->group == INPUT_ALONE &&
                (!isfinite(w->up[i].value[k]) ||
                 w->out->variance[w->out->unit_of[i] * w->outputs->n + k] > largest))
                w->jumps[k] = move_jumps(w, &w->up[i], &w->down[i], k);
        for (int g = INPUT_BY_EYE; g < N_INPUT_GROUPS && !w->jumps[k]; g++)
            if (w->group_up[g].n > 0)
                w->jumps[k] = move_jumps(w, &w->group_up[g], &w->group_down[g], k);
        any |= w->jumps[k];
    }
    return any;
}

/* ---- samples ---- */

static Move *
random_moves(Work *w, size_t samples)
{
    size_t n = w->out->n_inputs;
    Move *move = block(w, samples, sizeof *move);
    double *z = block(w, w->out->n_units * samples, sizeof *z);
    Dice dice = {w->how != NULL ? w->how->seed : 0};
    for (size_t u = 0; u < w->out->n_units; u++)
        normal_slices(&dice, samples, z + u * samples);
    for (size_t s = 0; s < samples; s++) {
        Nudge *nudge = block(w, n, sizeof *nudge);
        for (size_t i = 0; i < n; i++)
            nudge[i] =
                (Nudge){i, z[w->out->unit_of[i] * samples + s] * input_at(w, i)->spread / 2.0};
        move[s] = move_of(w, n, nudge);
    }
    return move;
}

static int
smaller_first(gconstpointer a, gconstpointer b)
{
    double left = *(const double *) a, right = *(const double *) b;
    return left < right ? -1 : left > right;
}

/* Of a value that stands at a bound all samples lie to one side: what 95 % of them stay within. NAN where they lie to both. */
static double
one_sided(const Work *w, const Move move[], size_t samples, size_t k)
{
    size_t n = 0, above = 0, below = 0;
    double base = w->out->base[k], floor = NOISE * fmax(1.0, fabs(base));
    g_autofree double *off = g_new(double, samples);
    for (size_t s = 0; s < samples; s++) {
        double d = move[s].value[k] - base;
        if (!isfinite(d))
            continue;
        off[n++] = fabs(d);
        above += d > floor;
        below += d < -floor;
    }
    if (n == 0 || (above > 0 && below > 0))
        return NAN;
    qsort(off, n, sizeof *off, smaller_first);
    double most = off[MIN((size_t) ceil(0.95 * (double) n), n) - 1];
    return most > floor ? most : 0.0;
}

static void
count_samples(Work *w, const Move move[], size_t samples, size_t k)
{
    double sum = 0.0, square = 0.0, base = w->out->base[k];
    size_t there = 0;
    for (size_t s = 0; s < samples; s++) {
        double value = move[s].value[k];
        if (!isfinite(value))
            continue;
        there++;
        sum += value - base;
        square += (value - base) * (value - base);
    }
    if (2 * there < samples || there < 2) {
        if (w->jumps[k] && w->outputs->output[k].finding == NULL)
            w->out->spread[k] = NAN;
        return;
    }
    double n = (double) there, found = 2.0 * sqrt(fmax(0.0, square - sum * sum / n) / (n - 1.0));
    found =
        fmax(found > NOISE * fmax(1.0, fabs(base)) ? found : 0.0, one_sided(w, move, samples, k));
    if (!w->jumps[k])
        return;
    /* A finding that is only made when it is worth a line is there on one side alone: its samples are too narrow. */
    bool cut = w->outputs->output[k].finding != NULL && there < samples;
    w->out->spread[k] =
        cut ? fmax(fmax(found, w->out->spread[k]), w->outputs->output[k].finding->spread) : found;
    w->out->sampled[k] = w->out->spread[k] > 0.0;
}

/* The share of samples on the other side of zero, drawn in and moved as the trials have it. */
static void
count_turns(Work *w, size_t k)
{
    double sum = 0.0, base = w->out->base[k];
    size_t there = 0, turned = 0;
    for (size_t s = 0; s < w->out->samples; s++)
        if (isfinite(w->sampled[s].value[k])) {
            sum += w->sampled[s].value[k];
            there++;
        }
    if (2 * there < w->out->samples || there < 2)
        return;
    double mean = sum / (double) there;
    double left = w->out->before[k] > 0.0 ? w->out->spread[k] / w->out->before[k] : 1.0;
    for (size_t s = 0; s < w->out->samples; s++) {
        double value = w->sampled[s].value[k];
        if (isfinite(value) && left < 1.0)
            value = mean + (value - mean) * left + w->out->moved[k];
        turned += isfinite(value) && (value >= 0.0) != (base >= 0.0);
    }
    w->out->turns[k] = (double) turned / (double) there;
}

static bool
sample(Work *w)
{
    size_t samples =
        w->how != NULL && w->how->samples > 1 ? w->how->samples : (size_t) USUAL_SAMPLES;
    Move *move = random_moves(w, samples);
    if (!sweep(w->solve, w->inputs, w->outputs, samples, move, w->how))
        return false;
    for (size_t k = 0; k < w->outputs->n; k++)
        if (isfinite(w->out->base[k]))
            count_samples(w, move, samples, k);
    w->sampled = move;
    w->out->solves += samples;
    w->out->samples = samples;
    return true;
}

/* ---- all of it ---- */

static Spreads *
spreads_new(const Inputs *inputs, const Outputs *outputs, size_t n_trials)
{
    Spreads *s = g_new0(Spreads, 1);
    s->inputs = inputs;
    s->n_inputs = inputs->input->len;
    s->n_outputs = outputs->n;
    s->unit_of = g_new0(size_t, s->n_inputs + 1);
    s->n_units = N_INPUT_GROUPS - 1; /* the groups stand first */
    for (size_t i = 0; i < s->n_inputs; i++) {
        int group = g_array_index(inputs->input, Input, i).group;
        s->unit_of[i] = group == INPUT_ALONE ? s->n_units++ : (size_t) (group - 1);
    }
    s->n_units += n_trials;
    s->base = g_new0(double, s->n_outputs + 1);
    s->variance = g_new0(double, s->n_units * s->n_outputs + 1);
    s->effect = g_new0(double, s->n_units * s->n_outputs + 1);
    s->moved = g_new0(double, s->n_outputs + 1);
    s->before = g_new0(double, s->n_outputs + 1);
    s->pull = g_new0(double, s->n_inputs * s->n_outputs + 1);
    s->spread = g_new0(double, s->n_outputs + 1);
    s->turns = g_new0(double, s->n_outputs + 1);
    s->sampled = g_new0(bool, s->n_outputs + 1);
    return s;
}

Spreads *
spreads_find(const SolveInput *solve, const Result *base, const Inputs *inputs,
             const Outputs *outputs, Readings *readings, const StudyHow *how)
{
    g_autoptr(Spreads) out = spreads_new(inputs, outputs, readings->n_trials);
    g_autoptr(GPtrArray) blocks = g_ptr_array_new_with_free_func(g_free);
    Work w = {.solve = solve,
              .inputs = inputs,
              .outputs = outputs,
              .how = how,
              .out = out,
              .blocks = blocks};
    w.governor = block(&w, outputs->n, sizeof *w.governor);
    w.up = block(&w, out->n_inputs, sizeof *w.up);
    w.down = block(&w, out->n_inputs, sizeof *w.down);
    w.group_up = block(&w, N_INPUT_GROUPS, sizeof *w.group_up);
    w.group_down = block(&w, N_INPUT_GROUPS, sizeof *w.group_down);
    w.jumps = block(&w, outputs->n, sizeof *w.jumps);
    outputs_read(outputs, base, NULL, out->base, w.governor);
    if (!first_pass(&w) || !second_pass(&w))
        return NULL;
    gather(&w);
    bool jumps = find_jumps(&w);
    for (size_t k = 0; k < outputs->n; k++) {
        out->spread[k] = isfinite(out->base[k]) ? 2.0 * sqrt(spreads_variance(out, k)) : NAN;
        out->turns[k] = NAN;
    }
    if (jumps && !sample(&w))
        return NULL;
    memcpy(out->before, out->spread, outputs->n * sizeof *out->before);
    spreads_take(out, readings);
    for (size_t k = 0; k < outputs->n && w.sampled != NULL; k++)
        if (isfinite(out->base[k]))
            count_turns(&w, k);
    return g_steal_pointer(&out);
}

void
spreads_free(Spreads *s)
{
    if (s == NULL)
        return;
    g_free(s->unit_of);
    g_free(s->base);
    g_free(s->variance);
    g_free(s->effect);
    g_free(s->moved);
    g_free(s->before);
    g_free(s->pull);
    g_free(s->spread);
    g_free(s->turns);
    g_free(s->sampled);
    g_free(s);
}

/* ---- reading ---- */

double
spreads_share(const Spreads *s, size_t input, size_t output)
{
    size_t unit = s->unit_of[input];
    double part = s->variance[unit * s->n_outputs + output];
    if (!(part > 0.0)) /* of nearly all: the sum is over every unit */
        return 0.0;
    double all = spreads_variance(s, output);
    if (!(all > 0.0))
        return 0.0;
    if (unit >= N_INPUT_GROUPS - 1)
        return part / all;
    double pulls = 0.0;
    for (size_t i = 0; i < s->n_inputs; i++)
        if (s->unit_of[i] == unit)
            pulls += fabs(s->pull[i * s->n_outputs + output]);
    return pulls > 0.0 ? part / all * fabs(s->pull[input * s->n_outputs + output]) / pulls : 0.0;
}

/* A member that is measured leaves its group: what is left of it errs alone. */
static double
group_left(const Spreads *s, size_t unit, const double left[], size_t output)
{
    double before = 0.0, after = 0.0, alone = 0.0;
    for (size_t i = 0; i < s->n_inputs; i++) {
        double pull = s->pull[i * s->n_outputs + output];
        if (s->unit_of[i] != unit)
            continue;
        before += pull;
        if (left[i] < 1.0)
            alone += pow(pull * left[i], 2);
        else
            after += pull;
    }
    /* A straight answer moved by sqrt(3) standard deviations: variance = pull^2 / 3. What bends stays as it is. */
    double bend = s->variance[unit * s->n_outputs + output] - before * before / 3.0;
    return (after * after + alone) / 3.0 + fmax(0.0, bend);
}

double
spreads_variance_left(const Spreads *s, const double left[], size_t output)
{
    double sum = 0.0;
    for (size_t unit = 0; unit < N_INPUT_GROUPS - 1; unit++)
        sum += group_left(s, unit, left, output);
    for (size_t i = 0; i < s->n_inputs; i++)
        if (s->unit_of[i] >= N_INPUT_GROUPS - 1)
            sum += s->variance[s->unit_of[i] * s->n_outputs + output] * left[i] * left[i];
    return sum;
}
