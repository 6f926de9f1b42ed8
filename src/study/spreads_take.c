/* Results of trials taken into the spreads.
 *
 * All that is not settled is a vector of independent units of standard deviation 1; an output is base + effect . unit. A reading
 * h . unit, read within r (one standard deviation), leaves
 *
 *     P = I - h h' / (h . h + r^2) = (I - g h h')^2    g = (1 - r / sqrt(h . h + r^2)) / (h . h)
 *
 * so the effect of every output becomes  effect - g (h . effect) h  on units that are independent again, and the output moves by
 * (h . effect) / (h . h + r^2) of what the reading is off. Readings are taken one by one: the result is that of all together.
 * Invariant: no variance grows. */
#include <math.h>
#include <string.h>

#include "study/spreads.h"

typedef struct {
    Spreads *s;
    double *h; /* [n_units] of the reading in hand */
} Take;

static double
effect_at(const Spreads *s, size_t unit, size_t output)
{
    return s->effect[unit * s->n_outputs + output];
}

/* What of the variance is no straight line: it stays, whatever is read. */
static double
bend_of(const Spreads *s, size_t unit, size_t output)
{
    double effect = effect_at(s, unit, output);
    return fmax(0.0, s->variance[unit * s->n_outputs + output] - effect * effect);
}

static double
bends(const Spreads *s, size_t output)
{
    double sum = 0.0;
    for (size_t unit = 0; unit < s->n_units; unit++)
        sum += bend_of(s, unit, output);
    return sum;
}

/* The weight of a trial is a unit of its own, the last ones of all. */
static void
add_weights(Spreads *s, const Readings *readings)
{
    for (size_t i = 0; i < readings->n; i++) {
        const TrialTaken *taken = &readings->taken[i];
        size_t unit = s->n_units - readings->n_trials + taken->trial;
        double effect = taken->weight_frac / 2.0 * s->base[taken->output];
        s->effect[unit * s->n_outputs + taken->output] = effect;
        s->variance[unit * s->n_outputs + taken->output] = effect * effect;
    }
}

static void
judge(const Spreads *s, Readings *readings)
{
    for (size_t i = 0; i < readings->n; i++) {
        TrialTaken *taken = &readings->taken[i];
        double spread = 2.0 * sqrt(spreads_variance(s, taken->output));
        taken->reckoned = s->base[taken->output];
        taken->reckoned_spread = spread;
        taken->outside = !(fabs(taken->read - taken->reckoned) <= hypot(spread, taken->within));
    }
    for (size_t i = 0; i < readings->n; i++) {
        TrialTaken *taken = &readings->taken[i];
        taken->used = isfinite(taken->reckoned) && taken->within > 0.0;
        for (size_t k = 0; k < readings->n; k++)
            if (readings->taken[k].trial == taken->trial && readings->taken[k].outside)
                taken->used = false;
    }
}

/* A group's members keep their parts of what the group does. */
static void
scale_members(Spreads *s, size_t unit, size_t output, double by)
{
    for (size_t i = 0; i < s->n_inputs; i++)
        if (s->unit_of[i] == unit)
            s->pull[i * s->n_outputs + output] *= by;
}

static void
put_effect(Spreads *s, size_t unit, size_t output, double effect)
{
    double was = effect_at(s, unit, output), bend = bend_of(s, unit, output);
    if (effect == was)
        return;
    s->effect[unit * s->n_outputs + output] = effect;
    s->variance[unit * s->n_outputs + output] = effect * effect + bend;
    if (was != 0.0)
        scale_members(s, unit, output, effect / was);
}

static void
take_output(const Take *take, size_t output, double noise, double size, double off)
{
    Spreads *s = take->s;
    double along = 0.0, g = (1.0 - sqrt(noise / (size + noise))) / size;
    for (size_t unit = 0; unit < s->n_units; unit++)
        along += take->h[unit] * effect_at(s, unit, output);
    if (along == 0.0 || !isfinite(s->base[output]))
        return;
    s->moved[output] += along / (size + noise) * off;
    for (size_t unit = 0; unit < s->n_units; unit++)
        put_effect(s, unit, output, effect_at(s, unit, output) - g * along * take->h[unit]);
}

static void
take_reading(const Take *take, const TrialTaken *taken)
{
    Spreads *s = take->s;
    double size = 0.0, noise = pow(taken->within / 2.0, 2) + bends(s, taken->output);
    for (size_t unit = 0; unit < s->n_units; unit++) {
        take->h[unit] = effect_at(s, unit, taken->output);
        size += take->h[unit] * take->h[unit];
    }
    double off = taken->read - (s->base[taken->output] + s->moved[taken->output]);
    if (!(size > 0.0))
        return;
    for (size_t k = 0; k < s->n_outputs; k++)
        take_output(take, k, noise, size, off);
}

/* What was sampled is drawn in as its differences are. */
static void
narrow(Spreads *s, const double variance[])
{
    for (size_t k = 0; k < s->n_outputs; k++) {
        double after = spreads_variance(s, k);
        if (variance[k] > 0.0 && after < variance[k])
            s->spread[k] *= sqrt(after / variance[k]);
    }
}

void
spreads_take(Spreads *s, Readings *readings)
{
    if (readings->n == 0)
        return;
    g_autofree double *variance = g_new(double, s->n_outputs + 1);
    Take take = {s, g_new(double, s->n_units)};
    add_weights(s, readings);
    judge(s, readings);
    for (size_t k = 0; k < s->n_outputs; k++)
        variance[k] = spreads_variance(s, k);
    for (size_t i = 0; i < readings->n; i++)
        if (readings->taken[i].used)
            take_reading(&take, &readings->taken[i]);
    narrow(s, variance);
    g_free(take.h);
}
