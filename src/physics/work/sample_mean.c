/* Means over samples. Invariant: a sample is u[samples * dimensions], point after point. */
#include "physics/work/sample_mean.h"

#include "physics/domain.h"
#include "physics/memory.h"

#define SHEET "docs/methods/work.md 6.3"
const Method sample_latin_method = {
    "Latin hypercube",
    "u = (p + v) / N",
    {"McKay, Beckman, Conover 1979 as remembered; " SHEET, STANDING_MEMORY}};
const Method sample_error_method = {"How far samples of a kind miss",
                                    "e = sqrt(mean((M / M_exact - 1)^2))",
                                    {"definition; " SHEET, STANDING_DERIVED}};

static void
latin(Dice *dice, size_t n, size_t d, double u[])
{
    for (size_t i = 0; i < d; i++) {
        for (size_t k = 0; k < n; k++)
            u[k * d + i] = ((double) k + dice_share(dice)) / (double) n;
        for (size_t k = n; k > 1; k--) {
            size_t other = dice_below(dice, k);
            double held = u[(k - 1) * d + i];
            u[(k - 1) * d + i] = u[other * d + i];
            u[other * d + i] = held;
        }
    }
}

static void
take(Sampling sampling, Sobol *sobol, Dice *dice, size_t n, size_t d, double u[])
{
    switch (sampling) {
    case SAMPLING_SCRAMBLED:
        sobol_scramble(sobol, dice);
        /* fall through */
    case SAMPLING_SOBOL:
        for (size_t k = 0; k < n; k++)
            sobol_next(sobol, u + k * d);
        return;
    case SAMPLING_HALTON:
        for (size_t i = 0; i < d; i++) {
            unsigned base = halton_base(i + 1);
            for (size_t k = 0; k < n; k++)
                u[k * d + i] = radical_inverse(k + 1, base);
        }
        return;
    case SAMPLING_RANDOM:
        for (size_t k = 0; k < n * d; k++)
            u[k] = dice_share(dice);
        return;
    case SAMPLING_LATIN:
        latin(dice, n, d, u);
        return;
    }
}

Validity
sample_mean(const TrialFunction *function, Sampling sampling, Sobol *sobol, size_t samples,
            size_t replicates, uint64_t seed, double *mean, double *rms_error)
{
    size_t d = function->dimensions;
    double exact = trial_function_mean(function), sum = 0.0, squares = 0.0;
    bool fixed = sampling == SAMPLING_SOBOL || sampling == SAMPLING_HALTON;
    bool by_sobol = sampling == SAMPLING_SOBOL || sampling == SAMPLING_SCRAMBLED;
    *mean = *rms_error = NAN;
    if (samples < 1 || replicates < 1 || samples > SAMPLE_MOST / d || replicates > SAMPLE_MOST ||
        (sampling == SAMPLING_HALTON && d > HALTON_MOST) || (fixed && replicates > 1) ||
        exact == 0.0 || (by_sobol && (sobol == NULL || sobol->dimensions != d)))
        return REFUSED;
    double *u = fresh(samples * d, sizeof *u);
    Dice dice = {seed};
    for (size_t r = 0; r < replicates; r++) {
        double total = 0.0;
        take(sampling, sobol, &dice, samples, d, u);
        for (size_t k = 0; k < samples; k++)
            total += trial_function_value(function, u + k * d);
        double one = total / (double) samples;
        sum += one;
        squares += (one / exact - 1.0) * (one / exact - 1.0);
    }
    free(u);
    *mean = sum / (double) replicates;
    *rms_error = sqrt(squares / (double) replicates);
    if (!is_number(*mean))
        return REFUSED;
    return sampling == SAMPLING_HALTON && d > HALTON_GOOD ? EXTRAPOLATED : VALID;
}
