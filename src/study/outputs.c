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

/* The list of reckoned readings in the working of a trial; NULL for any other finding. */
static const Step *
reckoned(const Finding *f)
{
    bool trial = f != NULL && f->working != NULL && strcmp(f->check->id, "trial") == 0;
    return trial ? working_find(f->working, "reckoned") : NULL;
}

static size_t
trial_readings(const Result *base)
{
    size_t n = 0;
    for (size_t i = 0; i < result_findings(base); i++) {
        const Step *step = reckoned(result_finding(base, i));
        n += step != NULL ? step->n : 0;
    }
    return n;
}

static void
add_readings(Outputs *outputs, const Finding *f)
{
    const Step *step = reckoned(f);
    for (size_t k = 0; step != NULL && k < step->n; k++)
        outputs->output[outputs->n++] = (Output){.name = f->id, .trial = f, .reading = k};
}

/* An answer of one situation is only followed where stability asks for it: the wiring has hundreds, and the worst stands for
 * them. */
static bool
is_studied(const Answer *answer)
{
    return strcmp(answer->kind->discipline, "wiring") != 0 || strchr(answer->name, '@') == NULL;
}

Outputs
outputs_of(const Result *base)
{
    size_t answers = result_answers(base), findings = result_findings(base);
    size_t room = answers + findings + trial_readings(base);
    Outputs outputs = {.n = 0, .output = g_new0(Output, room + 1)};
    for (size_t i = 0; i < answers; i++) {
        const Answer *answer = result_answer(base, i);
        if (!is_studied(answer))
            continue;
        outputs.output[outputs.n++] =
            (Output){.name = answer->name, .answer = answer, .folds = may_turn(answer)};
    }
    for (size_t i = 0; i < findings; i++) {
        const Finding *finding = result_finding(base, i);
        if (finding->measured && isfinite(finding->value) && isfinite(finding->limit))
            outputs.output[outputs.n++] = (Output){.name = finding->id, .finding = finding};
        add_readings(&outputs, finding);
    }
    return outputs;
}

static const char *
discipline_of(const Output *output)
{
    return output->answer != NULL    ? output->answer->kind->discipline
           : output->finding != NULL ? output->finding->check->discipline
                                     : output->trial->check->discipline;
}

static Result *
brief(const SolveInput *solve_all, const char *discipline)
{
    SolveInput input = *solve_all;
    input.brief = true;
    input.only = discipline;
    return solve(&input);
}

void
outputs_part(Outputs *outputs, const SolveInput *solve_all)
{
    g_autoptr(Result) afloat = brief(solve_all, "afloat");
    g_autoptr(Result) wiring = brief(solve_all, "wiring");
    size_t kept = 0;
    for (size_t i = 0; i < outputs->n; i++) {
        Output output = outputs->output[i];
        const Result *own = strcmp(discipline_of(&output), "wiring") == 0 ? wiring : afloat;
        if (output.answer != NULL ? result_answer_find(own, output.name) != NULL
                                  : result_finding_find(own, output.name) != NULL)
            outputs->output[kept++] = output;
    }
    outputs->n = kept;
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

static void
read_answer(const Output *output, const Answer *a, double *value, unsigned *governor)
{
    if (a == NULL)
        return;
    *value = output->folds ? folded(a->value, output->answer->value) : a->value;
    *governor = (a->situation != NULL ? g_str_hash(a->situation) : 1U) * 31U +
                (a->record != NULL ? g_str_hash(a->record) : 0U);
}

static void
read_finding(const Finding *f, double *value, unsigned *governor)
{
    if (f == NULL || !f->measured)
        return;
    *value = finding_margin(f);
    *governor = f->situation != NULL ? g_str_hash(f->situation) : 1U;
}

static void
read_one(const Output *output, const Result *result, double *value, unsigned *governor)
{
    if (output->answer != NULL) {
        read_answer(output, result_answer_find(result, output->name), value, governor);
        return;
    }
    const Finding *f = result_finding_find(result, output->name);
    const Step *step = output->trial != NULL ? reckoned(f) : NULL;
    if (output->trial == NULL)
        read_finding(f, value, governor);
    else if (step != NULL && output->reading < step->n)
        *value = step->value[output->reading];
}

static void
read_base(const Output *output, double *value, unsigned *governor)
{
    if (output->answer != NULL)
        read_answer(output, output->answer, value, governor);
    else if (output->finding != NULL)
        read_finding(output->finding, value, governor);
    else
        *value = reckoned(output->trial)->value[output->reading];
}

void
outputs_read(const Outputs *outputs, const Result *result, const char *discipline, double value[],
             unsigned governor[])
{
    for (size_t i = 0; i < outputs->n; i++) {
        const Output *output = &outputs->output[i];
        value[i] = NAN;
        governor[i] = 0;
        if (discipline == NULL || strcmp(discipline, discipline_of(output)) == 0)
            read_one(output, result, &value[i], &governor[i]);
        else
            read_base(output, &value[i], &governor[i]);
    }
}
