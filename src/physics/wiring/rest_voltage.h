/* State of charge from the voltage of a battery at rest, and the other way round.
 *
 * Given    state_of_charge 0 to 1, or rest_V after hours without load or charge, at about 25 deg C
 *          nominal_V of the system, counted as 12 V for six lead or four lithium cells (24 V for twice
 *          that): a whole number of cells, 2 V of lead, 3 V of lithium iron phosphate
 * Gives    RestState; gravity and freezing point of the acid for lead only, else NAN
 * Returns  VALID; REFUSED outside the table, and for lithium from a voltage between those at 20 % and
 *          90 %: on that plateau charts differ by 20 % of charge, so the charge must be counted
 * Misses   sealed lead (absorbed glass mat stands about 0.15 V higher when full, memory), age, acid that
 *          lies in layers, and temperature (0.024 V per 10 deg F is printed for the hydrometer's sake)
 * Source   docs/methods/wires-ocv-soc.csv: flooded lead from two tables; lithium from a trade chart of low
 *          authority; docs/methods/wires.md 4.3
 * Checked  battery-rest in tests/cases/wires.csv; tests/physics/test_battery.c: rows of the sheet */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef enum { CHEMISTRY_FLOODED_LEAD, CHEMISTRY_LFP } RestChemistry;

typedef struct {
    double state_of_charge, rest_V, specific_gravity, freezing_K;
} RestState;

Validity rest_voltage_at(RestChemistry chemistry, double nominal_V, double state_of_charge,
                         RestState *out);
Validity rest_voltage_read(RestChemistry chemistry, double nominal_V, double rest_V,
                           RestState *out);

extern const Method rest_voltage_lead_method, rest_voltage_lfp_method;
