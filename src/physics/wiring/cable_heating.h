/* How hot a loaded cable gets, and what it bears for a short time.
 *
 *     tau = 3.45e6 S (theta_max - theta_ref) / (I_z^2 r);   I_st = I_z / sqrt(1 - exp(-t / tau))
 *     theta = ambient + (theta_max - theta_ref) (I / I_z)^2
 *     from the warmth of a lasting I_0: I_run^2 = I_0^2 + (I_z^2 - I_0^2) / w, I_eq^2 = I_0^2 + (I^2 - I_0^2) w,
 *     w = 1 - exp(-t / tau)
 *
 * Given    cable: area_m2 > 0; ampacity_A > 0 at reference_K; insulation_K above reference_K; ohm_per_m of the
 *          metal at insulation_K, > 0
 * Gives    cable_time_constant_s; cable_short_time_A for time_s > 0 from reference_K; cable_temperature_K at a
 *          lasting current_A in ambient_K; cable_run_A what it bears for time_s after lasting_A >= 0 (0 when that is too much
 *          already); cable_equal_A the lasting current as warm as run_A makes it by then. NAN outside these ranges
 * Note     the insulation's own heat is left out: a true cable warms more slowly
 * Source   docs/methods/wires.md 1.1, 1.6; heat capacity of copper 3.45 J/(K cm3)
 * Checked  cable-heating in tests/cases/wires.csv; by integration in tests/physics/test_conductors.c */
#pragma once

#include "base/source.h"

typedef struct {
    double area_m2, ampacity_A, insulation_K, reference_K, ohm_per_m;
} LoadedCable;

double cable_time_constant_s(const LoadedCable *cable);
double cable_short_time_A(const LoadedCable *cable, double time_s);
double cable_run_A(const LoadedCable *cable, double lasting_A, double time_s);
double cable_equal_A(const LoadedCable *cable, double lasting_A, double run_A, double time_s);
double cable_temperature_K(const LoadedCable *cable, double ambient_K, double current_A);

extern const Method cable_time_constant_method, cable_short_time_method, cable_temperature_method,
    cable_run_method;
