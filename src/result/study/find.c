/* Look-ups in what studies found.
 * Invariant: nothing is found that bears another name. */
#include <string.h>

#include "result/study/doubt.h"
#include "result/study/remedy.h"

const DoubtAnswer *
doubt_answer(const Doubt *doubt, const char *name)
{
    for (size_t i = 0; i < doubt->n_answers; i++)
        if (strcmp(doubt->answer[i].name, name) == 0)
            return &doubt->answer[i];
    return NULL;
}

const DoubtVerdict *
doubt_verdict(const Doubt *doubt, const char *finding)
{
    for (size_t i = 0; i < doubt->n_verdicts; i++)
        if (strcmp(doubt->verdict[i].finding, finding) == 0)
            return &doubt->verdict[i];
    return NULL;
}

const RemediesOf *
remedies_for(const Remedies *remedies, const char *finding)
{
    for (size_t i = 0; i < remedies->n; i++)
        if (strcmp(remedies->of[i].finding, finding) == 0)
            return &remedies->of[i];
    return NULL;
}
