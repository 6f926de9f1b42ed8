/* Waiting for coats. Invariant: warmer never waits longer. */
#include "physics/work/coat.h"

#include "physics/domain.h"

const Method coat_rate_method = {
    "How fast a coat hardens against its sheet",
    "rate = 2^((T - T_ref) / 10)",
    {"factor two per 10 K, an assumption for planning; docs/methods/work.md 3.5",
     STANDING_PRACTICE}};
const Method recoat_window_method = {
    "Least and most wait of polyurethane on polyurethane",
    "t = table(T)",
    {"UFGS 09971 recoat table; docs/methods/work.md 3.5", STANDING_READ}};

Validity
coat_wait(double reference_h, double reference_K, size_t n, const double temperature_K[],
          const double spell_h[], double least_K, double *wait_h)
{
    *wait_h = NAN;
    if (!is_not_negative(reference_h) || !is_number(reference_K) || n == 0)
        return REFUSED;
    for (size_t i = 0; i < n; i++)
        if (!is_positive(temperature_K[i]) || (i + 1 < n && !is_not_negative(spell_h[i])))
            return REFUSED;
    double open_h = reference_h, passed_h = 0.0;
    for (size_t i = 0; i < n; i++) {
        double rate =
            temperature_K[i] < least_K ? 0.0 : exp2((temperature_K[i] - reference_K) / 10.0);
        double held_h = i + 1 < n ? spell_h[i] : INFINITY;
        if (open_h <= 0.0 || (rate > 0.0 && open_h <= rate * held_h)) {
            passed_h += open_h > 0.0 ? open_h / rate : 0.0;
            *wait_h = passed_h;
            return is_not_negative(passed_h) ? VALID : REFUSED;
        }
        open_h -= rate > 0.0 ? rate * held_h : 0.0;
        passed_h += held_h;
    }
    return REFUSED;
}

Validity
recoat_window(double surface_K, double *least_h, double *most_h)
{
    static const struct {
        double to_degC, least_h, most_h;
    } row[] = {{21.0, 8.0, 48.0}, {27.0, 6.0, 48.0}, {32.0, 4.0, 36.0},
               {38.0, 3.0, 24.0}, {43.0, 2.0, 12.0}, {49.0, 1.0, 2.0}};
    double degC = round(surface_K - 273.15);
    *least_h = *most_h = NAN;
    if (!is_within(degC, 16.0, 49.0))
        return REFUSED;
    size_t i = 0;
    while (degC > row[i].to_degC)
        i++;
    *least_h = row[i].least_h;
    *most_h = row[i].most_h;
    return degC > 38.0 ? EXTRAPOLATED : VALID;
}
