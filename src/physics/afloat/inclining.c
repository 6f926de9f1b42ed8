/* Inclining test as a straight line. Invariant: moments are regressed on tangents, so the slope is
 * the displacement times GM whatever list she has to start with. */
#include "physics/afloat/inclining.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include "physics/domain.h"
#include "physics/least_squares.h"

#define SHEET "docs/methods/float.md 6"
const Method inclining_line_method = {"Slope of the moments over the tangents of heel",
                                      "b = sum((t - t_mean) * (M - M_mean)) / sum((t - t_mean)^2)",
                                      {SHEET, STANDING_DERIVED}};
const Method inclining_gm_method = {
    "Metacentric height by inclining", "GM = b / D", {SHEET, STANDING_DERIVED}};
const Method inclining_vcg_method = {"Height of the centre of gravity, liquids taken as solid",
                                     "KG = KM - GM - FSM / D",
                                     {SHEET, STANDING_DERIVED}};
const Method inclining_spread_method = {
    "Spread of the metacentric height",
    "s_GM = GM * sqrt((s_b / b)^2 + (s_D / D)^2 + (s_w / w)^2 + (s_l / l)^2)",
    {SHEET, STANDING_DERIVED}};
const Method inclining_single_method = {
    "Metacentric height from one move", "GM = w * d / (D * tan(heel))", {SHEET, STANDING_DERIVED}};
const Method inclining_small_method = {"Metacentric height from one move, small angles",
                                       "GM = w * d / (D * heel)",
                                       {"docs/methods/float.md 5.5", STANDING_MEMORY}};

static Validity
refuse(size_t n, Inclining *out, InclineReading reading[])
{
    double *all = (double *) out;
    for (size_t i = 0; i < offsetof(Inclining, suspect) / sizeof(double); i++)
        all[i] = NAN;
    out->suspect = n;
    out->rivals = 0;
    out->suspect_ratio = NAN;
    for (size_t i = 0; reading != NULL && i < n; i++)
        reading[i] = (InclineReading){NAN, NAN, NAN};
    return REFUSED;
}

static bool
usable(size_t n, const double moment[], const Pendulum *p, const InclineTerms *t)
{
    if (n < 3 || n > 10000 || !is_positive(t->mass_kg) || !is_not_negative(t->mass_spread_kg) ||
        !is_not_negative(t->moment_spread_frac) || !(is_number(t->km_m) || isnan(t->km_m)) ||
        !is_not_negative(t->km_spread_m) || !is_not_negative(t->free_surface_kgm) ||
        p[0].deflection_m == NULL)
        return false;
    for (size_t k = 0; k < 2; k++) {
        if (k == 1 && p[k].deflection_m == NULL)
            continue;
        if (!is_positive(p[k].length_m) || !is_not_negative(p[k].length_spread_m))
            return false;
        for (size_t i = 0; i < n; i++)
            if (!(fabs(p[k].deflection_m[i]) < 2.0 * p[k].length_m) || !is_number(moment[i]))
                return false;
    }
    return true;
}

/* row[2 n]: 1 and the tangent; k = 2: the mean of both pendulums. */
static void
tangents(size_t n, const Pendulum *p, size_t k, double *row)
{
    for (size_t i = 0; i < n; i++) {
        double first = p[0].deflection_m[i] / p[0].length_m;
        double second =
            k > 0 && p[1].deflection_m != NULL ? p[1].deflection_m[i] / p[1].length_m : first;
        row[2 * i] = 1.0;
        row[2 * i + 1] = k == 0 ? first : k == 1 ? second : 0.5 * (first + second);
    }
}

static double
slope_error(const LeastSquares *line)
{
    return sqrt(line->sum_squares / (double) line->freedom * line->inverse[1][1]);
}

/* Each pendulum by itself, and whether the two say the same. */
static bool
set_pendulums(size_t n, const double moment[], const Pendulum *p, const InclineTerms *terms,
              double *row, Inclining *out)
{
    double *gm[] = {&out->gm_1_m, &out->gm_2_m}, allowed = 0.0;
    for (size_t k = 0; k < 2; k++) {
        LeastSquares line;
        if (k == 1 && p[k].deflection_m == NULL)
            continue;
        tangents(n, p, k, row);
        if (!least_squares(n, 2, row, moment, &line, NULL, NULL))
            return false;
        *gm[k] = line.value[1] / terms->mass_kg;
        double readings = student_95(line.freedom) * slope_error(&line) / terms->mass_kg;
        double length = *gm[k] * p[k].length_spread_m / p[k].length_m;
        allowed += readings * readings + length * length;
    }
    double apart = fabs(out->gm_1_m - out->gm_2_m);
    out->pendulums_ratio = apart > 1e-9 * fabs(out->gm_1_m) ? apart / sqrt(allowed) : apart;
    if (out->pendulums_ratio < 1e-6)
        out->pendulums_ratio = 0.0;
    return true;
}

static void
set_spreads(const LeastSquares *line, const Pendulum *p, const InclineTerms *terms, Inclining *out)
{
    double gm = out->gm_m, first = p[0].length_spread_m / p[0].length_m, lengths = first;
    if (p[1].deflection_m != NULL)
        lengths = 0.5 * hypot(first, p[1].length_spread_m / p[1].length_m);
    out->by_readings_m = student_95(line->freedom) * out->slope_error_kgm / terms->mass_kg;
    out->by_mass_m = gm * terms->mass_spread_kg / terms->mass_kg;
    out->by_moments_m = gm * terms->moment_spread_frac;
    out->by_lengths_m = gm * lengths;
    out->gm_spread_m = hypot(hypot(out->by_readings_m, out->by_mass_m),
                             hypot(out->by_moments_m, out->by_lengths_m));
    out->vcg_solid_m = terms->km_m - gm - terms->free_surface_kgm / terms->mass_kg;
    out->vcg_spread_m = isnan(out->vcg_solid_m) ? NAN : hypot(out->gm_spread_m, terms->km_spread_m);
}

static double
largest_of(size_t n, const double value[])
{
    double most = 0.0;
    for (size_t i = 0; i < n; i++)
        most = fmax(most, fabs(value[i]));
    return most;
}

/* Misfit over its standard error, scatter and line without this reading. */
static double
normalised(const LeastSquares *line, double r, double leverage, double nothing)
{
    double seen = 1.0 - leverage;
    if (line->freedom < 2 || !(seen > 1e-9))
        return NAN;
    if (fabs(r) < nothing)
        return 0.0;
    double others = (line->sum_squares - r * r / seen) / ((double) line->freedom - 1.0);
    return r / (sqrt(fmax(others, nothing * nothing)) * sqrt(seen));
}

static double
gm_without(size_t n, const double *row, const LeastSquares *line, double r, double leverage,
           size_t i, double mass)
{
    double mean = 0.0, seen = 1.0 - leverage;
    for (size_t k = 0; k < n; k++)
        mean += row[2 * k + 1] / (double) n;
    double change = line->inverse[1][1] * (row[2 * i + 1] - mean) * r / seen;
    return seen > 1e-9 ? (line->value[1] - change) / mass : NAN;
}

static void
judge(size_t n, const double moment[], const double *row, const LeastSquares *line,
      const double *residual, const double *leverage, const InclineTerms *terms, Inclining *out,
      InclineReading reading[])
{
    double largest = 0.0, nothing = 1e-9 * largest_of(n, moment);
    for (size_t i = 0; i < n; i++) {
        double w = normalised(line, residual[i], leverage[i], nothing);
        if (reading != NULL)
            reading[i] = (InclineReading){
                residual[i], gm_without(n, row, line, residual[i], leverage[i], i, terms->mass_kg),
                w};
        if (fabs(w) > largest * (1.0 + 1e-9)) {
            largest = fabs(w);
            out->suspect = i;
        }
    }
    for (size_t i = 0; i < n; i++)
        out->rivals += i != out->suspect &&
                       fabs(normalised(line, residual[i], leverage[i], nothing)) > 0.95 * largest;
    out->suspect_ratio =
        line->freedom > 1 ? largest / largest_by_chance(n, line->freedom - 1) : NAN;
    if (!(out->suspect_ratio > 1.0)) {
        out->suspect = n;
        out->rivals = 0;
    }
}

static Validity
set_line(size_t n, const double moment[], const Pendulum pendulum[], const InclineTerms *terms,
         double *work, Inclining *out, InclineReading reading[])
{
    double *row = work, *residual = work + 2 * n, *leverage = residual + n, mean = 0.0;
    LeastSquares line;
    if (!set_pendulums(n, moment, pendulum, terms, row, out))
        return REFUSED;
    tangents(n, pendulum, 2, row);
    if (!least_squares(n, 2, row, moment, &line, residual, leverage) || !(line.value[1] > 0.0))
        return REFUSED;
    out->intercept_kgm = line.value[0];
    out->slope_kgm = line.value[1];
    out->slope_error_kgm = slope_error(&line);
    out->gm_m = out->slope_kgm / terms->mass_kg;
    set_spreads(&line, pendulum, terms, out);
    judge(n, moment, row, &line, residual, leverage, terms, out, reading);
    out->most_heel_rad = 0.0;
    for (size_t i = 0; i < n; i++)
        mean += row[2 * i + 1] / (double) n;
    for (size_t i = 0; i < n; i++)
        out->most_heel_rad = fmax(out->most_heel_rad, fabs(atan(row[2 * i + 1]) - atan(mean)));
    return out->most_heel_rad > degrees(10.0) ? EXTRAPOLATED : VALID;
}

Validity
inclining(size_t n, const double moment_kgm[], const Pendulum pendulum[static 2],
          const InclineTerms *terms, Inclining *out, InclineReading reading[])
{
    refuse(n, out, reading);
    if (!usable(n, moment_kgm, pendulum, terms))
        return REFUSED;
    double *work = malloc(4 * n * sizeof *work);
    if (work == NULL)
        return REFUSED;
    Validity validity = set_line(n, moment_kgm, pendulum, terms, work, out, reading);
    free(work);
    return validity == REFUSED ? refuse(n, out, reading) : validity;
}

Validity
inclining_single(double w_kg, double distance_m, double mass_kg, double deflection_m,
                 double length_m, double km_m, InclineSingle *out)
{
    *out = (InclineSingle){NAN, NAN, NAN, NAN};
    double moment = w_kg * distance_m;
    if (!is_number(w_kg) || !is_number(distance_m) || !is_positive(mass_kg) ||
        !is_positive(length_m) || !is_number(deflection_m) || !(moment * deflection_m > 0.0) ||
        !(fabs(deflection_m) < 2.0 * length_m) || !(is_number(km_m) || isnan(km_m)))
        return REFUSED;
    double tangent = deflection_m / length_m;
    out->heel_rad = atan(tangent);
    out->gm_m = moment / (mass_kg * tangent);
    out->gm_small_angle_m = moment / (mass_kg * out->heel_rad);
    out->vcg_m = km_m - out->gm_m;
    return fabs(out->heel_rad) > degrees(10.0) ? EXTRAPOLATED : VALID;
}
