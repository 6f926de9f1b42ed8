/* What several pictures share: places, marks, boxes and the way the boat lies in the water.
 *
 * SI, body axes: x forward from the stern, y to port, z up. A picture is plain data; whoever fills
 * it owns every array and text for as long as the picture is drawn. NAN: not known, and then not
 * drawn. Names are the owner's words ("engine vent"), paths lead into the boat file
 * ("openings.engine-vent"); within one list of marks no path comes twice. */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "base/quantity.h"

typedef struct {
    double x_m, y_m, z_m;
} Spot;

/* As physics has it: heel + to starboard, trim + by the bow; depth of the body origin under the
 * water. */
typedef struct {
    double origin_depth_m, heel_rad, trim_rad;
} Lie;

typedef struct {
    const char *path, *name;
    double x_aft_m, x_fwd_m, y_stbd_m, y_port_m, z_low_m, z_high_m; /* NAN: the hull bounds it */
} Block;

typedef struct {
    Block block;
    double fill_frac; /* 0..1; NAN: not known */
} TankBlock;

typedef enum { CHANGE_NONE, CHANGE_FITTED, CHANGE_REMOVED } ItemChange;

typedef struct {
    const char *path, *name;
    Spot at;
    double mass_kg, spread_kg; /* spread 95 % */
    Basis basis;               /* of the mass */
    ItemChange change;         /* aboard anyway, fitted by the refit, or leaving with it */
    bool movable;              /* its place is written in the boat file under its path */
} MassMark;

typedef struct {
    const char *path, *name;
    Spot at;
    double size_m;            /* clear opening, or NAN */
    double above_m, spread_m; /* height of its lowest edge above the water at rest */
    bool worst;               /* the lowest of those that count as open */
    bool tight;               /* closes watertight or weathertight: does not count */
} OpeningMark;

/* Half a section, bottom to deck edge; the other half mirrors it. */
typedef struct {
    double x_m;
    size_t n;
    const double *y_m, *z_m; /* [n], y >= 0 */
} HalfSection;

/* The hull seen from the side: deck edge and lowest point of every section. */
typedef struct {
    size_t n;
    const double *x_m, *deck_m, *bottom_m; /* [n], aft to forward */
} SideOutline;
