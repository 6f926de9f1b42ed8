/* A good list found. Invariant: what plan_find returns is never worse than the list by plan_latest. */
#include <math.h>
#include <string.h>

#include "physics/memory.h"
#include "physics/work/list_search.h"
#include "physics/work/plan_parts.h"

enum { USUAL_PLACEMENTS = 48000 };
static const size_t least_replays = 24;

/* Shorter by less is no reason to upset the order. */
static const double worth_frac = 0.005;
/* How far the doubt in a task may bring it forward, as a part of the whole length. */
static const double forward_frac = 0.25;

/* How good a replay is; small is good, the first that differs decides. */
typedef struct {
    double undone; /* targets that cannot be done, greatest waits not kept */
    double late_min, finish_min;
} Value;

typedef struct {
    const Plan *plan;
    PlanReplay *replay;
    size_t n, replays; /* left */
    double *usual;     /* ranks of plan_latest, with the risk brought forward */
    double *rank, *takes_h, *hand_h;
    uint32_t *list, *best;
    Value value;      /* of the best */
    double slack_min; /* not worth upsetting the order */
} Search;

static Value
value_of(const Search *s, const PlanDates *d)
{
    size_t never = 0;
    for (size_t i = 0; i < s->n; i++)
        never += d->place[i].finish_min == PLAN_NEVER;
    return (Value){(double) (never + d->n_broken), (double) d->late_min,
                   d->finish_min == PLAN_NEVER ? INFINITY : (double) d->finish_min};
}

static Value
try_list(Search *s, const uint32_t list[])
{
    s->replays -= s->replays > 0;
    return value_of(s, plan_replay(s->replay, list, NULL, NULL));
}

/* By more than `slack_min` in the finish. */
static bool
is_better(Value a, Value b, double slack_min)
{
    if (a.undone != b.undone)
        return a.undone < b.undone;
    if (fabs(a.late_min - b.late_min) > slack_min)
        return a.late_min < b.late_min;
    return a.finish_min < b.finish_min - slack_min;
}

static void
keep(Search *s, Value value)
{
    s->value = value;
    memcpy(s->best, s->list, s->n * sizeof *s->list);
}

/* Replays a list made from ranks and keeps it when it is better. */
static bool
try_ranks(Search *s, const double rank[], double slack_min)
{
    plan_settle(s->plan, rank, s->list);
    Value value = try_list(s, s->list);
    if (!is_better(value, s->value, slack_min))
        return false;
    keep(s, value);
    return true;
}

/* --- justification ------------------------------------------------------------------------------------------------------- */

/* Latest starts that leave every task its place behind the others of its hand: the schedule pushed to its end. */
static void
push_back(Search *s, const PlanDates *d, const uint32_t list[], double rank[])
{
    const PlanWork *w = s->plan->work;
    double *hand = fresh(w->n_hands, sizeof(double)), end = 0.0;
    for (size_t i = 0; i < s->n; i++)
        if (d->place[i].finish_min != PLAN_NEVER)
            end = fmax(end, d->place[i].finish_min);
    for (size_t h = 0; h < w->n_hands; h++)
        hand[h] = end;
    for (size_t k = s->n; k-- > 0;) {
        size_t i = list[k];
        const PlanPlace *p = &d->place[i];
        double takes = p->finish_min == PLAN_NEVER ? 0.0 : (double) p->finish_min - p->start_min;
        double finish = end;
        const PlanCrew *crew = p->crew != PLAN_NONE ? &w->task[i].crew[p->crew] : NULL;
        for (size_t c = 0; crew != NULL && c < crew->n; c++)
            finish = fmin(finish, hand[crew->hand[c]]);
        for (uint32_t e = s->plan->out.from[i]; e < s->plan->out.from[i + 1]; e++) {
            const PlanTie *tie = &w->tie[s->plan->out.at[e]];
            if (tie->kind == PLAN_FINISH_START)
                finish = fmin(finish, rank[tie->to] - tie->lag_min);
        }
        rank[i] = finish - takes;
        for (size_t c = 0; crew != NULL && c < crew->n; c++)
            hand[crew->hand[c]] = rank[i];
    }
    free(hand);
}

static void
by_starts(const PlanDates *d, double rank[])
{
    for (size_t i = 0; i < d->n; i++)
        rank[i] = d->place[i].start_min;
}

/* Back and forth while it helps. */
static void
justify(Search *s)
{
    for (bool better = true; better && s->replays > least_replays / 2;) {
        const PlanDates *d = plan_replay(s->replay, s->best, NULL, NULL);
        push_back(s, d, s->best, s->rank);
        better = try_ranks(s, s->rank, 0.0);
        d = plan_replay(s->replay, s->best, NULL, NULL);
        by_starts(d, s->rank);
        better = try_ranks(s, s->rank, 0.0) || better;
    }
}

/* --- a population of lists ------------------------------------------------------------------------------------------------- */

/* The value of a replay as one number; what cannot be done counts as much as the longest stretch there is. */
static double
as_hours(Value v)
{
    const double whole_h = 24.0 * CALENDAR_DAYS;
    double finish_h = isfinite(v.finish_min) ? v.finish_min / 60.0 : whole_h;
    return finish_h + v.late_min / 60.0 + v.undone * whole_h;
}

static double
decode(void *context, const size_t order[], double start_h[], double finish_h[])
{
    Search *s = context;
    for (size_t k = 0; k < s->n; k++)
        s->rank[order[k]] = (double) k;
    plan_settle(s->plan, s->rank, s->list);
    s->replays -= s->replays > 0;
    const PlanDates *d = plan_replay(s->replay, s->list, NULL, NULL);
    for (size_t i = 0; i < s->n; i++) {
        bool never = d->place[i].finish_min == PLAN_NEVER;
        start_h[i] = never ? CALENDAR_DAYS * 24.0 : d->place[i].start_min / 60.0;
        finish_h[i] = never ? start_h[i] : d->place[i].finish_min / 60.0;
    }
    return as_hours(value_of(s, d));
}

/* The crew that is free the longest before its next work; when. */
static const PlanCrew *
latest_crew(const PlanTask *t, const double hand_h[], double *free_h)
{
    const PlanCrew *best = NULL;
    for (size_t c = 0; c < t->n_crews; c++) {
        double until = 0.0;
        for (size_t k = 0; k < t->crew[c].n; k++)
            until = fmin(until, hand_h[t->crew[c].hand[k]]);
        if (best == NULL || until > *free_h) {
            best = &t->crew[c];
            *free_h = until;
        }
    }
    return best;
}

/* From the end, with what the work usually takes on the wall; a means to other orders, not a plan. */
static double
decode_back(void *context, const size_t order[], double start_h[], double finish_h[])
{
    Search *s = context;
    const PlanWork *w = s->plan->work;
    double first = 0.0;
    for (size_t h = 0; h < w->n_hands; h++)
        s->hand_h[h] = 0.0;
    for (size_t k = 0; k < s->n; k++) {
        size_t i = order[k];
        double finish = 0.0;
        const PlanCrew *crew = latest_crew(&w->task[i], s->hand_h, &finish);
        for (uint32_t e = s->plan->out.from[i]; e < s->plan->out.from[i + 1]; e++) {
            const PlanTie *tie = &w->tie[s->plan->out.at[e]];
            double lag_h = tie->lag_min / 60.0;
            if (tie->kind == PLAN_FINISH_START)
                finish = fmin(finish, start_h[tie->to] - lag_h);
            else if (tie->kind == PLAN_FINISH_FINISH)
                finish = fmin(finish, finish_h[tie->to] - lag_h);
            else if (tie->kind == PLAN_START_START)
                finish = fmin(finish, start_h[tie->to] - lag_h + s->takes_h[i]);
            else
                finish = fmin(finish, finish_h[tie->to] - lag_h + s->takes_h[i]);
        }
        finish_h[i] = finish;
        start_h[i] = finish - s->takes_h[i];
        for (size_t c = 0; crew != NULL && c < crew->n; c++)
            s->hand_h[crew->hand[c]] = start_h[i];
        first = fmin(first, start_h[i]);
    }
    return -first;
}

static Tie *
network_ties(const PlanWork *w, size_t *n)
{
    Tie *tie = fresh(w->n_ties, sizeof(Tie));
    *n = 0;
    for (size_t i = 0; i < w->n_ties; i++)
        if (w->tie[i].kind != PLAN_NO_LATER)
            tie[(*n)++] = (Tie){w->tie[i].from, w->tie[i].to, (TieKind) w->tie[i].kind,
                                w->tie[i].lag_min / 60.0};
    return tie;
}

static void
populate(Search *s, size_t schedules, uint64_t seed)
{
    TaskNetwork net = {.n = s->n};
    Tie *tie = network_ties(s->plan->work, &net.ties);
    net.tie = tie;
    size_t *list = fresh(2 * s->n, sizeof(size_t)), *first = list + s->n;
    double *times = fresh(2 * s->n, sizeof(double));
    for (size_t k = 0; k < s->n; k++)
        first[k] = s->best[k];
    const ListProblem problem = {.net = &net,
                                 .decode = decode,
                                 .decode_back = decode_back,
                                 .context = s,
                                 .urgency = s->usual,
                                 .at_best = -INFINITY,
                                 .firsts = 1,
                                 .first = first};
    const ListEffort effort = {.schedules = schedules, .seed = seed};
    ListBest best = {.list = list, .start_h = times, .finish_h = times + s->n};
    if (list_search(&problem, &effort, &best)) {
        for (size_t k = 0; k < s->n; k++)
            s->rank[list[k]] = (double) k;
        try_ranks(s, s->rank, 0.0);
    }
    free(tie);
    free(list);
    free(times);
}

/* --- back to the usual order --------------------------------------------------------------------------------------------- */

static bool
is_tied(const Plan *plan, uint32_t from, uint32_t to)
{
    for (uint32_t e = plan->out.from[from]; e < plan->out.from[from + 1]; e++)
        if (plan->work->tie[plan->out.at[e]].to == to)
            return true;
    return false;
}

/* As much of the usual order as the finish allows, in tenths; then neighbours one by one. */
static void
straighten(Search *s, double slack_min)
{
    Value limit = s->value;
    double *place = fresh(2 * s->n, sizeof(double)), *usual = place + s->n;
    plan_settle(s->plan, s->usual, s->list);
    for (size_t k = 0; k < s->n; k++) {
        place[s->best[k]] = (double) k;
        usual[s->list[k]] = (double) k;
    }
    for (int tenths = 9; tenths > 0; tenths--) {
        for (size_t i = 0; i < s->n; i++)
            s->rank[i] = 0.1 * (tenths * usual[i] + (10 - tenths) * place[i]);
        plan_settle(s->plan, s->rank, s->list);
        Value value = try_list(s, s->list);
        if (!is_better(limit, value, slack_min)) {
            keep(s, value);
            break;
        }
    }
    memcpy(s->list, s->best, s->n * sizeof *s->list);
    for (bool moved = true; moved && s->replays > 0;) {
        moved = false;
        for (size_t k = 0; k + 1 < s->n && s->replays > 0; k++) {
            uint32_t a = s->list[k], b = s->list[k + 1];
            if (usual[a] <= usual[b] || is_tied(s->plan, a, b))
                continue;
            for (size_t i = 0; i < s->n; i++)
                s->rank[s->list[i]] = (double) i;
            s->rank[a] = (double) k + 1.0;
            s->rank[b] = (double) k;
            plan_settle(s->plan, s->rank, s->list);
            Value value = try_list(s, s->list);
            if (!is_better(limit, value, slack_min)) {
                keep(s, value);
                moved = true;
            } else
                memcpy(s->list, s->best, s->n * sizeof *s->list);
        }
    }
    free(place);
}

/* --- all of it ----------------------------------------------------------------------------------------------------------- */

/* The usual ranks, tasks that hold much of the doubt brought forward. */
static void
usual_ranks(Search *s, const double risk[])
{
    double most = 0.0, low = INFINITY, high = -INFINITY;
    plan_latest(s->plan, s->usual);
    for (size_t i = 0; i < s->n; i++) {
        low = fmin(low, s->usual[i]);
        high = fmax(high, s->usual[i]);
        most = fmax(most, risk != NULL ? risk[i] : 0.0);
    }
    for (size_t i = 0; i < s->n && most > 0.0; i++)
        s->usual[i] -= forward_frac * (high - low) * risk[i] / most;
}

/* Where the search starts and returns to: the usual order with the risk brought forward, if that costs no more than a little. */
static void
start(Search *s, const double risk[])
{
    plan_latest(s->plan, s->rank);
    plan_settle(s->plan, s->rank, s->list);
    keep(s, try_list(s, s->list));
    double length = s->value.finish_min - s->plan->work->begin_min;
    s->slack_min = isfinite(length) ? worth_frac * fmax(0.0, length) : 0.0;
    usual_ranks(s, risk);
    plan_settle(s->plan, s->usual, s->list);
    Value value = try_list(s, s->list);
    if (!is_better(s->value, value, s->slack_min))
        keep(s, value);
    else
        memcpy(s->usual, s->rank, s->n * sizeof(double));
}

static void
find(Search *s, const PlanSearch *how)
{
    start(s, how->risk);
    Value usual = s->value;
    justify(s);
    if (s->replays > 3 * least_replays)
        populate(s, 2 * s->replays / 3, how->seed);
    if (is_better(s->value, usual, s->slack_min))
        straighten(s, s->slack_min / 2.0);
    else {
        plan_settle(s->plan, s->usual, s->list);
        keep(s, try_list(s, s->list));
    }
}

void
plan_find(const Plan *plan, const PlanSearch *how, uint32_t list[])
{
    size_t placements = how->placements > 0 ? how->placements : USUAL_PLACEMENTS;
    Search s = {.plan = plan, .n = plan->n, .best = list};
    s.replays = placements / (plan->n > 0 ? plan->n : 1);
    s.replays = s.replays > least_replays ? s.replays : least_replays;
    s.replay = plan_replay_new(plan, false);
    s.usual = fresh(plan->n, sizeof(double));
    s.rank = fresh(plan->n, sizeof(double));
    s.takes_h = fresh(plan->n, sizeof(double));
    s.hand_h = fresh(plan->work->n_hands, sizeof(double));
    for (size_t i = 0; i < plan->n; i++)
        s.takes_h[i] = plan_usual_min(plan, i) / 60.0;
    s.list = fresh(plan->n, sizeof(uint32_t));
    find(&s, how);
    plan_replay_free(s.replay);
    free(s.usual);
    free(s.rank);
    free(s.takes_h);
    free(s.hand_h);
    free(s.list);
}
