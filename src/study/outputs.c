/* Values of one solve in the order of the base solve.
 * Invariant: what the result lacks is NAN, never the base value. */
#include "study/outputs.h"

#include <math.h>
#include <string.h>

double
finding_margin(const Finding *f)
{
    return f->sense == AT_MOST ? f->limit - f->value : f->value - f->limit;
}

/* A crowd goes to either side; the worst of many situations may lie to either side too. */
static bool
may_turn(const Answer *answer)
{
    return answer->kind->worse == WORSE_AWAY_FROM_ZERO && answer->kind->with == NULL &&
           (strchr(answer->name, '@') == NULL || g_str_has_suffix(answer->name, "@people-side"));
}

Outputs
outputs_of(const Result *base)
{
    size_t answers = result_answers(base), findings = result_findings(base);
    Outputs outputs = {.n = 0, .output = g_new0(Output, answers + findings + 1)};
    for (size_t i = 0; i < answers; i++) {
        const Answer *answer = result_answer(base, i);
        outputs.output[outputs.n++] =
            (Output){.name = answer->name, .answer = answer, .folds = may_turn(answer)};
    }
    for (size_t i = 0; i < findings; i++) {
        const Finding *finding = result_finding(base, i);
        if (finding->measured && isfinite(finding->value) && isfinite(finding->limit))
            outputs.output[outputs.n++] = (Output){.name = finding->id, .finding = finding};
    }
    return outputs;
}

void
outputs_clear(Outputs *outputs)
{
    g_clear_pointer(&outputs->output, g_free);
    outputs->n = 0;
}

/* Nearly as far to the other side is the other side's turn, not a walk through zero. */
static double
folded(double value, double base)
{
    bool turned =
        value * base < 0.0 && fabs(fabs(value) - fabs(base)) < 0.25 * (fabs(value) + fabs(base));
    return turned ? -value : value;
}

void
outputs_read(const Outputs *outputs, const Result *result, double value[], unsigned governor[])
{
    for (size_t i = 0; i < outputs->n; i++) {
        const Output *output = &outputs->output[i];
        value[i] = NAN;
        governor[i] = 0;
        if (output->answer != NULL) {
            const Answer *a = result_answer_find(result, output->name);
            if (a == NULL)
                continue;
            value[i] = output->folds ? folded(a->value, output->answer->value) : a->value;
            governor[i] = (a->situation != NULL ? g_str_hash(a->situation) : 1U) * 31U +
                          (a->record != NULL ? g_str_hash(a->record) : 0U);
        } else {
            const Finding *f = result_finding_find(result, output->name);
            if (f == NULL || !f->measured)
                continue;
            value[i] = finding_margin(f);
            governor[i] = f->situation != NULL ? g_str_hash(f->situation) : 1U;
        }
    }
}
