/* Answers of the forecast. Invariant: each is reckoned in its working from a number of the simulation and one of the file. */
#include "study/work_answers.h"

#include <math.h>
#include <string.h>

static const AnswerKind kinds[] = {
    {.discipline = "work",
     .name = "finish",
     .label = "Finish of the work",
     .kind = Q_DATE,
     .worse = WORSE_MORE,
     .help = "as likely to be sooner as later"},
    {.discipline = "work",
     .name = "finish-p10",
     .label = "Finish if all goes well",
     .kind = Q_DATE,
     .worse = WORSE_MORE,
     .help = "sooner in one case of ten"},
    {.discipline = "work",
     .name = "finish-p90",
     .label = "Finish if much goes wrong",
     .kind = Q_DATE,
     .worse = WORSE_MORE,
     .help = "later in one case of ten"},
    {.discipline = "work",
     .name = "chance",
     .label = "Chance to be done by the date",
     .kind = Q_FRACTION,
     .worse = WORSE_LESS,
     .help = "counted from trials with drawn hours, finds, weather and deliveries"},
    {.discipline = "work",
     .name = "contingency",
     .label = "Money to set aside",
     .kind = Q_MONEY,
     .worse = WORSE_MORE,
     .help = "on top of the usual prices, so that it is enough in eight cases of ten"},
    {.discipline = "work",
     .name = "no-return",
     .label = "Last day to begin",
     .kind = Q_DATE,
     .worse = WORSE_LESS,
     .help = "beginning later, the chance falls below the one asked for"},
};
enum { FINISH, FINISH_P10, FINISH_P90, CHANCE, CONTINGENCY, NO_RETURN };

static const Source simulated = {
    "list of the plan replayed with drawn numbers; docs/methods/work.md 1.4", STANDING_DERIVED};
static const Source derived = {"derived", STANDING_DERIVED};

bool
work_answer_known(const char *name)
{
    for (size_t i = 0; i < G_N_ELEMENTS(kinds); i++) {
        g_autofree char *whole = g_strdup_printf("%s.%s", kinds[i].discipline, kinds[i].name);
        size_t n = strlen(whole);
        if (strcmp(name, whole) == 0 ||
            (i == NO_RETURN && strncmp(name, whole, n) == 0 && name[n] == '.'))
            return true;
    }
    return false;
}

/* Hours that nobody stated make all of it assumed. */
static Basis
basis_of(const WorkForecast *f)
{
    for (size_t i = 0; i < f->n_tasks; i++)
        if (!f->plan->task[f->task[i].task].stated)
            return BASIS_ASSUMED;
    return f->n_unknown > 0 ? BASIS_ASSUMED : BASIS_STATED;
}

/* "F = B + D": a day and how long after it. */
static void
give_day(const WorkForecast *f, Result *result, const AnswerKind *kind, const char *option,
         double day, double spread, const char *what)
{
    Basis basis = basis_of(f);
    Working *w = result_working(result, kind->label);
    if (!isfinite(day)) {
        result_give(result, kind, option, NULL, NULL, NAN, 0.0, basis, w);
        return;
    }
    working_given(w, "B", "day on which the open work begins", f->begin_day, Q_DATE, 0.0,
                  BASIS_STATED, &derived);
    working_given(w, "D", result_text(result, "%s, %zu trials", what, f->trials),
                  day - f->begin_day, Q_DAYS, spread, basis, &simulated);
    working_reckon(w, "F", kind->label, "B + D", day, Q_DATE, spread, &derived);
    result_give(result, kind, option, NULL, NULL, day, spread, basis, w);
}

/* Which milestone is meant, as the owner names it; "all the work" without one. */
static const char *
reached_words(const WorkForecast *f)
{
    size_t i = f->milestone[0].milestone;
    return i < f->plan->n_milestones ? f->plan->milestone[i].name : "all the work is done";
}

static void
give_finish(const WorkForecast *f, Result *result)
{
    const ForecastMilestone *m = &f->milestone[0];
    const char *reached = reached_words(f);
    /* what holds 95 %, by a normal distribution with the same tenths */
    double spread = (m->p90_day - m->p10_day) / 2.0 * 1.959964 / 1.281552;
    give_day(f, result, &kinds[FINISH], NULL, m->p50_day, isfinite(spread) ? spread : 0.0,
             result_text(result, "days from then on until: %s; in half of the trials", reached));
    give_day(f, result, &kinds[FINISH_P10], NULL, m->p10_day, 0.0,
             result_text(result, "days from then on until: %s; in one trial of ten", reached));
    give_day(f, result, &kinds[FINISH_P90], NULL, m->p90_day, 0.0,
             result_text(result, "days from then on until: %s; in nine trials of ten", reached));
}

static void
give_chance(const WorkForecast *f, Result *result)
{
    const ForecastMilestone *m = &f->milestone[0];
    Basis basis = basis_of(f);
    if (!isfinite(m->chance_frac))
        return;
    double n = (double) f->trials, half = (m->chance_high_frac - m->chance_low_frac) / 2.0;
    Working *w = result_working(result, kinds[CHANCE].label);
    working_given(w, "k", result_text(result, "trials that met the date of: %s", reached_words(f)),
                  round(m->chance_frac * n), Q_COUNT, 0.0, basis, &simulated);
    working_given(w, "N", "trials", n, Q_COUNT, 0.0, BASIS_STATED, &simulated);
    working_reckon(w, "p", kinds[CHANCE].label, "k / N", m->chance_frac, Q_FRACTION, half,
                   &derived);
    result_give(result, &kinds[CHANCE], NULL, NULL, NULL, m->chance_frac, half, basis, w);
}

static void
give_contingency(const WorkForecast *f, Result *result)
{
    Basis basis = basis_of(f);
    if (!isfinite(f->contingency_money))
        return;
    Working *w = result_working(result, kinds[CONTINGENCY].label);
    working_given(w, "P80", "enough in eight trials of ten", f->cost_p80_money, Q_MONEY, 0.0, basis,
                  &simulated);
    working_given(w, "L", "usual prices of all that is still to be paid, berth included",
                  f->likely_money, Q_MONEY, 0.0, basis, &derived);
    working_reckon(w, "C", kinds[CONTINGENCY].label, "P80 - L", f->contingency_money, Q_MONEY, 0.0,
                   &derived);
    result_give(result, &kinds[CONTINGENCY], NULL, NULL, NULL, f->contingency_money, 0.0, basis, w);
}

/* The chosen plan's under the bare name, whatever the options say. */
static void
give_no_return(const WorkForecast *f, Result *result)
{
    for (size_t i = 0; i < f->n_options; i++) {
        const ForecastOption *o = &f->option[i];
        if (o->fault != NULL)
            continue;
        give_day(f, result, &kinds[NO_RETURN], o->option, o->no_return_day, 0.0,
                 "days it may still wait");
    }
}

/* There is work, and yet no date: the working says what lacks. */
static void
give_fault(const WorkForecast *f, Result *result)
{
    static const size_t lacking[] = {FINISH, CHANCE, NO_RETURN};
    bool open = false;
    for (size_t i = 0; i < f->plan->n_tasks; i++)
        open |= work_task_is_open(&f->plan->task[i]);
    for (size_t i = 0; open && i < G_N_ELEMENTS(lacking); i++) {
        const AnswerKind *kind = &kinds[lacking[i]];
        Working *w = result_working(result, result_text(result, "%s: %s", kind->label, f->fault));
        working_given(w, "x", f->fault, NAN, kind->kind, 0.0, BASIS_ASSUMED, &derived);
        result_give(result, kind, NULL, NULL, NULL, NAN, 0.0, BASIS_ASSUMED, w);
    }
}

void
work_answers_give(const WorkForecast *f, Result *result)
{
    if (f->fault != NULL)
        give_fault(f, result);
    else {
        give_finish(f, result);
        give_chance(f, result);
        give_contingency(f, result);
        give_no_return(f, result);
    }
    result_settle(result);
}
