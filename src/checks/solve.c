/* Runs the checks in their order.
 * Invariant: no state outlives a call. */
#include "checks/solve.h"

#include "checks/afloat/afloat.h"
#include "checks/afloat/answers.h"

#define CHECK(name) extern const Check check_##name;
#include "checks/checks.def"
#undef CHECK

static const Check *const checks[] = {
#define CHECK(name) &check_##name,
#include "checks/checks.def"
#undef CHECK
};

Result *
solve(const SolveInput *input)
{
    Result *result = result_new(input->boat, input->stage);
    g_autoptr(Afloat) afloat =
        afloat_new(input->boat, input->catalog, input->stage, input->situation, input->fine);
    afloat_give_answers(afloat, result);
    for (size_t i = 0; i < G_N_ELEMENTS(checks); i++)
        checks[i]->run(afloat, result);
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
