/* A list replayed. Invariant: when a task is placed, all that ties put before it is placed. */
#include <string.h>

#include "physics/memory.h"
#include "physics/work/plan_fit.h"

enum { MOST_REPAIRS = 100, MOST_TRIES = 1000 };

struct PlanReplay {
    const Plan *plan;
    PlanDates dates;
    bool keeps_pieces;
    size_t piece_room;
    int32_t *floor_min; /* of each start: raised where a greatest wait was not kept */
    int32_t *begins;    /* of each task in its first hand's open time */
    bool *placed;
    Busy *busy;
    Fit best, tried;
    size_t repairs;
    const int32_t *work_min;
    const PlanChance *chance;
};

PlanReplay *
plan_replay_new(const Plan *plan, bool pieces)
{
    PlanReplay *r = fresh(1, sizeof(PlanReplay));
    r->plan = plan;
    r->keeps_pieces = pieces;
    r->dates.n = plan->n;
    r->dates.place = fresh(plan->n, sizeof(PlanPlace));
    r->floor_min = fresh(plan->n, sizeof(int32_t));
    r->begins = fresh(plan->n, sizeof(int32_t));
    r->placed = fresh(plan->n, sizeof(bool));
    r->busy = fresh(plan->work->n_hands, sizeof(Busy));
    return r;
}

void
plan_replay_free(PlanReplay *r)
{
    if (r == NULL)
        return;
    for (size_t h = 0; h < r->plan->work->n_hands; h++)
        plan_busy_free(&r->busy[h]);
    free(r->busy);
    free(r->dates.place);
    free(r->dates.piece);
    free(r->floor_min);
    free(r->begins);
    free(r->placed);
    free(r->best.spell);
    free(r->tried.spell);
    free(r);
}

/* --- bounds -------------------------------------------------------------------------------------------------------------- */

/* What a task has to wait for: its start, and its end. */
typedef struct {
    int32_t start_min, finish_min;
    PlanWait driver;
    size_t driver_index, finish_tie;
} Bounds;

static int32_t
later_by(int32_t at_min, int32_t lag_min)
{
    int64_t sum = (int64_t) at_min + lag_min;
    return at_min == PLAN_NEVER || sum >= PLAN_NEVER ? PLAN_NEVER : (int32_t) sum;
}

static int32_t
over(const PlanTie *tie, int32_t at_min)
{
    if (tie->clock != NULL && at_min != PLAN_NEVER)
        return wait_clock_over(tie->clock, at_min, tie->lag_min);
    return later_by(at_min, tie->lag_min);
}

static void
start_after(Bounds *b, int32_t at_min, PlanWait driver, size_t index)
{
    if (at_min <= b->start_min)
        return;
    b->start_min = at_min;
    b->driver = driver;
    b->driver_index = index;
}

static void
heed_tie(const PlanReplay *r, uint32_t index, Bounds *b)
{
    const PlanTie *tie = &r->plan->work->tie[index];
    const PlanPlace *from = &r->dates.place[tie->from];
    bool from_finish = tie->kind == PLAN_FINISH_START || tie->kind == PLAN_FINISH_FINISH;
    int32_t at = over(tie, from_finish ? from->finish_min : from->start_min);
    if (tie->kind == PLAN_FINISH_START || tie->kind == PLAN_START_START)
        start_after(b, at, WAIT_FOR_TIE, index);
    else if (at > b->finish_min) {
        b->finish_min = at;
        b->finish_tie = index;
    }
}

/* A task whose follower is placed already may not end too long before it. */
static void
heed_limit(const PlanReplay *r, uint32_t index, Bounds *b)
{
    const PlanTie *tie = &r->plan->work->tie[index];
    const PlanPlace *to = &r->dates.place[tie->to];
    if (!r->placed[tie->to] || to->start_min == PLAN_NEVER)
        return;
    int32_t at = later_by(to->start_min, -tie->lag_min);
    if (at > b->finish_min) {
        b->finish_min = at;
        b->finish_tie = index;
    }
}

static Bounds
bounds_of(const PlanReplay *r, size_t task)
{
    const Plan *plan = r->plan;
    Bounds b = {
        .start_min = plan->work->begin_min, .finish_min = INT32_MIN, .finish_tie = PLAN_NONE};
    if (r->chance != NULL && r->chance->begin_min > b.start_min &&
        !plan->work->task[task].under_way)
        b.start_min = r->chance->begin_min;
    start_after(&b, plan->work->task[task].release_min, WAIT_FOR_RELEASE, task);
    for (uint32_t e = plan->in.from[task]; e < plan->in.from[task + 1]; e++)
        heed_tie(r, plan->in.at[e], &b);
    for (uint32_t e = plan->limits_from.from[task]; e < plan->limits_from.from[task + 1]; e++)
        heed_limit(r, plan->limits_from.at[e], &b);
    if (r->floor_min[task] > b.start_min)
        b.start_min = r->floor_min[task];
    return b;
}

/* --- spans --------------------------------------------------------------------------------------------------------------- */

/* The instant before which the task may not begin because of this span, when it would lie from start to finish; INT32_MIN: no matter. */
static int32_t
span_pushes(const PlanReplay *r, const PlanSpan *s, size_t task, int32_t start, int32_t finish)
{
    const PlanPlace *place = r->dates.place;
    if (task == s->other) {
        if (!r->placed[s->first] || finish <= place[s->first].start_min)
            return INT32_MIN;
        bool ended = s->last != PLAN_NONE && r->placed[s->last];
        if (!ended) /* for ever; or a list that no span allows, and the check says so */
            return s->last == PLAN_NONE ? PLAN_NEVER : INT32_MIN;
        int32_t end = later_by(place[s->last].finish_min, s->lag_min);
        return start < end ? end : INT32_MIN;
    }
    if (!r->placed[s->other])
        return INT32_MIN;
    const PlanPlace *other = &place[s->other];
    int32_t from = task == s->first ? start : place[s->first].start_min;
    bool clear = other->finish_min <= from;
    if (task == s->first && task == s->last)
        clear = clear || later_by(finish, s->lag_min) <= other->start_min;
    return clear || task != s->first ? INT32_MIN : other->finish_min;
}

static int32_t
spans_push(const PlanReplay *r, size_t task, int32_t start, int32_t finish, size_t *span)
{
    const Bundle *b = &r->plan->spans;
    for (uint32_t e = b->from[task]; e < b->from[task + 1]; e++) {
        int32_t at = span_pushes(r, &r->plan->work->span[b->at[e]], task, start, finish);
        if (at > start) {
            *span = b->at[e];
            return at;
        }
    }
    return INT32_MIN;
}

/* --- one task ------------------------------------------------------------------------------------------------------------ */

static void
fit_best(PlanReplay *r, size_t task, int32_t from_min, size_t *crew)
{
    const Plan *plan = r->plan;
    const PlanTask *t = &plan->work->task[task];
    const FitAsked asked = {t, from_min, r->work_min != NULL ? r->work_min[task] : t->work_min,
                            r->chance, plan->work->hand};
    uint32_t first = plan->joints.from[task];
    plan_fit(&plan->joint[plan->joints.at[first]], r->busy, &asked, &r->best);
    *crew = t->n_crews > 0 ? 0 : PLAN_NONE;
    for (uint32_t e = first + 1; e < plan->joints.from[task + 1]; e++) {
        plan_fit(&plan->joint[plan->joints.at[e]], r->busy, &asked, &r->tried);
        if (r->tried.finish_min < r->best.finish_min) {
            Fit kept = r->best;
            r->best = r->tried;
            r->tried = kept;
            *crew = e - first;
        }
    }
}

static void
explain(const Fit *fit, const Bounds *b, PlanPlace *p)
{
    p->driver = p->wait = b->driver;
    p->driver_index = p->wait_index = b->driver_index;
    if (fit->busy_hand != PLAN_NONE) {
        p->driver = WAIT_FOR_HAND;
        p->driver_index = fit->busy_hand;
    }
    if (fit->busy_hand != PLAN_NONE && fit->waited_last) {
        p->wait = WAIT_FOR_HAND;
        p->wait_index = fit->busy_hand;
    } else if (fit->start_min > b->start_min) {
        p->wait = WAIT_FOR_HOURS;
        p->wait_index = 0;
    }
}

static void
place(PlanReplay *r, size_t task)
{
    Bounds b = bounds_of(r, task);
    PlanPlace *p = &r->dates.place[task];
    size_t crew = PLAN_NONE, span;
    for (size_t tries = 0;; tries++) {
        fit_best(r, task, b.start_min, &crew);
        const Fit *f = &r->best;
        if (f->finish_min == PLAN_NEVER)
            break;
        if (f->finish_min < b.finish_min) {
            int32_t behind = b.finish_min - f->finish_min;
            int32_t at = tries < MOST_TRIES ? later_by(f->start_min, behind) : b.finish_min;
            start_after(&b, at, WAIT_FOR_TIE, b.finish_tie);
            continue;
        }
        int32_t at = spans_push(r, task, f->start_min, f->finish_min, &span);
        if (at == INT32_MIN)
            break;
        start_after(&b, at, WAIT_FOR_SPAN, span);
    }
    *p = (PlanPlace){.start_min = r->best.start_min,
                     .finish_min = r->best.finish_min,
                     .crew = r->best.finish_min == PLAN_NEVER ? PLAN_NONE : crew,
                     .ready_min = b.start_min,
                     .over_time = r->best.over_time};
    explain(&r->best, &b, p);
}

/* --- what is taken ------------------------------------------------------------------------------------------------------- */

static void
keep_piece(PlanReplay *r, size_t task, size_t hand, int32_t from_min, int32_t to_min)
{
    PlanDates *d = &r->dates;
    if (d->n_pieces == r->piece_room) {
        r->piece_room = 2 * r->piece_room + 64;
        d->piece = realloc(d->piece, r->piece_room * sizeof *d->piece);
        if (d->piece == NULL)
            abort();
    }
    d->piece[d->n_pieces++] = (PlanPiece){task, hand, from_min, to_min};
}

/* A stretch of a hand's own open time, opening by opening. */
static void
keep_own(PlanReplay *r, size_t task, size_t hand, int32_t from, int32_t to)
{
    const Calendar *c = r->plan->work->hand[hand];
    for (size_t i = 0; i < c->n && c->before_min[i] < to; i++) {
        int32_t a = from > c->before_min[i] ? from : c->before_min[i];
        int32_t b = to < c->before_min[i + 1] ? to : c->before_min[i + 1];
        if (a < b)
            keep_piece(r, task, hand, c->opens_min[i] + (a - c->before_min[i]),
                       c->opens_min[i] + (b - c->before_min[i]));
    }
}

static void
take(PlanReplay *r, size_t task)
{
    const Fit *f = &r->best;
    const Joint *j = f->joint;
    bool own =
        j->alone && !r->plan->work->task[task].unbroken && !r->plan->work->task[task].weather;
    r->begins[task] = f->begins;
    for (size_t s = 0; s < f->n; s++)
        for (size_t k = 0; k < j->crew.n; k++) {
            size_t hand = j->crew.hand[k];
            int32_t shift = own ? 0 : j->shift[k][f->spell[s].opening];
            plan_busy_add(&r->busy[hand], f->spell[s].from + shift, f->spell[s].to + shift,
                          (uint32_t) task);
            if (r->keeps_pieces && own)
                keep_own(r, task, hand, f->spell[s].from, f->spell[s].to);
            else if (r->keeps_pieces)
                keep_piece(r, task, hand, f->spell[s].from, f->spell[s].to);
        }
}

/* --- the list ------------------------------------------------------------------------------------------------------------ */

/* Raises the floor of the task whose greatest wait is passed; false when all are kept. */
static bool
breaks_limit(PlanReplay *r, size_t task)
{
    const Plan *plan = r->plan;
    int32_t start = r->dates.place[task].start_min;
    for (uint32_t e = plan->limits_to.from[task]; e < plan->limits_to.from[task + 1]; e++) {
        const PlanTie *tie = &plan->work->tie[plan->limits_to.at[e]];
        const PlanPlace *from = &r->dates.place[tie->from];
        if (!r->placed[tie->from] || from->finish_min == PLAN_NEVER || start == PLAN_NEVER)
            continue;
        int64_t excess = (int64_t) start - from->finish_min - tie->lag_min;
        if (excess <= 0)
            continue;
        if (r->repairs < MOST_REPAIRS) {
            r->floor_min[tie->from] = later_by(from->start_min, (int32_t) excess);
            return true;
        }
        if (r->dates.n_broken++ == 0)
            r->dates.broken_tie = plan->limits_to.at[e];
    }
    return false;
}

/* False when a floor was raised and all must be done again. */
static bool
run(PlanReplay *r, const uint32_t list[])
{
    size_t n = r->plan->n;
    memset(r->placed, 0, n * sizeof(bool));
    for (size_t h = 0; h < r->plan->work->n_hands; h++)
        plan_busy_clear(&r->busy[h]);
    r->dates.n_pieces = r->dates.n_broken = 0;
    r->dates.broken_tie = PLAN_NONE;
    for (size_t k = 0; k < n; k++) {
        size_t task = list[k];
        place(r, task);
        r->placed[task] = true;
        if (r->dates.place[task].finish_min == PLAN_NEVER)
            continue;
        take(r, task);
        if (breaks_limit(r, task))
            return false;
    }
    return true;
}

static void
sum_up(PlanReplay *r)
{
    const PlanWork *w = r->plan->work;
    PlanDates *d = &r->dates;
    d->finish_min = w->begin_min;
    d->late_min = 0;
    size_t n = w->n_targets > 0 ? w->n_targets : d->n;
    for (size_t i = 0; i < n; i++) {
        int32_t finish = d->place[w->n_targets > 0 ? w->target[i] : i].finish_min;
        d->finish_min = finish > d->finish_min ? finish : d->finish_min;
    }
    for (size_t i = 0; i < d->n; i++)
        if (d->place[i].finish_min > w->task[i].due_min)
            d->late_min += (int64_t) d->place[i].finish_min - w->task[i].due_min;
}

const PlanDates *
plan_replay(PlanReplay *r, const uint32_t list[], const int32_t work_min[],
            const PlanChance *chance)
{
    r->work_min = work_min;
    r->chance = chance;
    for (size_t i = 0; i < r->plan->n; i++)
        r->floor_min[i] = INT32_MIN;
    for (r->repairs = 0; !run(r, list); r->repairs++)
        ;
    sum_up(r);
    return &r->dates;
}

/* --- what drives the end ------------------------------------------------------------------------------------------------- */

/* The task that this one waited for; PLAN_NONE: none. */
static size_t
driver_of(const PlanReplay *r, size_t task)
{
    const PlanPlace *p = &r->dates.place[task];
    const PlanWork *w = r->plan->work;
    if (p->driver == WAIT_FOR_TIE)
        return w->tie[p->driver_index].to == task ? w->tie[p->driver_index].from
                                                  : w->tie[p->driver_index].to;
    if (p->driver == WAIT_FOR_SPAN) {
        const PlanSpan *s = &w->span[p->driver_index];
        return task == s->other ? s->last : s->other;
    }
    if (p->driver != WAIT_FOR_HAND || p->crew == PLAN_NONE)
        return PLAN_NONE;
    const Joint *j = &r->plan->joint[r->plan->joints.at[r->plan->joints.from[task] + p->crew]];
    int32_t begins = r->begins[task];
    for (size_t k = 0; k < j->crew.n; k++) {
        const Busy *b = &r->busy[j->crew.hand[k]];
        /* the first hand's begin stands for all when it is one; for others the wall time is turned */
        int32_t own = k == 0 ? begins : calendar_between(w->hand[j->crew.hand[k]], 0, p->start_min);
        uint32_t found = plan_busy_ends(b, own);
        if (found != UINT32_MAX && found != task)
            return found;
    }
    return PLAN_NONE;
}

void
plan_drivers(const PlanReplay *r, bool critical[])
{
    const PlanWork *w = r->plan->work;
    size_t n = w->n_targets > 0 ? w->n_targets : r->plan->n;
    memset(critical, 0, r->plan->n * sizeof(bool));
    for (size_t i = 0; i < n; i++) {
        size_t task = w->n_targets > 0 ? w->target[i] : i;
        if (r->dates.place[task].finish_min != r->dates.finish_min)
            continue;
        while (task != PLAN_NONE && !critical[task]) {
            critical[task] = true;
            task = driver_of(r, task);
        }
    }
}
