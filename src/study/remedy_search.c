/* Bracketing: outwards in growing steps until it clears, then inwards.
 * Invariant: an amount that is given back was solved with, and cleared. */
#include "study/remedy_search.h"

#include <math.h>

enum { MOST_STEPS = 40, PEAK_STEPS = 5 };

typedef struct {
    const Search *search;
    const Boat *boat;
    size_t n;
    const Knob *knob;
    double slope; /* of the lack, by share; 0: not known */
} Line;

static double
largest(double a, double b)
{
    return isnan(a) ? b : fmax(a, b);
}

/* Lack with the levers at a share of their greatest amounts; *clears tells what counts. A finding that is only made while
 * it misses its limit vanishes before it holds with margin: then the straight line through what was seen decides. */
static double
lack_at(const Line *line, double share, bool *clears)
{
    g_autoptr(Boat) copy = boat_copy(line->boat);
    for (size_t i = 0; i < line->n; i++)
        knob_set(&line->knob[i], copy, knob_round(&line->knob[i], share * line->knob[i].most));
    SolveInput input = *line->search->solve;
    input.boat = copy;
    const char *finding = line->search->finding, *cause = line->search->cause;
    g_autofree char *discipline = g_strndup(finding, strcspn(finding, "."));
    if (cause == NULL && line->search->alone) /* the proof solves all of them */
        input.only = discipline;
    g_autoptr(Result) result = solve(&input);
    g_atomic_int_inc(line->search->solves);
    double lack = remedy_lacks(result, finding);
    *clears = remedy_clears(result, finding);
    if (*clears && cause != NULL && !remedy_clears(result, cause)) {
        *clears = false;
        return remedy_lacks(result, cause);
    }
    double straight = line->search->lacks_now + line->slope * share;
    if (isnan(lack) && line->slope > 0.0 && straight < 0.0) {
        *clears = false;
        return straight;
    }
    return lack;
}

/* NAN when the finding is gone at the share. */
static double
slope_at(const Line *line, double share)
{
    bool clears;
    double lack = lack_at(line, share, &clears);
    return (lack - line->search->lacks_now) / knob_round(line->knob, share * line->knob->most);
}

double
search_slope(const Search *search, const Boat *boat, const Knob *knob)
{
    Line line = {search, boat, 1, knob, 0.0};
    double least = knob->step / knob->most;
    if (least > 1.0 || isnan(search->lacks_now))
        return 0.0;
    double slope = slope_at(&line, fmax(1.0 / 16.0, least));
    if (isnan(slope))
        slope = slope_at(&line, least);
    return isnan(slope) ? 0.0 : slope;
}

/* The least step of all levers, as a share. */
static double
finest(const Line *line)
{
    double share = NAN;
    for (size_t i = 0; i < line->n; i++)
        share = largest(share, line->knob[i].step / line->knob[i].most);
    return share;
}

/* Too much may be as bad as too little (a list turned over): between two shares that both lack, where it lacks least. */
static double
seek_peak(const Line *line, double low, double high)
{
    bool clears;
    for (int i = 0; i < PEAK_STEPS && !study_cancelled(line->search->how); i++) {
        double left = low + (high - low) / 3.0, right = high - (high - low) / 3.0;
        double lack_left = lack_at(line, left, &clears);
        if (clears)
            return left;
        double lack_right = lack_at(line, right, &clears);
        if (clears)
            return right;
        if (!(lack_left < lack_right))
            high = right;
        else
            low = left;
    }
    return NAN;
}

/* First share, growing, at which it clears; *below did not. NAN when none does. */
static double
reach_out(const Line *line, double guess, double *below, double *lack_below)
{
    bool clears;
    double grows = 1.15, before = 0.0;
    *below = 0.0;
    *lack_below = line->search->lacks_now;
    for (double share = fmin(fmax(guess, finest(line)), 1.0);;) {
        if (study_cancelled(line->search->how))
            return NAN;
        double lack = lack_at(line, share, &clears);
        if (clears)
            return share;
        if (lack < *lack_below)
            return seek_peak(line, before, share);
        before = *below;
        *below = share;
        *lack_below = lack;
        if (share >= 1.0)
            return NAN;
        share = fmin(grows * share, 1.0);
        grows = fmin(grows * 1.15, 1.6);
    }
}

static double
draw_in(const Line *line, double below, double lack_below, double above)
{
    double fine = finest(line), lack_above = NAN;
    bool clears;
    for (int i = 0; i < MOST_STEPS && above - below > fine * 1.001; i++) {
        if (study_cancelled(line->search->how))
            return above;
        double share = (below + above) / 2.0;
        double straight = below + (above - below) * lack_below / (lack_below - lack_above);
        /* The straight line is trusted inside the bracket, half a step on the far side. */
        if (isfinite(straight) && i % 3 != 2)
            share = fmin(fmax(straight + fine / 2.0, below + fine / 2.0), above - fine / 2.0);
        share = ceil(share / fine - 1e-9) * fine;
        if (share >= above || share <= below)
            share = (below + above) / 2.0;
        double lack = lack_at(line, share, &clears);
        if (clears) {
            above = share;
            lack_above = lack;
        } else {
            below = share;
            lack_below = lack;
        }
    }
    return above;
}

bool
search_amounts(const Search *search, const Boat *boat, size_t n, const Knob knob[], double amount[])
{
    Line line = {search, boat, n, knob, 0.0};
    double slope = 0.0, below, lack_below;
    for (size_t i = 0; i < n; i++)
        slope += search_slope(search, boat, &knob[i]) * knob[i].most;
    double guess = slope > 0.0 ? 1.02 * -search->lacks_now / slope : 1.0 / 8.0;
    if (!isfinite(guess) || guess <= 0.0)
        guess = 1.0 / 8.0;
    line.slope = slope;
    double above = reach_out(&line, guess, &below, &lack_below);
    if (isnan(above))
        return false;
    above = draw_in(&line, below, lack_below, above);
    for (size_t i = 0; i < n; i++)
        amount[i] = knob_round(&knob[i], above * knob[i].most);
    return true;
}
