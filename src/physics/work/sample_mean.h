/* Mean of a function over a sample, and how far samples of this kind miss the true mean.
 *
 *     latin hypercube: for each input a random order pi of 0 to N - 1, u_k = (pi_k + v_k)/N
 *     rms error = sqrt(mean over replicates of (mean/exact - 1)^2)
 *
 * Given    a function that trial_function_open took; samples, replicates >= 1 up to SAMPLE_MOST (one for sobol and halton);
 *          sobol of its dimensions for the two Sobol kinds, else NULL. Sobol takes the points 0 to samples - 1, Halton 1 to samples
 * Gives    mean over all replicates, rms_error
 * Returns  VALID; EXTRAPOLATED for Halton above dimension 10; REFUSED outside the ranges above, and where the true mean is 0
 * Source   McKay, Beckman, Conover 1979 (latin hypercube), from memory; docs/methods/work.md 6.3
 * Checked  sample-mean in tests/cases/work.csv */
#pragma once

#include <stdint.h>

#include "physics/work/sobol.h"
#include "physics/work/trial_functions.h"

typedef enum {
    SAMPLING_SOBOL,
    SAMPLING_HALTON,
    SAMPLING_RANDOM,
    SAMPLING_LATIN,
    SAMPLING_SCRAMBLED
} Sampling;

enum { SAMPLE_MOST = 20000000 }; /* samples * dimensions, and replicates */

Validity sample_mean(const TrialFunction *function, Sampling sampling, Sobol *sobol, size_t samples,
                     size_t replicates, uint64_t seed, double *mean, double *rms_error);

extern const Method sample_latin_method, sample_error_method;
