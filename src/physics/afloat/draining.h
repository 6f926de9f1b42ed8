/* Time in which a well with upright sides empties through holes at its floor.
 *
 *     t = 2 * v / (C * a * sqrt(2 * g * h))        C = 0.6
 *
 * Given    water_m3     in it, > 0
 *          depth_m      of it above the holes, > 0; outside they end in air
 *          holes_m2     area of all of them, > 0
 * Gives    time_s       until the last of it is out; NAN when refused. Sharp-edged holes: a long hose or a grating
 *                       takes longer
 * Source   Torricelli's law; C of a sharp-edged hole, 0.6 to 0.62 in handbooks of hydraulics, from memory
 * Checked  tests/physics/test_basin.c: the fall of the level step by step */
#pragma once

#include "base/source.h"
#include "base/validity.h"

Validity draining_time_s(double water_m3, double depth_m, double holes_m2, double *time_s);

extern const Method draining_method;
