/* Functions to prove samples on. Invariant: first shares add up to 1 at most, and none is above its total. */
#include "physics/work/trial_functions.h"

#include "physics/dice.h"
#include "physics/domain.h"

#define SHEET "docs/methods/work.md 6.5"
const Method trial_ishigami_method = {
    "Variance of the Ishigami function",
    "V = a^2 / 8 + b * pi^4 / 5 + b^2 * pi^8 / 18 + 1 / 2",
    {"Ishigami and Homma 1990; rounded shares read; " SHEET, STANDING_SECONDARY}};
const Method trial_g_method = {"Variance of the g-function",
                               "V = prod(1 + 1 / (3 * (1 + a)^2)) - 1",
                               {"Saltelli and Sobol 1995 as remembered; " SHEET, STANDING_MEMORY}};
const Method trial_product_method = {"Variance of a product of independent factors",
                                     "V = prod(m^2 + s^2) - prod(m^2)",
                                     {"moments of a product; " SHEET, STANDING_DERIVED}};

static bool
is_dimension(double d)
{
    return is_whole(d, 1.0, TRIAL_DIMENSIONS);
}

static bool
are_dimensions(size_t n, const double d[])
{
    for (size_t i = 0; i < n; i++) {
        if (!is_dimension(d[i]))
            return false;
        for (size_t k = 0; k < i; k++)
            if (d[k] == d[i])
                return false;
    }
    return n > 0;
}

bool
trial_function_takes(TrialForm form, size_t n, const double parameter[])
{
    switch (form) {
    case TRIAL_ISHIGAMI:
        return n == 2;
    case TRIAL_G:
        return n >= 1 && n <= TRIAL_DIMENSIONS;
    case TRIAL_PRODUCT:
        return n >= 2 && n % 2 == 0 && n / 2 <= TRIAL_DIMENSIONS;
    case TRIAL_EXPONENTIAL:
        return n == 1 && is_dimension(parameter[0]);
    case TRIAL_POWER:
        return n == 1;
    case TRIAL_COORDINATES:
        return are_dimensions(n, parameter);
    }
    return false;
}

static size_t
dimensions_of(TrialForm form, size_t n, const double parameter[])
{
    size_t most = 1;
    switch (form) {
    case TRIAL_ISHIGAMI:
        return 3;
    case TRIAL_G:
        return n;
    case TRIAL_PRODUCT:
        return n / 2;
    case TRIAL_EXPONENTIAL:
        return (size_t) parameter[0];
    case TRIAL_POWER:
        return 1;
    case TRIAL_COORDINATES:
        for (size_t i = 0; i < n; i++)
            most = (size_t) parameter[i] > most ? (size_t) parameter[i] : most;
        return most;
    }
    return most;
}

Validity
trial_function_open(TrialForm form, size_t n, const double parameter[], TrialFunction *function)
{
    *function = (TrialFunction){form, n, parameter, 0};
    if (!trial_function_takes(form, n, parameter))
        return REFUSED;
    for (size_t i = 0; i < n; i++) {
        bool spread = form == TRIAL_PRODUCT && i % 2 == 1;
        if (!is_number(parameter[i]) ||
            ((form == TRIAL_G || form == TRIAL_POWER || spread) && parameter[i] < 0.0))
            return REFUSED;
    }
    function->dimensions = dimensions_of(form, n, parameter);
    return VALID;
}

static double
ishigami(const double parameter[], const double u[])
{
    double x_1 = M_PI * (2.0 * u[0] - 1.0), x_2 = M_PI * (2.0 * u[1] - 1.0);
    double x_3 = M_PI * (2.0 * u[2] - 1.0);
    return sin(x_1) * (1.0 + parameter[1] * pow(x_3, 4.0)) + parameter[0] * pow(sin(x_2), 2.0);
}

static double
normal_factor(const double parameter[], double u)
{
    static const double edge = 1.0 / 8589934592.0; /* 2^-33 */
    return parameter[0] + parameter[1] * normal_at(fmin(fmax(u, edge), 1.0 - edge));
}

double
trial_function_value(const TrialFunction *f, const double u[])
{
    const double *p = f->parameter;
    double value = 1.0, sum = 0.0;
    switch (f->form) {
    case TRIAL_ISHIGAMI:
        return ishigami(p, u);
    case TRIAL_G:
        for (size_t i = 0; i < f->n; i++)
            value *= (fabs(4.0 * u[i] - 2.0) + p[i]) / (1.0 + p[i]);
        return value;
    case TRIAL_PRODUCT:
        for (size_t i = 0; i < f->dimensions; i++)
            value *= normal_factor(p + 2 * i, u[i]);
        return value;
    case TRIAL_EXPONENTIAL:
        for (size_t i = 0; i < f->dimensions; i++)
            sum += u[i];
        return exp(sum);
    case TRIAL_POWER:
        return pow(u[0], p[0]);
    case TRIAL_COORDINATES:
        for (size_t i = 0; i < f->n; i++)
            value *= u[(size_t) p[i] - 1];
        return value;
    }
    return NAN;
}

double
trial_function_mean(const TrialFunction *f)
{
    double mean = 1.0;
    switch (f->form) {
    case TRIAL_ISHIGAMI:
        return 0.5 * f->parameter[0];
    case TRIAL_G:
        return 1.0;
    case TRIAL_PRODUCT:
        for (size_t i = 0; i < f->n; i += 2)
            mean *= f->parameter[i];
        return mean;
    case TRIAL_EXPONENTIAL:
        return pow(M_E - 1.0, (double) f->dimensions);
    case TRIAL_POWER:
        return 1.0 / (1.0 + f->parameter[0]);
    case TRIAL_COORDINATES:
        return pow(0.5, (double) f->n);
    }
    return NAN;
}

static void
ishigami_shares(const double parameter[], double *V, double first[], double total[])
{
    double a = parameter[0], b = parameter[1], pi_4 = pow(M_PI, 4.0);
    double V_1 = 0.5 * pow(1.0 + 0.2 * b * pi_4, 2.0), V_2 = a * a / 8.0;
    double V_13 = 8.0 * b * b * pi_4 * pi_4 / 225.0;
    *V = V_1 + V_2 + V_13;
    double one[] = {V_1, V_2, 0.0}, all[] = {V_1 + V_13, V_2, V_13};
    for (size_t i = 0; i < 3; i++) {
        first[i] = one[i] / *V;
        total[i] = all[i] / *V;
    }
}

/* A product of factors with mean m and variance v, both of the same sort for the g-function and for normal factors. */
static void
product_shares(size_t n, const double square_mean[], const double factor_variance[], double *V,
               double first[], double total[])
{
    double whole = 1.0, means = 1.0;
    for (size_t i = 0; i < n; i++) {
        whole *= square_mean[i] + factor_variance[i];
        means *= square_mean[i];
    }
    *V = whole - means;
    for (size_t i = 0; i < n; i++) {
        double alone = factor_variance[i], with_all = factor_variance[i];
        for (size_t k = 0; k < n; k++)
            if (k != i) {
                alone *= square_mean[k];
                with_all *= square_mean[k] + factor_variance[k];
            }
        first[i] = alone / *V;
        total[i] = with_all / *V;
    }
}

Validity
trial_function_shares(const TrialFunction *f, double *variance, double first[], double total[])
{
    *variance = NAN;
    for (size_t i = 0; i < f->dimensions; i++)
        first[i] = total[i] = NAN;
    if (f->form == TRIAL_ISHIGAMI)
        ishigami_shares(f->parameter, variance, first, total);
    if (f->form == TRIAL_G || f->form == TRIAL_PRODUCT) {
        double square_mean[TRIAL_DIMENSIONS], spread[TRIAL_DIMENSIONS];
        bool product = f->form == TRIAL_PRODUCT;
        for (size_t i = 0; i < f->dimensions; i++) {
            const double *p = f->parameter + (product ? 2 * i : i);
            square_mean[i] = product ? p[0] * p[0] : 1.0;
            spread[i] = product ? p[1] * p[1] : 1.0 / (3.0 * (1.0 + p[0]) * (1.0 + p[0]));
        }
        product_shares(f->dimensions, square_mean, spread, variance, first, total);
    }
    return is_positive(*variance) ? VALID : REFUSED;
}
