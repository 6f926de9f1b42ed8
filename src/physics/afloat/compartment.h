/* A box-shaped space open to the sea: what of a hull it takes away, exact for ruled lofts at any
 * heel and trim.
 *
 *     lost = permeability * (body within the box, below the water)
 *
 * Given    a loft without loft_fault, a compartment without compartment_fault, |heel| and |trim|
 *          any finite angle, |trim| < 1.4
 * Gives    lost volume, moments and water plane, permeability counted in all of them
 * Source   docs/methods/float.md 10.2 (lost buoyancy), 2.3 (section method)
 * Checked  tests/physics/test_flooding.c: tetrahedra clipped by the box and by the water */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "base/source.h"
#include "physics/afloat/body.h"

typedef struct {
    double x_aft_m, x_fwd_m, y_stbd_m, y_port_m, z_bottom_m, z_top_m;
    double permeability_frac; /* share of the space that water can fill, > 0, <= 1 */
} Compartment;

/* Why it cannot be used: NULL when it can. */
const char *compartment_fault(const Compartment *compartment);

/* Two boxes share space: their water would be counted twice. */
bool compartments_overlap(const Compartment *a, const Compartment *b);

/* Adds to *lost what the compartment takes from this loft at this attitude. False when memory is
 * not to be had. */
bool compartment_lost(const Loft *loft, const Compartment *compartment, const Attitude *at,
                      Immersed *lost);

/* Water it can hold inside the loft up to its top, m3; NAN when memory is not to be had. */
double compartment_volume_m3(const Loft *loft, const Compartment *compartment);

extern const Method compartment_lost_method;
