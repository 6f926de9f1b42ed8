/* The starter's loop. */
#include "physics/wiring/starter_loop.h"

const Method starter_drop_method = {"Drop allowed between battery and starter",
                                    "E = R_loop * I",
                                    {"SAE J541, summary", STANDING_SECONDARY}};

double
starter_drop_V(double loop_ohm, double current_A)
{
    return loop_ohm * current_A;
}
