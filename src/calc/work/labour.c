/* Calculators of labour: ordinary hours of a job, and what short spells make of them. */
#include "physics/work/labour.h"

#include <math.h>

#include "calc/arguments.h"
#include "calc/results.h"

/* --- job-labour ---------------------------------------------------------------------------------------------------- */

static const char *const job_words[] = {/* as Job */
                                        "epoxy-brush",
                                        "epoxy-roller",
                                        "epoxy-spray",
                                        "mastic-brush",
                                        "siding-brush",
                                        "siding-roller",
                                        "siding-spray",
                                        "trim-brush",
                                        "scale",
                                        "wire-brush",
                                        "grind-bright",
                                        "blast",
                                        "degrease",
                                        "sand-between-coats",
                                        "insulate",
                                        "line",
                                        "cut-grinder",
                                        "cut-torch",
                                        "pull-cable",
                                        "mark-opening",
                                        "fit-insert",
                                        "fit-lug",
                                        "fit-through-hull",
                                        "move-engine",
                                        NULL};
static const Input job_inputs[] = {
    IN_WORD("job", job_words),
    IN_NUMBER("area", "m2", .otherwise = "none"),
    IN_NUMBER("length", "m", .otherwise = "none"),
    IN_NUMBER("count", "1", .otherwise = "none"),
    IN_NUMBER("pace", "1", .standard = "1"),
};
static const Output job_outputs[] = {OUT_NUMBER("labour_low", "h"), OUT_NUMBER("labour_high", "h"),
                                     OUT_FIGURES};
static const Method *const job_methods[] = {&job_labour_method, NULL};

static void
run_job(const CalcArguments *in, CalcResults *out)
{
    static const char *const measure[] = {"area", "length", "count"}; /* as JobMeasure */
    Job job = (Job) argument_choice(in, "job");
    double low, high, amount = NAN;
    for (size_t m = 0; m < COUNT(measure); m++) {
        bool wanted = m == (size_t) job_measure(job);
        if (argument_given(in, measure[m]) != wanted) {
            g_autofree char *what =
                g_strdup_printf("%s is measured by %s, and by nothing else",
                                argument_word(in, "job"), measure[job_measure(job)]);
            results_error(out, what);
            return;
        }
        amount = wanted ? argument_number(in, measure[m]) : amount;
    }
    if (job_labour(job, amount, argument_number(in, "pace"), &low, &high) == REFUSED)
        results_refuse(out, "the pace must be above 0, no amount is negative, a count is whole");
    results_set(out, "labour_low", low);
    results_set(out, "labour_high", high);
    results_figures(out, job_standing(job));
}

const Calculator calculator_job_labour = {
    .name = "job-labour",
    .question = "ordinary hours for a job, as a first guess",
    .sheet = "work.md 8",
    CALCULATOR_BODY(job_inputs, job_outputs),
    .methods = job_methods,
    .run = run_job,
};

/* --- working-spells ------------------------------------------------------------------------------------------------ */

static const Input spells_inputs[] = {IN_NUMBER("work", "h"), IN_NUMBER("spell", "h"),
                                      IN_NUMBER("setup", "h", .standard = "0.5 h")};
static const Output spells_outputs[] = {OUT_NUMBER("net", "h"), OUT_NUMBER("spells", "1"),
                                        OUT_NUMBER("attendance", "h"), OUT_NUMBER("share", "1")};
static const Method *const spells_methods[] = {&working_spells_method, NULL};

static void
run_spells(const CalcArguments *in, CalcResults *out)
{
    WorkingSpells found;
    if (working_spells(argument_number(in, "work"), argument_number(in, "spell"),
                       argument_number(in, "setup"), &found) == REFUSED)
        results_refuse(out, "setting up and clearing away must leave something of the spell; no "
                            "time is negative");
    results_set(out, "net", found.net_h);
    results_set(out, "spells", found.spells);
    results_set(out, "attendance", found.attendance_h);
    results_set(out, "share", found.share);
}

const Calculator calculator_working_spells = {
    .name = "working-spells",
    .question = "what setting up and clearing away takes out of short spells",
    .sheet = "work.md 8",
    CALCULATOR_BODY(spells_inputs, spells_outputs),
    .methods = spells_methods,
    .run = run_spells,
};
