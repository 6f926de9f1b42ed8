/* Runs the checks in their order.
 * Invariant: no state outlives a call. */
#include "checks/solve.h"

#include <string.h>

#include "checks/afloat/answers.h"
#include "checks/solve_parts.h"

#define CHECK(name) extern const Check check_##name;
#include "checks/checks.def"
#undef CHECK

static const Check *const checks[] = {
#define CHECK(name) &check_##name,
#include "checks/checks.def"
#undef CHECK
};

static bool
asked(const SolveInput *input, const char *discipline)
{
    return input->only == NULL || strcmp(input->only, discipline) == 0;
}

static Afloat *
solve_afloat(const SolveInput *input, Result *result)
{
    Afloat *afloat =
        afloat_new(input->boat, input->catalog, input->stage, input->situation, input->fine);
    afloat->brief = input->brief;
    afloat_give_answers(afloat, result);
    for (size_t i = 0; i < G_N_ELEMENTS(checks); i++)
        if (checks[i]->run != NULL)
            checks[i]->run(afloat, result);
    return afloat;
}

static Wiring *
solve_wiring(const SolveInput *input, Result *result)
{
    Wiring *wiring = wiring_new(input->boat, input->catalog, input->stage, input->situation);
    wiring->brief = input->brief;
    wiring_give_answers(wiring, result);
    for (size_t i = 0; i < G_N_ELEMENTS(checks); i++)
        if (checks[i]->wired != NULL)
            checks[i]->wired(wiring, result);
    return wiring;
}

static Work *
solve_work(const SolveInput *input, Result *result)
{
    Work *work = work_new(input->boat, input->today);
    work->brief = input->brief;
    work_give_answers(work, result);
    for (size_t i = 0; i < G_N_ELEMENTS(checks) && work_is_asked(work); i++)
        if (checks[i]->planned != NULL)
            checks[i]->planned(work, result);
    return work;
}

Result *
solve_parts(const SolveInput *input, SolveParts *parts)
{
    Result *result = result_new(input->boat, input->stage);
    *parts = (SolveParts){
        .afloat = asked(input, "afloat") ? solve_afloat(input, result) : NULL,
        .wiring = asked(input, "wiring") ? solve_wiring(input, result) : NULL,
        .work = asked(input, "work") ? solve_work(input, result) : NULL,
    };
    result_settle(result);
    return result;
}

void
solve_parts_clear(SolveParts *parts)
{
    afloat_free(parts->afloat);
    wiring_free(parts->wiring);
    work_free(parts->work);
}

Result *
solve(const SolveInput *input)
{
    SolveParts parts;
    Result *result = solve_parts(input, &parts);
    solve_parts_clear(&parts);
    return result;
}

size_t
solve_checks(const CheckInfo **infos, size_t room)
{
    for (size_t i = 0; i < G_N_ELEMENTS(checks) && i < room; i++)
        infos[i] = &checks[i]->info;
    return G_N_ELEMENTS(checks);
}
