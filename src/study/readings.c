/* Readings of trials, found again among the outputs of a study.
 * Invariant: every one has an output; one whose trial lacks something is not there. */
#include "study/readings.h"

#include <string.h>

#include "checks/afloat/quay_trial.h"

static const QuayTrial *
trial_of(const Afloat *afloat, const Finding *f)
{
    for (guint i = 0; i < afloat->trials->len; i++) {
        const QuayTrial *trial = afloat->trials->pdata[i];
        if (strcmp(trial->record->path, f->about) == 0)
            return trial;
    }
    return NULL;
}

static TrialTaken
take(const QuayTrial *trial, const Output *output, size_t at, size_t index)
{
    const QuayReading *reading = &trial->reading[output->reading];
    const Step *step = working_find(output->trial->working, "reckoned");
    return (TrialTaken){.output = at,
                        .trial = index,
                        .finding = output->trial->id,
                        .path = output->trial->about,
                        .where = step->names[output->reading],
                        .read = reading->read_m,
                        .within = reading->within_m,
                        .weight_frac = trial->weight_frac};
}

Readings *
readings_of(const SolveInput *solve, const Outputs *outputs)
{
    Readings *readings = g_new0(Readings, 1);
    const Finding *last = NULL;
    readings->taken = g_new0(TrialTaken, outputs->n + 1);
    g_autoptr(Afloat) afloat = NULL;
    for (size_t k = 0; k < outputs->n; k++) {
        const Output *output = &outputs->output[k];
        if (output->trial == NULL)
            continue;
        if (afloat == NULL)
            afloat = afloat_new(solve->boat, solve->catalog, solve->stage, solve->situation, false);
        const QuayTrial *trial = trial_of(afloat, output->trial);
        if (trial == NULL || output->reading >= trial->n)
            continue;
        readings->n_trials += output->trial != last;
        last = output->trial;
        readings->taken[readings->n++] = take(trial, output, k, readings->n_trials - 1);
    }
    return readings;
}

void
readings_free(Readings *readings)
{
    if (readings == NULL)
        return;
    g_free(readings->taken);
    g_free(readings);
}
