/* Peukert's law. Invariant: a current below the rated one never gives more than the rated charge. */
#include "physics/wiring/peukert.h"

#include "physics/domain.h"

#define SHEET "Peukert's law; docs/methods/wires.md 4.1"
const Method peukert_time_method = {
    "Time until the battery is empty", "t = H * (C / (I * H))^k", {SHEET, STANDING_SECONDARY}};
const Method peukert_depth_method = {
    "Depth drawn by each load", "D = T / H * (I * H / C)^k", {SHEET, STANDING_SECONDARY}};
const Method peukert_exponent_method = {
    "Exponent from two ratings", "k = ln(t2 / t1) / ln(I1 / I2)", {SHEET, STANDING_DERIVED}};

static Validity
judge(const PeukertBattery *b)
{
    if (!is_positive(b->capacity_As) || !is_positive(b->rate_s) || !is_positive(b->exponent))
        return REFUSED;
    return is_within(b->exponent, 1.0, 1.5) ? VALID : EXTRAPOLATED;
}

/* Depth per second. */
static double
rate(const PeukertBattery *b, double current, double exponent)
{
    return pow(current * b->rate_s / b->capacity_As, exponent) / b->rate_s;
}

static double
usual_exponent(const PeukertBattery *b, double current)
{
    return current * b->rate_s > b->capacity_As ? b->exponent : 1.0;
}

Validity
peukert_time(const PeukertBattery *battery, double current_A, double *time_s)
{
    Validity validity = judge(battery);
    *time_s = NAN;
    if (validity == REFUSED || !is_not_negative(current_A))
        return REFUSED;
    *time_s = 1.0 / rate(battery, current_A, usual_exponent(battery, current_A));
    return validity;
}

Validity
peukert_depth(const PeukertBattery *battery, size_t n, const double current_A[static n],
              const double duration_s[static n], double *depth, double *plain)
{
    double sum = 0.0, throughout = 0.0;
    Validity validity = judge(battery);
    *depth = *plain = NAN;
    if (validity == REFUSED)
        return REFUSED;
    for (size_t i = 0; i < n; i++) {
        double I = current_A[i], T = duration_s[i];
        if (!is_not_negative(I) || !is_not_negative(T))
            return REFUSED;
        sum += T * rate(battery, I, usual_exponent(battery, I));
        throughout += T * rate(battery, I, battery->exponent);
    }
    *depth = sum;
    *plain = throughout;
    return validity;
}

Validity
peukert_exponent(double current_1_A, double time_1_s, double current_2_A, double time_2_s,
                 double *exponent)
{
    *exponent = NAN;
    if (!is_positive(current_1_A) || !is_positive(current_2_A) || !is_positive(time_1_s) ||
        !is_positive(time_2_s) || fabs(current_1_A / current_2_A - 1.0) < 1e-9)
        return REFUSED;
    double k = log(time_2_s / time_1_s) / log(current_1_A / current_2_A);
    if (!(k > 0.0))
        return REFUSED;
    *exponent = k;
    return is_within(k, 1.0, 1.5) ? VALID : EXTRAPOLATED;
}
