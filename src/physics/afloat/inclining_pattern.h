/* What the misfits of an inclining test look like: she touches the bottom or hangs in a line on one
 * side, a slack tank reaches its corner, liquid or lines follow late, something changes meanwhile.
 *
 *     moment = a + b t + c q    with one q more at a time, t = tan(heel)
 *     one-sided: q = t^2 on that side, else 0    bends: q = t^3
 *     lags: q = direction of the last move       drifts: q = number of the reading
 *
 * Given    n readings in the order they were taken, at least six; tangent, moments of the test
 * Gives    for each q  probability  that chance alone explains as much or more (Student, two sides)
 *                      size_frac    the most it changes a moment beyond the straight line, over the
 *                                   largest moment
 *          likeliest   the least probable of those below 1 % by chance and above 1 % in size, else
 *                      INCLINE_STRAIGHT
 * Returns  VALID; REFUSED with fewer readings, or when the moves cannot tell a line from a bend; a
 *          q that these moves do not show has NAN
 * Source   docs/methods/float.md 6 (curvature or one-sided steps: grounding, taut lines, shifting
 *          liquid); the tests derived here
 * Checked  tests/physics/test_inclining.c: boats with a shallow tank and on a block, and how often
 *          a sound test is blamed */
#pragma once

#include <stddef.h>

#include "base/source.h"
#include "base/validity.h"

typedef enum {
    INCLINE_STRAIGHT,
    INCLINE_ONE_SIDED,
    INCLINE_BENDS,
    INCLINE_LAGS,
    INCLINE_DRIFTS,
    INCLINE_PATTERNS
} InclineShape;

typedef struct {
    InclineShape likeliest;
    double probability[INCLINE_PATTERNS], size_frac[INCLINE_PATTERNS]; /* [INCLINE_STRAIGHT]: 0 */
    int side; /* of one-sided: 1 positive tangents, -1 negative */
} InclinePattern;

Validity inclining_pattern(size_t n, const double moment_kgm[], const double tangent[],
                           InclinePattern *out);

extern const Method inclining_pattern_method;
