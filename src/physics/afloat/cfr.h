/* Four simple rules of title 46, Code of Federal Regulations; docs/methods/float.md 5.7.
 * Checked  wind-gm-46cfr, passenger-gm-46cfr, proof-test-46cfr, hook-moment-46cfr in
 * tests/cases/float.csv */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef enum { WATERS_EXPOSED, WATERS_PARTIALLY_PROTECTED, WATERS_PROTECTED } CfrWaters;

/* GM asked against wind, 170.170.
 *
 *     GM = P A H / (D tan(T))    P = p0 + (L/1309)^2 t/m2, p0 = 0.055, 0.036, 0.028    T = min(14
 * deg, atan(f/B))
 *
 * Given    length_m between perpendiculars, lateral_m2, lever_m (centroid to the middle of the
 * underwater side), mass_kg, freeboard_m, beam_m > 0 Gives    pressure_kg_per_m2, heel_rad, gm_m
 * Returns  VALID or REFUSED
 * Source   46 CFR 170.170 (read) */
typedef struct {
    double pressure_kg_per_m2, heel_rad, gm_m;
} WindGm;

Validity wind_gm(double length_m, double lateral_m2, double lever_m, double mass_kg,
                 double freeboard_m, double beam_m, CfrWaters waters, WindGm *out);

/* GM asked against people crowding to one side, 171.050.
 *
 *     GM = (W/D) (2/3) b / tan(T)    T = min(14 deg, deck edge)
 *
 * Given    passenger_kg, mass_kg, offset_m (centreline to the centre of the deck area on one side),
 * deck_edge_rad > 0 Gives    heel_rad, gm_m. The curve at that heel must reach gm_m sin(heel) as
 * well Returns  VALID or REFUSED Source   46 CFR 171.050 (read) */
Validity passenger_gm(double passenger_kg, double mass_kg, double offset_m, double deck_edge_rad,
                      double *heel_rad, double *gm_m);

/* Simplified proof test, 178.330: moment to apply and side that may go under.
 *
 *     moment = max(W B_p/6, P A H)    i = f/2; with a cockpit f (2 L - 1.5 L')/(4 L) exposed, f (2
 * L - L')/(4 L) else
 *
 * Given    passenger_kg, lateral_m2 >= 0; deck_beam_m, lever_m, freeboard_m > 0; cockpit_m >= 0 in
 * a weather deck of deck_m, NAN without a cockpit Gives    passenger_kgm, wind_kgm, moment_kgm,
 * immersion_m Returns  VALID; REFUSED outside the ranges or when the cockpit is longer than the
 * deck Source   46 CFR 178.330 (read); the wind pressures 36.6, 48.8, 73.3 kg/m2 from memory */
typedef struct {
    double passenger_kgm, wind_kgm, moment_kgm, immersion_m;
} ProofTest;

Validity proof_test(double passenger_kg, double deck_beam_m, double lateral_m2, double lever_m,
                    double freeboard_m, CfrWaters waters, double deck_m, double cockpit_m,
                    ProofTest *out);

/* Hook moment above which a lifting check is due, 173.005: 0.67 D GM F/B, D with the load; NAN
 * unless all > 0. Source   46 CFR 173.005 (read) */
double hook_moment_kgm(double mass_kg, double gm_m, double freeboard_m, double beam_m);

extern const Method wind_pressure_method, wind_gm_method, passenger_gm_method,
    passenger_moment_method, wind_moment_method, immersion_method, hook_moment_method;
