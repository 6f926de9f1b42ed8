/* Two banks joined. Invariant: what one gives the other takes. */
#include "physics/wiring/bank_equalise.h"

#include "physics/domain.h"

const Method bank_equalise_current_method = {"Current when two banks are joined",
                                             "I = (V_1 - V_2) / R",
                                             {"docs/methods/wires.md 2.6", STANDING_DERIVED}};
const Method bank_equalise_time_method = {
    "Time constant of two joined banks",
    "tau = R * C_1 * C_2 / (C_1 + C_2) / V_slope",
    {"docs/methods/wires.md 4.3, linear open voltage", STANDING_DERIVED}};
const Method bank_equalise_voltage_method = {
    "Voltage where two banks settle",
    "V = (C_1 * V_1 + C_2 * V_2) / (C_1 + C_2)",
    {"docs/methods/wires.md 4.3, linear open voltage", STANDING_DERIVED}};

static bool
is_bank(const RestingBank *bank)
{
    return is_number(bank->voltage_V) && is_positive(bank->capacity_As);
}

Validity
bank_equalise(const RestingBank *first, const RestingBank *second, double loop_ohm, double slope_V,
              BankEqualise *out)
{
    *out = (BankEqualise){NAN, NAN, NAN, NAN};
    if (!is_bank(first) || !is_bank(second) || !is_positive(loop_ohm) || !is_positive(slope_V))
        return REFUSED;
    double difference = first->voltage_V - second->voltage_V;
    double share = second->capacity_As / (first->capacity_As + second->capacity_As);
    double common = first->capacity_As * share / slope_V; /* the two in series, A s / V */
    *out = (BankEqualise){.current_A = difference / loop_ohm,
                          .time_constant_s = loop_ohm * common,
                          .final_voltage_V = first->voltage_V - share * difference,
                          .charge_moved_As = common * difference};
    return VALID;
}
