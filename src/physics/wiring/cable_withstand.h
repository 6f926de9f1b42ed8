/* What a conductor bears of a short circuit when no heat escapes.
 *
 *     k^2 S^2 >= I^2 t;   k = 226 sqrt(ln((234.5 + theta_f) / (234.5 + theta_i))) for copper
 *
 * Given    metal; insulation, which sets the temperatures before and after
 * Gives    printed constant and the one computed from the same temperatures, A s^0.5 / mm2, and both
 *          temperatures in degC; for bare copper and copper apart from others the computed one, rounded
 * Returns  VALID; REFUSED for a pair the tables do not have
 * Source   IEC 60364-5-54 and 4-43, BS 7671, as reproduced; every printed value within 0.6 of the formula
 * Checked  cable-withstand in tests/cases/wires.csv */
#pragma once

#include "base/source.h"
#include "base/validity.h"

typedef enum { METAL_COPPER, METAL_ALUMINIUM, METAL_STEEL } ConductorMetal;
typedef enum {
    JACKET_PVC_70,
    JACKET_PVC_70_LARGE, /* above 300 mm2 */
    JACKET_PVC_90,
    JACKET_PVC_90_LARGE,
    JACKET_XLPE_90,
    JACKET_RUBBER_60,
    JACKET_RUBBER_85,
    JACKET_SILICONE_180,
    JACKET_BARE,
    JACKET_PVC_70_APART /* insulated, not bunched with loaded cables */
} ConductorJacket;

typedef struct {
    double constant, computed; /* A s^0.5 / mm2 */
    double before_C, after_C;
} CableConstant;

Validity cable_constant(ConductorMetal metal, ConductorJacket jacket, CableConstant *out);

/* That of the formula between two temperatures; NAN outside before_C < after_C. */
double cable_constant_between(ConductorMetal metal, double before_C, double after_C);

/* With k as above, A s^0.5 / mm2. */
double withstand_area_m2(double constant, double current_A, double time_s);
double withstand_A2s(double constant, double area_m2);

extern const Method cable_constant_method, cable_withstand_method;
