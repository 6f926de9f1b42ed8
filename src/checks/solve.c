/* Runs the checks in their order.
 * Invariant: no state outlives a call. */
#include "checks/solve.h"

#include <string.h>

#include "checks/afloat/afloat.h"
#include "checks/afloat/answers.h"
#include "checks/wiring/wiring.h"

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

static void
solve_afloat(const SolveInput *input, Result *result)
{
    g_autoptr(Afloat) afloat =
        afloat_new(input->boat, input->catalog, input->stage, input->situation, input->fine);
    afloat_give_answers(afloat, result);
    for (size_t i = 0; i < G_N_ELEMENTS(checks); i++)
        if (checks[i]->run != NULL)
            checks[i]->run(afloat, result);
}

static void
solve_wiring(const SolveInput *input, Result *result)
{
    g_autoptr(Wiring) wiring =
        wiring_new(input->boat, input->catalog, input->stage, input->situation);
    wiring_give_answers(wiring, result);
    for (size_t i = 0; i < G_N_ELEMENTS(checks); i++)
        if (checks[i]->wired != NULL)
            checks[i]->wired(wiring, result);
}

Result *
solve(const SolveInput *input)
{
    Result *result = result_new(input->boat, input->stage);
    if (asked(input, "afloat"))
        solve_afloat(input, result);
    if (asked(input, "wiring"))
        solve_wiring(input, result);
    result_settle(result);
    return result;
}

size_t
solve_checks(const CheckInfo **infos, size_t room)
{
    for (size_t i = 0; i < G_N_ELEMENTS(checks) && i < room; i++)
        infos[i] = &checks[i]->info;
    return G_N_ELEMENTS(checks);
}
