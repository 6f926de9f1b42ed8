/* The scheduler: the sheet's cases by hand, every rule on plans drawn by chance, all orders of small ones, and hostile input. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "physics/memory.h"
#include "physics/work/dates.h"
#include "physics/work/plan.h"
#include "plan_draft.h"

enum { HALF_DAY = MINUTES_A_DAY / 2, SPELL_MIN = 30 };

/* In doubles: day numbers are too long for the floats of cmocka. */
static void
is_near(double got, double want, double within)
{
    if (!(fabs(got - want) <= within))
        fail_msg("%.9g is not within %g of %.9g", got, within, want);
}

/* --- cases of the sheet, half days, one person day and night ------------------------------------------------------------- */

typedef struct {
    PlanTask task[16];
    PlanTie tie[24];
    PlanSpan span[4];
    Calendar *always;
    const Calendar *hand[1];
    PlanWork work;
} Sheet;

static const PlanCrew one = {1, {0}};

static void
sheet_new(Sheet *s, size_t n, const double days[])
{
    memset(s, 0, sizeof *s);
    s->always = calendar_always(2460000, 120);
    s->hand[0] = s->always;
    for (size_t i = 0; i < n; i++)
        s->task[i] = (PlanTask){.work_min = (int32_t) lround(days[i] * MINUTES_A_DAY),
                                .n_crews = 1,
                                .crew = &one,
                                .due_min = PLAN_NEVER};
    s->work = (PlanWork){.first_day = 2460000, .days = 120, .n_tasks = n, .n_hands = 1};
    s->work.task = s->task;
    s->work.hand = s->hand;
    s->work.tie = s->tie;
    s->work.span = s->span;
}

static void
tie(Sheet *s, size_t from, size_t to, PlanTieKind kind, double lag_days)
{
    s->tie[s->work.n_ties++] =
        (PlanTie){from, to, kind, (int32_t) lround(lag_days * MINUTES_A_DAY), NULL};
}

static Plan *
ready(const PlanWork *work)
{
    PlanOutcome outcome;
    size_t where;
    Plan *plan = plan_new(work, &outcome, &where);
    assert_int_equal(outcome, PLAN_READY);
    return plan;
}

/* Days to the finish of the list found. */
static double
finish_days(const PlanWork *work)
{
    Plan *plan = ready(work);
    uint32_t list[32];
    plan_find(plan, &(PlanSearch){0}, list);
    PlanReplay *replay = plan_replay_new(plan, false);
    double finish = (double) plan_replay(replay, list, NULL, NULL)->finish_min / MINUTES_A_DAY;
    plan_replay_free(replay);
    plan_free(plan);
    return finish;
}

static void
sheet_is(Sheet *s, double days)
{
    is_near(finish_days(&s->work), days, 1e-9);
    calendar_free(s->always);
}

/* W3.4: case R, by the arcs of W3.2. */
static void
refit_case_takes_eleven_days_and_a_half(void **state)
{
    (void) state;
    enum { HAUL, LAUNCH, T1, T2, T3, T4, T5, T6, T7, T8, T9, T10, T11, T12, ALL };
    const double days[ALL] = {0.5, 0.5, 0.5, 1, 2, 0.5, 0.5, 0.5, 1, 0.5, 1, 1.5, 0.5, 0.5};
    const size_t arcs[][2] = {{HAUL, T2}, {T1, T2},  {T2, T3},   {T3, T4}, {T3, T6}, {T3, T12},
                              {T4, T5},   {T11, T5}, {T11, T12}, {T7, T8}, {T8, T9}, {T9, T10}};
    Sheet s;
    sheet_new(&s, ALL, days);
    for (size_t i = 0; i < sizeof arcs / sizeof *arcs; i++)
        tie(&s, arcs[i][0], arcs[i][1], PLAN_FINISH_START, 0);
    tie(&s, T5, T7, PLAN_FINISH_START, 1);
    tie(&s, T6, LAUNCH, PLAN_FINISH_START, 5);
    sheet_is(&s, 11.5);
}

/* W3.5: how long she stands ashore. */
static void
coats_make_the_time_ashore(void **state)
{
    (void) state;
    const double welds[] = {4, 3, 2.5}, ashore[] = {15, 14, 13.5};
    for (size_t k = 0; k < 3; k++) {
        const double days[] = {1, welds[k], 1, 0.5, 0.5, 0.5, 0.5};
        Sheet s;
        sheet_new(&s, 7, days);
        for (size_t i = 0; i < 6; i++)
            tie(&s, i, i + 1, PLAN_FINISH_START, i < 3 ? 0 : i < 5 ? 1 : 5);
        tie(&s, 2, 3, PLAN_NO_LATER, 0.5);
        sheet_is(&s, ashore[k]);
    }
}

/* W3.7, W3.8: free tasks fill the waits, or cannot. */
static void
free_work_fills_the_waits(void **state)
{
    (void) state;
    enum { P1, P2, P3, LAUNCH, X, Y, ALL };
    const double days[ALL] = {1, 1, 1, 0.5, 2, 3};
    for (int bound = 0; bound < 2; bound++) {
        Sheet s;
        sheet_new(&s, ALL, days);
        tie(&s, P1, P2, PLAN_FINISH_START, 1);
        tie(&s, P2, P3, PLAN_FINISH_START, 1);
        tie(&s, P3, LAUNCH, PLAN_FINISH_START, 7);
        if (bound) {
            tie(&s, Y, P1, PLAN_FINISH_START, 0);
            tie(&s, X, LAUNCH, PLAN_FINISH_START, 0);
        }
        sheet_is(&s, bound ? 15.5 : 12.5);
    }
}

/* W3.9: no hot work near wet paint. */
static void
hot_work_keeps_away_from_paint(void **state)
{
    (void) state;
    enum { CABIN, ENGINE, PAINT, ALL };
    const double days[ALL] = {1, 1, 0.5};
    for (int first = 0; first < 2; first++) {
        Sheet s;
        sheet_new(&s, ALL, days);
        tie(&s, CABIN, PAINT, PLAN_FINISH_START, 0);
        if (first)
            tie(&s, PAINT, ENGINE, PLAN_FINISH_START, 0);
        s.span[s.work.n_spans++] = (PlanSpan){PAINT, PAINT, ENGINE, MINUTES_A_DAY};
        sheet_is(&s, first ? 3.5 : 2.5);
    }
}

/* Work that must not fall between cut and close stands before or after, and is put before when the close needs it. */
static void
spans_keep_work_out(void **state)
{
    (void) state;
    enum { CUT, CLOSE, MOVE, ALL };
    const double days[ALL] = {1, 1, 0.5};
    for (int needed = 0; needed < 2; needed++) {
        Sheet s;
        sheet_new(&s, ALL, days);
        tie(&s, CUT, CLOSE, PLAN_FINISH_START, 2);
        if (needed)
            tie(&s, MOVE, CLOSE, PLAN_FINISH_START, 0);
        s.span[s.work.n_spans++] = (PlanSpan){CUT, CLOSE, MOVE, 0};
        sheet_is(&s, 4.5);
    }
}

/* --- every rule, on plans drawn by chance --------------------------------------------------------------------------------- */

static void
hours_add_up(const PlanWork *w, const PlanDates *d)
{
    for (size_t i = 0; i < d->n; i++) {
        const PlanPlace *p = &d->place[i];
        int32_t done = 0, first = PLAN_NEVER, last = 0;
        size_t crew = p->crew == PLAN_NONE ? 0 : w->task[i].crew[p->crew].n;
        for (size_t k = 0; k < d->n_pieces; k++)
            if (d->piece[k].task == i) {
                done += d->piece[k].to_min - d->piece[k].from_min;
                first = d->piece[k].from_min < first ? d->piece[k].from_min : first;
                last = d->piece[k].to_min > last ? d->piece[k].to_min : last;
            }
        if (p->finish_min == PLAN_NEVER || crew == 0 || w->task[i].work_min == 0)
            continue;
        assert_int_equal(first, p->start_min);
        if (!p->over_time) {
            assert_int_equal(done, (int32_t) crew * w->task[i].work_min);
            assert_int_equal(last, p->finish_min);
        }
    }
}

static void
spells_lie_in_open_hours(const PlanWork *w, const PlanDates *d, const PlanChance *chance)
{
    for (size_t k = 0; k < d->n_pieces; k++) {
        const PlanPiece *a = &d->piece[k];
        const PlanTask *t = &w->task[a->task];
        int32_t length = a->to_min - a->from_min;
        assert_true(length > 0);
        assert_int_equal(calendar_between(w->hand[a->hand], a->from_min, a->to_min), length);
        if (t->where != NULL)
            assert_int_equal(calendar_between(t->where, a->from_min, a->to_min), length);
        if (chance != NULL && t->weather)
            assert_false(chance->lost_frac[a->from_min / MINUTES_A_DAY] >= 1.0);
        for (size_t m = 0; m < k; m++) /* nobody does two things at once */
            assert_true(d->piece[m].hand != a->hand || d->piece[m].to_min <= a->from_min ||
                        d->piece[m].from_min >= a->to_min);
    }
}

static void
ties_hold(const PlanWork *w, const PlanDates *d)
{
    for (size_t i = 0; i < w->n_ties; i++) {
        const PlanTie *t = &w->tie[i];
        const PlanPlace *a = &d->place[t->from], *b = &d->place[t->to];
        if (a->finish_min == PLAN_NEVER || b->finish_min == PLAN_NEVER)
            continue;
        bool starts = t->kind == PLAN_FINISH_START || t->kind == PLAN_START_START;
        bool from_finish = t->kind == PLAN_FINISH_START || t->kind == PLAN_FINISH_FINISH;
        int32_t at = from_finish ? a->finish_min : a->start_min;
        int32_t over =
            t->clock != NULL ? wait_clock_over(t->clock, at, t->lag_min) : at + t->lag_min;
        if (t->kind == PLAN_NO_LATER)
            assert_true(d->n_broken > 0 || b->start_min <= a->finish_min + t->lag_min);
        else
            assert_true((starts ? b->start_min : b->finish_min) >= over);
    }
}

static void
spans_hold(const PlanWork *w, const PlanDates *d)
{
    for (size_t i = 0; i < w->n_spans; i++) {
        const PlanPlace *first = &d->place[w->span[i].first], *last = &d->place[w->span[i].last];
        const PlanPlace *other = &d->place[w->span[i].other];
        if (first->finish_min != PLAN_NEVER && other->finish_min != PLAN_NEVER)
            assert_true(other->finish_min <= first->start_min ||
                        other->start_min >= last->finish_min + w->span[i].lag_min);
    }
}

static void
unbroken_work_is_in_one_piece(const PlanWork *w, const PlanDates *d)
{
    for (size_t i = 0; i < d->n; i++) {
        const PlanPlace *p = &d->place[i];
        if (w->task[i].unbroken && p->finish_min != PLAN_NEVER && p->crew != PLAN_NONE)
            assert_int_equal(p->finish_min - p->start_min, w->task[i].work_min);
        assert_true(p->start_min == PLAN_NEVER || p->start_min >= w->task[i].release_min);
    }
}

static void
all_rules_hold(const PlanWork *w, const PlanDates *d, const PlanChance *chance)
{
    hours_add_up(w, d);
    spells_lie_in_open_hours(w, d, chance);
    ties_hold(w, d);
    spans_hold(w, d);
    unbroken_work_is_in_one_piece(w, d);
}

static void
random_plans_keep_every_rule(void **state)
{
    (void) state;
    static double lost[1500];
    size_t placed = 0, all = 0;
    for (size_t day = 0; day < 1500; day++)
        lost[day] = day % 5 == 0 ? 1.0 : 0.0;
    for (uint64_t seed = 1; seed <= 400; seed++) {
        PlanDraft *draft = plan_draft_any(seed, 3 + seed % 40);
        Plan *plan = ready(&draft->work);
        size_t n = draft->work.n_tasks;
        double *rank = fresh(n, sizeof *rank);
        uint32_t *list = fresh(n, sizeof *list);
        PlanReplay *replay = plan_replay_new(plan, true);
        Dice dice = {seed};
        const PlanChance bad_weather = {.seed = seed, .lost_frac = lost};
        for (int k = 0; k < 4; k++) {
            for (size_t i = 0; i < n; i++)
                rank[i] = dice_share(&dice);
            plan_settle(plan, rank, list);
            const PlanChance *chance = k % 2 == 0 ? NULL : &bad_weather;
            const PlanDates *d = plan_replay(replay, list, NULL, chance);
            all_rules_hold(&draft->work, d, chance);
            for (size_t i = 0; i < n; i++, all++)
                placed += d->place[i].finish_min != PLAN_NEVER;
        }
        plan_replay_free(replay);
        plan_free(plan);
        plan_draft_free(draft);
        free(rank);
        free(list);
    }
    assert_true(placed > all * 9 / 10);
}

static void
lists_hold_everything_once(void **state)
{
    (void) state;
    for (uint64_t seed = 1; seed <= 200; seed++) {
        PlanDraft *draft = plan_draft_any(seed, 1 + seed % 60);
        Plan *plan = ready(&draft->work);
        size_t n = draft->work.n_tasks, at[64];
        double rank[64];
        uint32_t list[64];
        Dice dice = {seed};
        for (size_t i = 0; i < n; i++) {
            rank[i] = (double) dice_below(&dice, 5);
            at[i] = n;
        }
        plan_settle(plan, rank, list);
        for (size_t k = 0; k < n; k++) {
            assert_true(list[k] < n && at[list[k]] == n);
            at[list[k]] = k;
        }
        for (size_t i = 0; i < draft->work.n_ties; i++)
            assert_true(at[draft->tie[i].from] < at[draft->tie[i].to] ||
                        draft->tie[i].kind == PLAN_NO_LATER);
        plan_free(plan);
        plan_draft_free(draft);
    }
}

/* --- the search -------------------------------------------------------------------------------------------------------------- */

/* The shortest of all orders, by all permutations of the ranks. */
static void
try_orders(const Plan *plan, PlanReplay *replay, double rank[], size_t k, size_t n, int32_t *best)
{
    if (k == n) {
        uint32_t list[8];
        plan_settle(plan, rank, list);
        const PlanDates *d = plan_replay(replay, list, NULL, NULL);
        if (d->n_broken == 0 && d->finish_min < *best)
            *best = d->finish_min;
        return;
    }
    for (size_t i = k; i < n; i++) {
        double held = rank[k];
        rank[k] = rank[i];
        rank[i] = held;
        try_orders(plan, replay, rank, k + 1, n, best);
        rank[i] = rank[k];
        rank[k] = held;
    }
}

static void
small_plans_are_the_best_of_all_orders(void **state)
{
    (void) state;
    size_t missed = 0, plans = 0;
    for (uint64_t seed = 1; seed <= 60; seed++) {
        PlanDraft *draft = plan_draft_any(seed, 6);
        Plan *plan = ready(&draft->work);
        PlanReplay *replay = plan_replay_new(plan, false);
        double rank[] = {0, 1, 2, 3, 4, 5};
        uint32_t list[8];
        int32_t best = PLAN_NEVER;
        try_orders(plan, replay, rank, 0, 6, &best);
        plan_find(plan, &(PlanSearch){0}, list);
        const PlanDates *d = plan_replay(replay, list, NULL, NULL);
        assert_true(d->n_broken > 0 || d->finish_min >= best);
        plans += best != PLAN_NEVER;
        missed += best != PLAN_NEVER &&
                  d->finish_min > best + best / 100; /* less is not worth another order */
        plan_replay_free(replay);
        plan_free(plan);
        plan_draft_free(draft);
    }
    assert_true(plans > 40);
    assert_int_equal(missed, 0);
}

static void
finding_is_the_same_every_time(void **state)
{
    (void) state;
    PlanDraft *draft = plan_draft_refit(3, 90);
    Plan *plan = ready(&draft->work);
    uint32_t a[90], b[90];
    plan_find(plan, &(PlanSearch){0}, a);
    plan_find(plan, &(PlanSearch){0}, b);
    assert_memory_equal(a, b, sizeof a);
    PlanReplay *replay = plan_replay_new(plan, true);
    const PlanDates *d = plan_replay(replay, a, NULL, NULL);
    assert_true(d->finish_min < PLAN_NEVER);
    all_rules_hold(&draft->work, d, NULL);
    bool critical[90];
    plan_drivers(replay, critical);
    assert_true(critical[89]);
    plan_replay_free(replay);
    plan_free(plan);
    plan_draft_free(draft);
}

/* --- waits ------------------------------------------------------------------------------------------------------------------- */

static void
waits_run_with_their_clock(void **state)
{
    (void) state;
    const int32_t from[] = {0, 1000, 2500, 4000};
    const double rate[] = {1.0, 0.25, 0.0, 2.0};
    WaitClock *clock = wait_clock_new(4, from, rate);
    for (int32_t begin = 0; begin < 5000; begin += 137)
        for (int32_t lag = 0; lag < 3000; lag += 211) {
            double passed = 0.0;
            int32_t at = begin;
            for (; passed < lag - 1e-9; at++)
                passed += rate[at < 1000 ? 0 : at < 2500 ? 1 : at < 4000 ? 2 : 3];
            assert_int_equal(wait_clock_over(clock, begin, lag), at);
        }
    wait_clock_free(clock);
    /* W3.14: 8 h at 20 degC, 12 h of it at 10 degC, the rest at 15 degC */
    const int32_t cold[] = {0, 720};
    const double speed[] = {exp2(-1.0), exp2(-0.5)};
    clock = wait_clock_new(2, cold, speed);
    assert_int_equal(wait_clock_over(clock, 0, 480), (int32_t) ceil(14.828427 * 60.0));
    wait_clock_free(clock);
    const int32_t never[] = {0};
    const double frost[] = {0.0};
    clock = wait_clock_new(1, never, frost);
    assert_int_equal(wait_clock_over(clock, 5, 1), INT32_MAX);
    assert_int_equal(wait_clock_over(clock, 5, 0), 5);
    wait_clock_free(clock);
    const double bad[] = {-1.0};
    assert_null(wait_clock_new(1, never, bad));
    assert_null(wait_clock_new(0, never, frost));
}

/* --- hostile ----------------------------------------------------------------------------------------------------------------- */

static PlanOutcome
outcome_of(const PlanWork *work)
{
    PlanOutcome outcome;
    size_t where;
    plan_free(plan_new(work, &outcome, &where));
    return outcome;
}

static void
bad_plans_are_refused(void **state)
{
    (void) state;
    const double days[] = {1, 1, 1};
    Sheet s;
    sheet_new(&s, 3, days);
    tie(&s, 0, 1, PLAN_FINISH_START, 0);
    tie(&s, 1, 2, PLAN_START_START, 0);
    assert_int_equal(outcome_of(&s.work), PLAN_READY);
    tie(&s, 2, 0, PLAN_FINISH_FINISH, 0);
    assert_int_equal(outcome_of(&s.work), PLAN_LOOP);
    s.work.n_ties = 2;
    s.task[1].work_min = -1;
    assert_int_equal(outcome_of(&s.work), PLAN_BAD);
    s.task[1].work_min = INT32_MAX;
    assert_int_equal(outcome_of(&s.work), PLAN_BAD);
    s.task[1].work_min = 1;
    s.tie[1].to = 3;
    assert_int_equal(outcome_of(&s.work), PLAN_BAD);
    s.tie[1] = (PlanTie){1, 1, PLAN_FINISH_START, 0, NULL};
    assert_int_equal(outcome_of(&s.work), PLAN_BAD);
    s.work.n_ties = 0;
    const PlanCrew nobody = {1, {7}};
    s.task[0].crew = &nobody;
    assert_int_equal(outcome_of(&s.work), PLAN_BAD);
    s.task[0].crew = &one;
    s.span[0] = (PlanSpan){0, 0, 0, 0};
    s.work.n_spans = 1;
    assert_int_equal(outcome_of(&s.work), PLAN_BAD);
    s.work.n_spans = 0;
    s.work.n_tasks = 0;
    assert_int_equal(outcome_of(&s.work), PLAN_READY);
    calendar_free(s.always);
}

static void
what_nobody_can_do_is_never_done(void **state)
{
    (void) state;
    const double days[] = {1, 1, 0};
    Sheet s;
    sheet_new(&s, 3, days);
    Calendar *never = calendar_windows(2460000, 120, 0, NULL);
    s.task[1].where = never;
    tie(&s, 1, 2, PLAN_FINISH_START, 0);
    Plan *plan = ready(&s.work);
    uint32_t list[3];
    plan_find(plan, &(PlanSearch){0}, list);
    PlanReplay *replay = plan_replay_new(plan, true);
    const PlanDates *d = plan_replay(replay, list, NULL, NULL);
    assert_int_equal(d->place[0].finish_min, MINUTES_A_DAY);
    assert_int_equal(d->place[1].finish_min, PLAN_NEVER);
    assert_int_equal(d->place[2].start_min, PLAN_NEVER);
    assert_int_equal(d->finish_min, PLAN_NEVER);
    plan_replay_free(replay);
    plan_free(plan);
    calendar_free(never);
    calendar_free(s.always);
}

static void
ten_thousand_tasks_are_planned(void **state)
{
    (void) state;
    PlanDraft *draft = plan_draft_refit(1, 10000);
    Plan *plan = ready(&draft->work);
    uint32_t *list = fresh(10000, sizeof *list);
    plan_find(plan, &(PlanSearch){.placements = 1}, list);
    PlanReplay *replay = plan_replay_new(plan, false);
    const PlanDates *d = plan_replay(replay, list, NULL, NULL);
    assert_true(d->finish_min < PLAN_NEVER);
    ties_hold(&draft->work, d);
    spans_hold(&draft->work, d);
    plan_replay_free(replay);
    plan_free(plan);
    plan_draft_free(draft);
    free(list);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(refit_case_takes_eleven_days_and_a_half),
        cmocka_unit_test(coats_make_the_time_ashore),
        cmocka_unit_test(free_work_fills_the_waits),
        cmocka_unit_test(hot_work_keeps_away_from_paint),
        cmocka_unit_test(spans_keep_work_out),
        cmocka_unit_test(random_plans_keep_every_rule),
        cmocka_unit_test(lists_hold_everything_once),
        cmocka_unit_test(small_plans_are_the_best_of_all_orders),
        cmocka_unit_test(finding_is_the_same_every_time),
        cmocka_unit_test(waits_run_with_their_clock),
        cmocka_unit_test(bad_plans_are_refused),
        cmocka_unit_test(what_nobody_can_do_is_never_done),
        cmocka_unit_test(ten_thousand_tasks_are_planned),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
