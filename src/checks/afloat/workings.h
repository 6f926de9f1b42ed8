/* Workings that several answers and findings of the afloat discipline share.
 * Every function returns a working whose last step is the value asked for. */
#pragma once

#include "checks/afloat/sensitivity.h"
#include "result/result.h"

Working *working_of_mass(const Afloat *afloat, const Case *c, Result *result, double *value,
                         double *spread);
Working *working_of_centre(const Afloat *afloat, const Case *c, int axis, Result *result,
                           double *value, double *spread);
Working *working_of_draught(const Afloat *afloat, const Case *c, double x_m, const char *where,
                            Result *result, double *value, double *spread);
Working *working_of_trim(const Afloat *afloat, const Case *c, Result *result, double *value,
                         double *spread);
Working *working_of_list(const Afloat *afloat, const Case *c, Result *result, double *value,
                         double *spread);
Working *working_of_freeboard(const Afloat *afloat, const Case *c, Result *result, double *value,
                              double *spread);
Working *working_of_gm(const Afloat *afloat, const Case *c, Result *result, double *value,
                       double *spread);
Working *working_of_wetted(const Afloat *afloat, const Case *c, Result *result, double *value,
                           double *spread);
/* Height of a point of the boat above the water. record NULL: a point nobody typed, called label. */
Working *working_of_height(const Afloat *afloat, const Case *c, const Record *record,
                           const char *label, double x_m, double y_m, double z_m, double z_spread_m,
                           Result *result, double *value, double *spread);
Working *working_of_inlet(const Afloat *afloat, const Case *c, const Inlet *inlet, Result *result,
                          double *value, double *spread);
/* Of the governing case: greatest lever, range, heel at which water comes in; weight on the stern of its own case. */
Working *working_of_lever_max(const Afloat *afloat, Result *result, double *value, double *spread);
Working *working_of_range(const Afloat *afloat, Result *result, double *value, double *spread);
Working *working_of_flooding(const Afloat *afloat, Result *result, double *value, double *spread);
Working *working_of_stern_load(const Afloat *afloat, Result *result, double *value, double *spread);
/* Steps of a case held at an attitude: rho M x_G y_G z_G V x_B y_B z_B; then, heel being there, trim and depth. */
void working_at(Working *w, const Afloat *afloat, const Case *c, const Attitude *at);
void working_found_trim_depth(Working *w, const Attitude *at);
/* Steps of one lever of the governing case at a heel: rho M x_G y_G z_G V x_B y_B z_B heel trim depth GZ; *gz in metres. */
void working_lever_at(Working *w, const Afloat *afloat, double heel_rad, double *gz_m);
/* Lever of the governing case at a heel, m, with its sign. */
double lever_at(const Afloat *afloat, double heel_rad);
/* Change of the lever at a heel for one kilogram more, G staying where it is; positive when it rights more. */
double lever_per_kg(const Afloat *afloat, double heel_rad);
/* The steps up to the position of rest: rho M x_G y_G z_G V x_B y_B z_B heel trim depth. */
void working_rest(Working *w, const Afloat *afloat, const Case *c);
/* The least settled basis of all masses of a case. */
Basis masses_basis(const Case *c);
/* Adds the number of people when the case rests on it. */
void working_people(Working *w, const Afloat *afloat, const Case *c);

extern const Source source_ledger, source_stations, source_rest, source_upright, source_levers;
