#include "physics/work/undo.h"

#include <math.h>

#include "physics/domain.h"

const Method undo_cost_method = {"hours to take out and put back",
                                 "undo = sum(remove) + sum(redo)",
                                 {"docs/methods/work.md 3.4: all layers above the one to be "
                                  "reached, hot work also layers 1 to 4 "
                                  "of the other face",
                                  STANDING_DERIVED}};

static bool
is_sound(const PresentLayer *layer)
{
    return layer->layer >= 0 && layer->layer <= 5 && is_not_negative(layer->remove_h) &&
           is_not_negative(layer->redo_h);
}

Validity
undo_cost(size_t n, const PresentLayer present[], int reach, size_t faces,
          const PresentLayer face[], double *undo_h)
{
    double sum_h = 0.0;
    *undo_h = NAN;
    if (reach < 0 || reach > 5)
        return REFUSED;
    for (size_t i = 0; i < n; i++) {
        if (!is_sound(&present[i]))
            return REFUSED;
        if (present[i].layer > reach)
            sum_h += present[i].remove_h + present[i].redo_h;
    }
    for (size_t i = 0; i < faces; i++) {
        if (!is_sound(&face[i]))
            return REFUSED;
        if (face[i].layer >= 1 && face[i].layer <= 4)
            sum_h += face[i].remove_h + face[i].redo_h;
    }
    *undo_h = sum_h;
    return VALID;
}
