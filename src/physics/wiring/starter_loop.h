/* Drop allowed between battery and starter, all connections included, motor and solenoid left out.
 *
 *     E = R_loop I
 *
 * Given    loop_ohm allowed, from the limits of the trade (starter-loop-...); current_A while cranking
 * Source   SAE J541, summary: volts for each 100 A at 20 degC
 * Checked  starter-circuit-limit in tests/cases/wires.csv */
#pragma once

#include "base/source.h"

double starter_drop_V(double loop_ohm, double current_A);

extern const Method starter_drop_method;
