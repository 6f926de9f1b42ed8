/* Hours to take out and put back what hides a layer of a zone.
 *
 *     undo = sum over the layers above `reach` of (remove + redo), and over layers 1 to 4 of the other face when the task is hot
 *     expected = chance * undo
 *
 * Given    hours >= 0; reach and layers 0 to 5; chance 0 to 1
 * Returns  REFUSED outside these
 * Source   docs/methods/work.md 3.4 (judgement of this project)
 * Checked  undo-cost in tests/cases/work.csv */
#pragma once

#include "base/source.h"
#include "base/validity.h"
#include <stddef.h>

typedef struct {
    int layer;
    double remove_h, redo_h;
} PresentLayer;

/* face[faces]: what is on the other side of the plate, of a hot task; else faces 0. */
Validity undo_cost(size_t n, const PresentLayer present[], int reach, size_t faces,
                   const PresentLayer face[], double *undo_h);
extern const Method undo_cost_method;
