/* Drafts of plans. Invariant: ties lead from lower to higher numbers, so that there is no circle. */
#include "plan_draft.h"

#include <math.h>
#include <stdlib.h>

#include "physics/memory.h"
#include "physics/work/dates.h"

enum { FIRST_DAY = 2461485 }; /* 2027-03-20, a Saturday */

static int
below(Dice *dice, int n)
{
    return (int) dice_below(dice, (size_t) n);
}

static PlanDraft *
draft_new(size_t n, size_t ties, size_t spans, size_t days)
{
    PlanDraft *d = fresh(1, sizeof *d);
    d->task = fresh(n, sizeof *d->task);
    d->crew = fresh(n, sizeof *d->crew);
    d->tie = fresh(ties, sizeof *d->tie);
    d->span = fresh(spans, sizeof *d->span);
    d->work = (PlanWork){.first_day = FIRST_DAY, .days = days, .n_tasks = n};
    d->work.task = d->task;
    d->work.tie = d->tie;
    d->work.span = d->span;
    d->work.hand = d->hours;
    return d;
}

void
plan_draft_free(PlanDraft *d)
{
    for (size_t i = 0; i < 4; i++)
        calendar_free(d->hand[i]);
    for (size_t i = 0; i < 3; i++)
        calendar_free(d->where[i]);
    wait_clock_free(d->clock);
    free(d->task);
    free(d->crew);
    free(d->tie);
    free(d->span);
    free(d);
}

static Calendar *
any_week(Dice *dice, size_t days)
{
    WeekHours hours[12];
    size_t n = 6 + (size_t) below(dice, 7);
    for (size_t i = 0; i < n; i++) {
        int from = 360 + 60 * below(dice, 12);
        hours[i] = (WeekHours){below(dice, 7), from, from + 60 + 30 * below(dice, 8)};
    }
    const DaySpan off = {FIRST_DAY + 20, FIRST_DAY + 26};
    return calendar_week(FIRST_DAY, days, n, hours, 1, &off, 0, NULL);
}

static void
any_task(PlanDraft *d, Dice *dice, size_t i)
{
    PlanTask *t = &d->task[i];
    *t = (PlanTask){.work_min = 15 * below(dice, 40), .crew = d->crew[i], .due_min = PLAN_NEVER};
    int kind = below(dice, 8);
    if (kind < 5) { /* one of some */
        t->n_crews = 1 + (size_t) below(dice, 3);
        size_t first = (size_t) below(dice, (int) (4 - t->n_crews));
        for (size_t c = 0; c < t->n_crews; c++)
            d->crew[i][c] = (PlanCrew){1, {first + c}};
    } else if (kind < 7) { /* two together */
        size_t a = (size_t) below(dice, 2);
        t->n_crews = 1;
        d->crew[i][0] = (PlanCrew){2, {a, a + 1}};
    }
    t->unbroken = below(dice, 4) == 0;
    t->weather = below(dice, 3) == 0;
    t->where = below(dice, 3) == 0 ? d->where[below(dice, 2)] : NULL;
    t->release_min = below(dice, 4) == 0 ? below(dice, 20 * MINUTES_A_DAY) : 0;
}

static void
any_ties(PlanDraft *d, Dice *dice, size_t n)
{
    for (size_t k = 0; k < 2 * n && n > 1; k++) {
        size_t to = 1 + (size_t) below(dice, (int) n - 1), from = (size_t) below(dice, (int) to);
        PlanTieKind kind = below(dice, 3) > 0 ? PLAN_FINISH_START : (PlanTieKind) below(dice, 4);
        PlanTie tie = {from, to, kind, 60 * below(dice, 30), NULL};
        if (kind == PLAN_FINISH_START && below(dice, 3) == 0)
            tie.clock = d->clock;
        d->tie[d->work.n_ties++] = tie;
        if (below(dice, 6) == 0 && kind == PLAN_FINISH_START)
            d->tie[d->work.n_ties++] =
                (PlanTie){from, to, PLAN_NO_LATER, tie.lag_min + 60 * 24 * 35, NULL};
    }
}

static void
any_spans(PlanDraft *d, Dice *dice, size_t n)
{
    for (size_t k = 0; k < n / 3 && n > 2; k++) {
        size_t first = (size_t) below(dice, (int) n), other = (size_t) below(dice, (int) n);
        if (first != other)
            d->span[d->work.n_spans++] = (PlanSpan){first, first, other, 60 * below(dice, 20)};
    }
}

/* By a clock that never changes. */
static Calendar *
daylight(size_t days, double latitude_rad, double longitude_rad, double ahead_h)
{
    double *zone_h = fresh(days, sizeof *zone_h);
    for (size_t d = 0; d < days; d++)
        zone_h[d] = ahead_h;
    Calendar *c = calendar_daylight(FIRST_DAY, days, latitude_rad, longitude_rad, zone_h);
    free(zone_h);
    return c;
}

PlanDraft *
plan_draft_any(uint64_t seed, size_t n)
{
    Dice dice = {seed};
    size_t days = 1500;
    PlanDraft *d = draft_new(n, 4 * n, n, days);
    const int32_t from[] = {0, 30 * MINUTES_A_DAY, 60 * MINUTES_A_DAY};
    const double rate[] = {0.5, 0.0, 1.3};
    d->clock = wait_clock_new(3, from, rate);
    d->work.n_hands = 3;
    for (size_t h = 0; h < 3; h++)
        d->hours[h] = d->hand[h] = any_week(&dice, days);
    d->where[0] = daylight(days, 0.9, 0.1, 0.0);
    WeekHours most[6];
    for (int w = 0; w < 6; w++)
        most[w] = (WeekHours){w, 300 + 60 * below(&dice, 3), 1320};
    d->where[1] = calendar_week(FIRST_DAY, days, 6, most, 0, NULL, 0, NULL);
    for (size_t i = 0; i < n; i++)
        any_task(d, &dice, i);
    any_ties(d, &dice, n);
    any_spans(d, &dice, n);
    return d;
}

/* --- a refit ------------------------------------------------------------------------------------------------------------- */

enum { LAYERS = 6 };

static void
refit_hands(PlanDraft *d, size_t days)
{
    WeekHours owner[7], friend[] = {{5, 540, 780}, {5, 840, 1020}};
    for (int w = 0; w < 7; w++)
        owner[w] = w < 5 ? (WeekHours){w, 1080, 1290} : (WeekHours){w, 540, 1020};
    const DaySpan away = {FIRST_DAY + 105, FIRST_DAY + 119};
    d->hours[0] = d->hand[0] = calendar_week(FIRST_DAY, days, 7, owner, 1, &away, 0, NULL);
    d->hours[1] = d->hand[1] = calendar_week(FIRST_DAY, days, 2, friend, 0, NULL, 0, NULL);
    d->work.n_hands = 2;
    d->where[0] = daylight(days, 0.914, 0.085, 1.0);
    OpenHours *slots = fresh(days / 14 + 1, sizeof *slots);
    size_t n = 0;
    for (size_t day = 10; day + 14 < days; day += 14)
        slots[n++] =
            (OpenHours){(int32_t) day * MINUTES_A_DAY, (int32_t) (day + 2) * MINUTES_A_DAY};
    d->where[1] = calendar_windows(FIRST_DAY, days, n, slots);
    free(slots);
}

static void
refit_task(PlanDraft *d, Dice *dice, size_t i, size_t last)
{
    PlanTask *t = &d->task[i];
    *t = (PlanTask){.work_min = 60 + 15 * below(dice, 60), .n_crews = 1, .due_min = PLAN_NEVER};
    t->crew = d->crew[i];
    d->crew[i][0] = below(dice, 8) == 0 ? (PlanCrew){2, {0, 1}} : (PlanCrew){1, {0}};
    bool outside = below(dice, 3) == 0;
    t->where = i == last ? d->where[1] : outside ? d->where[0] : NULL;
    t->weather = outside && i != last;
    t->unbroken = i % LAYERS == 1;
    if (t->unbroken)
        t->work_min = 60 + 15 * below(dice, 8);
    if (i == last)
        t->work_min = 120;
}

PlanDraft *
plan_draft_refit(uint64_t seed, size_t n)
{
    Dice dice = {seed};
    size_t days = n * 3 + 800, last = n - 1;
    PlanDraft *d = draft_new(n, 3 * n, n, days);
    refit_hands(d, days);
    for (size_t i = 0; i < n; i++)
        refit_task(d, &dice, i, last);
    for (size_t i = 0; i < last; i++) {
        bool top = i % LAYERS == LAYERS - 1 || i + 1 == last;
        bool coat = i % LAYERS == 1;
        size_t to = top ? last : i + 1;
        d->tie[d->work.n_ties++] = (PlanTie){i, to, PLAN_FINISH_START, coat ? 16 * 60 : 0, NULL};
        if (i >= LAYERS && below(&dice, 6) == 0)
            d->tie[d->work.n_ties++] =
                (PlanTie){i - (size_t) below(&dice, LAYERS) - 1, i, PLAN_FINISH_START, 0, NULL};
        if (coat && i + LAYERS < last)
            d->span[d->work.n_spans++] = (PlanSpan){i, i, i + LAYERS - 1, 24 * 60};
    }
    d->target = last;
    d->work.target = &d->target;
    d->work.n_targets = 1;
    return d;
}
