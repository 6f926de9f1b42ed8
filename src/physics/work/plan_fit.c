/* Gaps found. Invariant: spells rise, lie in open hours that no hand of the crew has given away, and sum to the work asked. */
#include "physics/work/plan_fit.h"

#include <stdlib.h>

#include "physics/dice.h"
#include "physics/work/dates.h"

/* Nobody takes up a tool for less, unless the work is shorter. */
enum { LEAST_SPELL_MIN = 30 };

static int32_t
least(int32_t a, int32_t b)
{
    return a < b ? a : b;
}

static int32_t
most(int32_t a, int32_t b)
{
    return a > b ? a : b;
}

bool
plan_day_lost(const PlanChance *chance, size_t day)
{
    if (chance == NULL || chance->lost_frac == NULL || chance->lost_frac[day] <= 0.0)
        return false;
    Dice dice = {chance->seed + UINT64_C(0x9e3779b97f4a7c15) * (uint64_t) day};
    return dice_share(&dice) < chance->lost_frac[day];
}

static void
add_spell(Fit *fit, int32_t from, int32_t to, size_t opening)
{
    if (fit->n > 0 && fit->spell[fit->n - 1].to == from &&
        fit->spell[fit->n - 1].opening == opening) {
        fit->spell[fit->n - 1].to = to;
        return;
    }
    if (fit->n == fit->room) {
        fit->room = 2 * fit->room + 16;
        fit->spell = realloc(fit->spell, fit->room * sizeof *fit->spell);
        if (fit->spell == NULL)
            abort();
    }
    fit->spell[fit->n++] = (FitSpell){from, to, (uint32_t) opening};
}

/* --- one hand in its own hours ----------------------------------------------------------------------------------------- */

/* The opening in which so much open time is passed, from a hint onwards; begin: a border belongs to the next one. */
static size_t
opening_of(const Calendar *c, size_t hint, int32_t open_min, bool begin)
{
    int32_t at = begin ? open_min + 1 : open_min;
    size_t step = 1, low = hint;
    while (low + step < c->n && c->before_min[low + step] < at) {
        low += step;
        step *= 2;
    }
    size_t high = low + step < c->n ? low + step : c->n;
    while (low + 1 < high) { /* before[low] < at <= before[high] */
        size_t middle = (low + high) / 2;
        if (c->before_min[middle] < at)
            low = middle;
        else
            high = middle;
    }
    return low;
}

static void
fit_alone(const Joint *j, const Busy *b, const FitAsked *asked, Fit *fit)
{
    const Calendar *c = j->calendar;
    size_t i = calendar_at(c, asked->from_min), p;
    if (i == c->n)
        return;
    int32_t end = c->before_min[c->n], left = asked->work_min;
    int32_t at = c->before_min[i] + most(0, asked->from_min - c->opens_min[i]), begins = -1;
    for (p = plan_busy_at(b, at); left > 0; p++) {
        int32_t until = p < b->n ? b->from[p] : end;
        if (until - at >= least(LEAST_SPELL_MIN, left)) {
            begins = begins < 0 ? at : begins;
            add_spell(fit, at, least(until, at + left), 0);
            left -= least(until - at, left);
        } else if (until > at || p < b->n)
            fit->busy_hand = begins < 0 && p < b->n ? j->crew.hand[0] : fit->busy_hand;
        if (left > 0 && p >= b->n)
            return;
        if (left > 0)
            at = b->to[p];
    }
    size_t first = opening_of(c, i, begins, true);
    int32_t done = fit->spell[fit->n - 1].to;
    size_t last = opening_of(c, first, done, false);
    fit->begins = begins;
    fit->start_min = c->opens_min[first] + (begins - c->before_min[first]);
    fit->finish_min = c->opens_min[last] + (done - c->before_min[last]);
    fit->waited_last = fit->busy_hand != PLAN_NONE && begins > c->before_min[first];
}

/* --- any crew, opening by opening -------------------------------------------------------------------------------------- */

typedef struct {
    const Joint *joint;
    const Busy *busy;     /* of all hands */
    size_t at[PLAN_CREW]; /* in each hand's busy time; SIZE_MAX: not looked up yet */
} Gaps;

/* The first instant from `from` at which the whole crew is free, and how long; false when not before `until`. */
static bool
next_gap(Gaps *g, size_t opening, int32_t from, int32_t until, int32_t *gap_from, int32_t *gap_to,
         size_t *busy_hand)
{
    const Joint *j = g->joint;
    int32_t cur = from;
    for (size_t k = 0; k < j->crew.n && cur < until;) {
        const Busy *b = &g->busy[j->crew.hand[k]];
        int32_t own = cur + j->shift[k][opening];
        if (g->at[k] == SIZE_MAX)
            g->at[k] = plan_busy_at(b, own);
        while (g->at[k] < b->n && b->to[g->at[k]] <= own)
            g->at[k]++;
        if (g->at[k] < b->n && b->from[g->at[k]] <= own) {
            cur = b->to[g->at[k]] - j->shift[k][opening];
            *busy_hand = j->crew.hand[k];
            k = 0;
        } else
            k++;
    }
    if (cur >= until)
        return false;
    *gap_from = cur;
    *gap_to = until;
    for (size_t k = 0; k < j->crew.n; k++) {
        const Busy *b = &g->busy[j->crew.hand[k]];
        if (g->at[k] < b->n)
            *gap_to = least(*gap_to, b->from[g->at[k]] - j->shift[k][opening]);
    }
    return true;
}

static void
begin_at(const Joint *j, size_t opening, int32_t at, bool waited, Fit *fit)
{
    fit->start_min = at;
    fit->begins = j->crew.n > 0 ? at + j->shift[0][opening] : at;
    fit->waited_last = waited;
}

/* True when the work is placed. */
static bool
take_gap(const Joint *j, const FitAsked *asked, size_t opening, int32_t from, int32_t to,
         bool waited, int32_t *left, Fit *fit)
{
    const Calendar *c = j->calendar;
    bool whole = asked->task->unbroken;
    int32_t need = whole ? least(*left, c->longest_min)
                         : least(least(LEAST_SPELL_MIN, *left),
                                 c->closes_min[opening] - c->opens_min[opening]);
    if (to - from < need)
        return false;
    if (fit->n == 0)
        begin_at(j, opening, from, waited, fit);
    int32_t taken = least(to - from, *left);
    add_spell(fit, from, from + taken, opening);
    fit->over_time = whole && taken < *left;
    fit->finish_min = from + (whole ? *left : taken);
    *left = whole ? 0 : *left - taken;
    return *left == 0;
}

/* The part of an opening that lies in one day, and is not lost to the weather; the whole of it for work that does not mind. */
static bool
part_of(const Calendar *c, const FitAsked *asked, size_t opening, int32_t from, int32_t *to)
{
    *to = c->closes_min[opening];
    if (!asked->task->weather)
        return true;
    size_t day = (size_t) (from / MINUTES_A_DAY);
    *to = least(*to, (int32_t) ((day + 1) * MINUTES_A_DAY));
    return !plan_day_lost(asked->chance, day);
}

/* The instant before which one of the hands is taken without a gap, so that nothing need be looked for; the hand, or PLAN_NONE. */
static size_t
skip_busy(const Joint *j, const Busy busy[], const FitAsked *asked, int32_t *from_min)
{
    size_t busy_hand = PLAN_NONE;
    for (size_t k = 0; k < j->crew.n;) {
        const Calendar *c = asked->hours[j->crew.hand[k]];
        const Busy *b = &busy[j->crew.hand[k]];
        size_t i = calendar_at(c, *from_min);
        if (i == c->n)
            break;
        int32_t own = c->before_min[i] + most(0, *from_min - c->opens_min[i]);
        size_t p = plan_busy_at(b, own);
        if (p == b->n || b->from[p] > own || b->to[p] >= c->before_min[c->n]) {
            k++;
            continue;
        }
        size_t next = opening_of(c, i, b->to[p], true);
        *from_min = c->opens_min[next] + (b->to[p] - c->before_min[next]);
        busy_hand = j->crew.hand[k];
        k = 0;
    }
    return busy_hand;
}

typedef struct { /* a walk through the openings */
    Gaps gaps;
    size_t opening;
    int32_t first_min; /* nothing need be looked for before */
    bool skipped;      /* to there, because a hand was busy */
    int32_t left_min;
} Walk;

/* To the end of what keeps a hand busy without a gap from here on. */
static void
walk_on(Walk *w, const FitAsked *asked, int32_t from_min, Fit *fit)
{
    const Joint *j = w->gaps.joint;
    w->first_min = from_min;
    size_t hand = skip_busy(j, w->gaps.busy, asked, &w->first_min);
    w->skipped = hand != PLAN_NONE;
    if (fit->n == 0 && w->skipped)
        fit->busy_hand = hand;
    w->opening = calendar_at(j->calendar, w->first_min);
}

/* True when the work is placed; *gap: whether the crew was free at all in this opening. */
static bool
try_opening(Walk *w, const FitAsked *asked, Fit *fit, bool *gap)
{
    const Calendar *c = w->gaps.joint->calendar;
    size_t i = w->opening;
    int32_t part, from, to;
    *gap = false;
    for (int32_t at = most(w->first_min, c->opens_min[i]); at < c->closes_min[i]; at = part) {
        bool fair = part_of(c, asked, i, at, &part);
        size_t busy_hand = PLAN_NONE;
        *gap = *gap || !fair;
        while (fair && next_gap(&w->gaps, i, at, part, &from, &to, &busy_hand)) {
            bool waited = busy_hand != PLAN_NONE || (w->skipped && from == w->first_min);
            *gap = true;
            if (fit->n == 0 && busy_hand != PLAN_NONE)
                fit->busy_hand = busy_hand;
            if (take_gap(w->gaps.joint, asked, i, from, to, waited, &w->left_min, fit))
                return true;
            at = to;
        }
        if (fit->n == 0 && busy_hand != PLAN_NONE)
            fit->busy_hand = busy_hand;
    }
    return false;
}

static void
fit_openings(const Joint *j, const Busy busy[], const FitAsked *asked, Fit *fit)
{
    const Calendar *c = j->calendar;
    Walk w = {.gaps = {j, busy, {SIZE_MAX, SIZE_MAX, SIZE_MAX, SIZE_MAX}},
              .left_min = asked->work_min};
    walk_on(&w, asked, asked->from_min, fit);
    while (w.opening < c->n) {
        bool gap;
        if (try_opening(&w, asked, fit, &gap))
            return;
        if (gap)
            w.opening++;
        else
            walk_on(&w, asked, c->closes_min[w.opening], fit);
    }
    fit->start_min = fit->finish_min = PLAN_NEVER;
}

/* Work of no hours is done at an instant, by nobody. */
static void
fit_instant(const Joint *j, const FitAsked *asked, Fit *fit)
{
    const Calendar *c = j->where;
    size_t i = c != NULL ? calendar_at(c, asked->from_min) : 0;
    if (c != NULL && i == c->n)
        return;
    fit->start_min = c != NULL ? most(asked->from_min, c->opens_min[i]) : asked->from_min;
    fit->finish_min = fit->start_min;
}

void
plan_fit(const Joint *joint, const Busy busy[], const FitAsked *asked, Fit *fit)
{
    fit->n = 0;
    fit->joint = joint;
    fit->start_min = fit->finish_min = PLAN_NEVER;
    fit->busy_hand = PLAN_NONE;
    fit->waited_last = fit->over_time = false;
    fit->begins = -1;
    if (asked->from_min == PLAN_NEVER)
        return;
    if (asked->work_min == 0)
        fit_instant(joint, asked, fit);
    else if (joint->alone && !asked->task->unbroken && !asked->task->weather)
        fit_alone(joint, &busy[joint->crew.hand[0]], asked, fit);
    else
        fit_openings(joint, busy, asked, fit);
}
