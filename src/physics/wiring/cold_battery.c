/* Cold batteries. Invariant: at 25 degC and above nothing changes. */
#include "physics/wiring/cold_battery.h"

#include <math.h>

#include "physics/domain.h"

#define WARM_K 298.15
#define RATED_K 255.15       /* of a cranking rating: -18 degC */
#define HYDROMETER_K 299.82  /* 80 degF */
#define REST_V_PER_K 0.00432 /* 0.024 V in 10 degF, of a 12 V battery */
#define WARM_SHARE 0.55      /* of the cold cranking resistance */
#define COLD_RISE 1.75       /* from 25 to -10 degC */
#define COLD_RISE_OVER_K 35.0

const Method cold_battery_method = {
    "Inner resistance of a cold lead battery",
    "R = R_25 * 1.75^((298.15 - theta) / 35)",
    {"docs/methods/wires.md 4.2: 1.5 to 2 times from 25 to -10 degC, recalled", STANDING_MEMORY}};
const Method cold_battery_rest_method = {
    "Voltage at rest of a cold lead battery, less by",
    "dU = 0.00432 * U_n / 12 * (299.82 - theta)",
    {"docs/methods/wires.md 4.3, printed beside a hydrometer's table", STANDING_READ}};

double
cold_battery_factor(double cell_K)
{
    return is_positive(cell_K) ? pow(COLD_RISE, fmax(0.0, WARM_K - cell_K) / COLD_RISE_OVER_K)
                               : NAN;
}

double
cold_battery_cranking_factor(double cell_K)
{
    double above = fmin(cell_K, WARM_K) - RATED_K;
    return is_positive(cell_K) ? pow(WARM_SHARE, above / (WARM_K - RATED_K)) : NAN;
}

double
cold_battery_rest_V(double nominal_V, double cell_K)
{
    return is_positive(cell_K) ? REST_V_PER_K * nominal_V / 12.0 * fmin(0.0, cell_K - HYDROMETER_K)
                               : NAN;
}
