/* Answers of study.
 * Invariant: each is the sum of a list in its working, so that it can be counted again. */
#include "study/answers.h"

#include <string.h>

static const AnswerKind answer_unsettled = {
    .discipline = "afloat",
    .name = "unsettled",
    .label = "Numbers that are not settled",
    .kind = Q_COUNT,
    .worse = WORSE_MORE,
    .help = "assumed, by eye, or known within a spread, and moved within it"};

static const AnswerKind answer_could_turn = {.discipline = "afloat",
                                             .name = "could-turn",
                                             .label = "Verdicts that could turn",
                                             .kind = Q_COUNT,
                                             .worse = WORSE_MORE,
                                             .help =
                                                 "what is not settled reaches across their limit"};

static const Source counted = {"counted", STANDING_DERIVED};

bool
study_answer_known(const char *name)
{
    static const AnswerKind *const kinds[] = {&answer_unsettled, &answer_could_turn};
    for (size_t i = 0; i < G_N_ELEMENTS(kinds); i++) {
        g_autofree char *whole = g_strdup_printf("%s.%s", kinds[i]->discipline, kinds[i]->name);
        if (strcmp(name, whole) == 0)
            return true;
    }
    return false;
}

/* "sum(n)" over the list; an empty list is one nought. */
static void
give_sum(Result *result, const AnswerKind *kind, const char *title, const char *label, size_t n,
         const double value[], const char *const names[])
{
    static const double nought[] = {0.0};
    static const char *const none[] = {"none"};
    Working *w = result_working(result, title);
    double sum = 0.0;
    for (size_t i = 0; i < n; i++)
        sum += value[i];
    working_list(w, "n", label, n > 0 ? n : 1, n > 0 ? value : nought, n > 0 ? names : none,
                 Q_COUNT, BASIS_MEASURED, &counted);
    working_reckon(w, "N", kind->label, "sum(n)", sum, Q_COUNT, 0.0, &counted);
    result_give(result, kind, NULL, NULL, NULL, sum, 0.0, BASIS_MEASURED, w);
}

static void
give_unsettled(const Doubt *doubt, Result *result)
{
    g_autofree double *value = g_new(double, doubt->n_parts + 1);
    g_autofree const char **names = g_new(const char *, doubt->n_parts + 1);
    for (size_t i = 0; i < doubt->n_parts; i++) {
        value[i] = (double) doubt->part[i].n;
        names[i] = result_text(result, "%s", doubt->part[i].title);
    }
    give_sum(result, &answer_unsettled, "What is not settled", "by part of the boat file",
             doubt->n_parts, value, names);
}

static void
give_could_turn(const Doubt *doubt, Result *result)
{
    g_autofree double *value = g_new(double, doubt->n_verdicts + 1);
    g_autofree const char **names = g_new(const char *, doubt->n_verdicts + 1);
    size_t n = 0;
    for (size_t i = 0; i < doubt->n_verdicts; i++)
        if (doubt->verdict[i].could_turn) {
            value[n] = 1.0;
            names[n++] = result_text(result, "%s", doubt->verdict[i].finding);
        }
    give_sum(result, &answer_could_turn, "Verdicts within reach of what is not settled",
             "margin smaller than the studied spread", n, value, names);
}

void
study_answers_give(const Doubt *doubt, Result *result)
{
    give_unsettled(doubt, result);
    give_could_turn(doubt, result);
    result_settle(result);
}
