/* Low water within working hours. Invariant: 0 <= usable <= twice the half window. */
#include "physics/work/tide_window.h"

#include "physics/domain.h"

const Method tide_window_method = {"Working time at a low water",
                                   "h = max(0, min(low + half, closes) - max(low - half, opens))",
                                   {"derived; docs/methods/work.md 3.5", STANDING_DERIVED}};

Validity
tide_window(double first_low_h, double half_window_h, double opens_h, double closes_h,
            double interval_h, size_t n, double usable_h[])
{
    bool hours = is_within(opens_h, 0.0, 24.0) && is_within(closes_h, 0.0, 24.0);
    if (!is_number(first_low_h) || !hours || !(opens_h < closes_h) || !is_positive(interval_h) ||
        !is_within(half_window_h, 0.0, interval_h / 2.0))
        return REFUSED;
    for (size_t k = 0; k < n; k++) {
        double low = first_low_h + (double) k * interval_h;
        double from = low - half_window_h, to = low + half_window_h;
        usable_h[k] = 0.0;
        for (double day = floor(from / 24.0); day * 24.0 < to; day += 1.0)
            usable_h[k] +=
                fmax(0.0, fmin(to, 24.0 * day + closes_h) - fmax(from, 24.0 * day + opens_h));
    }
    return VALID;
}
