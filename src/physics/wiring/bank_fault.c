/* Short circuit of a bank of equal batteries. */
#include "physics/wiring/bank_fault.h"

#include "physics/domain.h"

const Method bank_resistance_method = {"Resistance of a bank of equal batteries",
                                       "R_bank = n_series * R / n_parallel",
                                       {"docs/methods/wires.md 2.4", STANDING_DERIVED}};
const Method bank_fault_method = {"Short-circuit current of a bank",
                                  "I = n_series * E / (R_bank + R_path)",
                                  {"docs/methods/wires.md 2.4", STANDING_DERIVED}};

Validity
bank_fault(const Bank *bank, BankFault *out)
{
    *out = (BankFault){NAN, NAN, NAN, NAN};
    if (!is_positive(bank->emf_V) || !is_positive(bank->ohm) || !is_not_negative(bank->path_ohm) ||
        !is_whole(bank->series, 1.0, 1e6) || !is_whole(bank->parallel, 1.0, 1e6))
        return REFUSED;
    out->emf_V = bank->series * bank->emf_V;
    out->ohm = bank->series * bank->ohm / bank->parallel;
    out->terminal_A = out->emf_V / out->ohm;
    out->fault_A = out->emf_V / (out->ohm + bank->path_ohm);
    return VALID;
}
