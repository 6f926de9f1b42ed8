/* Simpson's first rule. Invariant: exact when the ordinate is a cubic in x over each pair of
 * intervals. */
#include "physics/afloat/simpson.h"

#include "physics/domain.h"

const Method simpson_method = {
    "Simpson's first rule over pairs of equal intervals",
    "I = sum(h * c * f) / 3",
    {"Barrass and Derrett, Ship Stability for Masters and Mates, 5th ed., p. 74", STANDING_READ}};

static bool
fits(size_t n, const double x[], const double f[])
{
    if (n < 3 || n % 2 == 0)
        return false;
    for (size_t i = 0; i < n; i++)
        if (!is_number(x[i]) || !is_not_negative(f[i]))
            return false;
    for (size_t i = 0; i + 2 < n; i += 2) {
        double a = x[i + 1] - x[i], b = x[i + 2] - x[i + 1];
        if (!(a > 0.0 && b > 0.0) || !(fabs(a - b) <= 1e-6 * (a + b)))
            return false;
    }
    return true;
}

/* Integral of x^px f^pf. */
static double
moment(size_t n, const double x[], const double f[], int px, int pf)
{
    double sum = 0.0;
    for (size_t i = 0; i + 2 < n; i += 2) {
        double h = 0.5 * (x[i + 2] - x[i]);
        for (size_t k = 0; k < 3; k++)
            sum += h / 3.0 * (k == 1 ? 4.0 : 1.0) * pow(x[i + k], px) * pow(f[i + k], pf);
    }
    return sum;
}

Validity
simpson_waterplane(size_t n, const double x_m[], const double half_breadth_m[], SimpsonPlane *plane)
{
    *plane = (SimpsonPlane){NAN, NAN, NAN, NAN};
    if (!fits(n, x_m, half_breadth_m))
        return REFUSED;
    double area = 2.0 * moment(n, x_m, half_breadth_m, 0, 1);
    if (!(area > 0.0))
        return REFUSED;
    double first = 2.0 * moment(n, x_m, half_breadth_m, 1, 1);
    *plane = (SimpsonPlane){area, first / area, 2.0 / 3.0 * moment(n, x_m, half_breadth_m, 0, 3),
                            2.0 * moment(n, x_m, half_breadth_m, 2, 1) - first * first / area};
    return VALID;
}

Validity
simpson_volume(size_t n, const double x_m[], const double area_m2[], double *volume_m3,
               double *lcb_m)
{
    *volume_m3 = *lcb_m = NAN;
    if (!fits(n, x_m, area_m2))
        return REFUSED;
    double volume = moment(n, x_m, area_m2, 0, 1);
    if (!(volume > 0.0))
        return REFUSED;
    *volume_m3 = volume;
    *lcb_m = moment(n, x_m, area_m2, 1, 1) / volume;
    return VALID;
}
