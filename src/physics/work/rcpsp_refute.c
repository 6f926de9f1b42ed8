/* Search in the order of time. Invariant: were there a schedule that keeps the windows, one would be found. Take the one whose starts,
 * sorted from the last, are the least in lexical order. No left shift drops it, for that would lessen them. If a state refuted before
 * stands for one of its states, the tasks not yet begun may follow that state at the same instants: the starts from the last agree up
 * to there, so again no left shift of those tasks drops what follows, and one goes on with what was refuted before that; this ends. */
#include "physics/work/rcpsp_refute.h"

#include <string.h>

#include "physics/memory.h"

#define BIT(i) (UINT64_C(1) << (i))

/* Kinds of capacity, and sets of tasks of which only one can run at a time as further kinds. */
enum { LANES = 12, MOST_OPEN = 16, MOST_KEPT = 1 << 20, BUCKETS = 1 << 20 };

/* A refuted state. */
typedef struct {
    uint64_t begun, open; /* open: running, or waited for by a lag */
    int now;
    short finish[MOST_OPEN]; /* of the open ones, lowest number first */
    unsigned next;           /* 0: none */
} Kept;

struct RcpspRefuter {
    RcpspWindow w;
    int lane[WINDOW_TASKS][LANES], capacity[LANES];
    int (*use)
        [LANES]; /* [deadline + 1]: begun tasks where they run, the others as late as they may */
    int free[LANES]; /* now */
    int start[WINDOW_TASKS], finish[WINDOW_TASKS];
    size_t order[WINDOW_TASKS]; /* what comes before stands before */
    uint64_t all;
    Kept *kept;
    size_t n_kept, room;
    unsigned *bucket;
    size_t states, limit;
};

/* A place in time. */
typedef struct {
    uint64_t begun, done, put_off, barred;
    int now;
} State;

/* --- making ready --------------------------------------------------------------------------------------------------- */

/* A set of tasks that exclude each other, grown around one, the longest that still goes first. */
static uint64_t
clique_around(const RcpspWindow *w, size_t seed)
{
    uint64_t clique = BIT(seed), left = w->apart[seed];
    while (left != 0) {
        size_t best = (size_t) __builtin_ctzll(left);
        for (uint64_t rest = left; rest != 0; rest &= rest - 1) {
            size_t i = (size_t) __builtin_ctzll(rest);
            int more = __builtin_popcountll(w->apart[i] & left) -
                       __builtin_popcountll(w->apart[best] & left);
            if (more > 0 || (more == 0 && w->lasts[i] > w->lasts[best]))
                best = i;
        }
        clique |= BIT(best);
        left &= w->apart[best];
    }
    return clique;
}

static int
set_lasts(const RcpspWindow *w, uint64_t set)
{
    int sum = 0;
    for (; set != 0; set &= set - 1)
        sum += w->lasts[__builtin_ctzll(set)];
    return sum;
}

/* The longest different cliques become lanes. */
static void
cliques_fill(RcpspRefuter *r)
{
    uint64_t clique[WINDOW_TASKS];
    size_t n = 0;
    for (size_t i = 0; i < r->w.n; i++) {
        uint64_t own = clique_around(&r->w, i);
        bool known = __builtin_popcountll(own) < 2;
        for (size_t k = 0; k < n && !known; k++)
            known = clique[k] == own;
        if (!known)
            clique[n++] = own;
    }
    for (size_t lane = RCPSP_KINDS; lane < LANES && n > 0; lane++) {
        size_t best = 0;
        for (size_t k = 1; k < n; k++)
            if (set_lasts(&r->w, clique[k]) > set_lasts(&r->w, clique[best]))
                best = k;
        for (uint64_t rest = clique[best]; rest != 0; rest &= rest - 1)
            r->lane[__builtin_ctzll(rest)][lane] = 1;
        clique[best] = clique[--n];
    }
}

static void
use_move(RcpspRefuter *r, size_t task, int from, int sign)
{
    for (int x = from; x < from + r->w.lasts[task]; x++)
        for (size_t k = 0; k < LANES; k++)
            r->use[x][k] += sign * r->lane[task][k];
}

RcpspRefuter *
rcpsp_refuter_new(const RcpspWindow *window)
{
    RcpspRefuter *r = fresh(1, sizeof *r);
    r->w = *window;
    r->use = fresh((size_t) window->deadline + 1, sizeof *r->use);
    r->bucket = fresh(BUCKETS, sizeof *r->bucket);
    r->n_kept = 1; /* 0 is none */
    r->room = 1024;
    r->kept = fresh(r->room, sizeof *r->kept);
    r->all = window->n == 64 ? ~UINT64_C(0) : BIT(window->n) - 1;
    size_t placed = 0;
    for (uint64_t done = 0; placed < window->n;)
        for (size_t i = 0; i < window->n; i++)
            if ((done & BIT(i)) == 0 && (window->before[i] & ~done) == 0) {
                done |= BIT(i);
                r->order[placed++] = i;
            }
    for (size_t k = 0; k < LANES; k++)
        r->capacity[k] = k < RCPSP_KINDS ? window->capacity[k] : 1;
    for (size_t i = 0; i < window->n; i++)
        for (size_t k = 0; k < RCPSP_KINDS; k++)
            r->lane[i][k] = window->need[i][k];
    cliques_fill(r);
    for (size_t i = 0; i < window->n; i++)
        use_move(r, i, window->late[i], 1);
    return r;
}

void
rcpsp_refuter_free(RcpspRefuter *refuter)
{
    if (refuter == NULL)
        return;
    free(refuter->use);
    free(refuter->bucket);
    free(refuter->kept);
    free(refuter);
}

/* --- states refuted before ------------------------------------------------------------------------------------------ */

static unsigned *
bucket_of(const RcpspRefuter *r, uint64_t begun)
{
    return &r->bucket[(begun * UINT64_C(0x9e3779b97f4a7c15)) >> 44];
}

/* Whether what the kept state could not do, this one cannot either. */
static bool
stands_for(const RcpspRefuter *r, const Kept *kept, const State *s)
{
    if (kept->begun != s->begun || kept->now > s->now)
        return false;
    size_t k = 0;
    for (uint64_t rest = kept->open; rest != 0; rest &= rest - 1, k++) {
        size_t i = (size_t) __builtin_ctzll(rest);
        int over =
            s->now - r->w.lags->most[i]; /* a finish until then makes no difference any more */
        if (kept->finish[k] > (r->finish[i] > over ? r->finish[i] : over))
            return false;
    }
    return true;
}

static bool
is_refuted(const RcpspRefuter *r, const State *s)
{
    for (unsigned k = *bucket_of(r, s->begun); k != 0; k = r->kept[k].next)
        if (stands_for(r, &r->kept[k], s))
            return true;
    return false;
}

static void
keep(RcpspRefuter *r, const State *s)
{
    uint64_t open = 0;
    for (uint64_t rest = s->begun; rest != 0; rest &= rest - 1) {
        size_t i = (size_t) __builtin_ctzll(rest);
        open |= r->finish[i] + r->w.lags->most[i] > s->now ? BIT(i) : 0;
    }
    if (__builtin_popcountll(open) > MOST_OPEN || r->n_kept >= MOST_KEPT)
        return;
    if (r->n_kept == r->room) {
        Kept *more = fresh(2 * r->room, sizeof *more);
        memcpy(more, r->kept, r->room * sizeof *more);
        free(r->kept);
        r->kept = more;
        r->room *= 2;
    }
    unsigned *bucket = bucket_of(r, s->begun);
    Kept *kept = &r->kept[r->n_kept];
    *kept = (Kept){s->begun, open, s->now, {0}, *bucket};
    size_t k = 0;
    for (uint64_t rest = open; rest != 0; rest &= rest - 1)
        kept->finish[k++] = (short) r->finish[__builtin_ctzll(rest)];
    *bucket = (unsigned) r->n_kept++;
}

/* --- bounds --------------------------------------------------------------------------------------------------------- */

/* Everything not begun, as early as it may: does it still meet its window? */
static bool
windows_hold(const RcpspRefuter *r, const State *s)
{
    const RcpspWindow *w = &r->w;
    int early[WINDOW_TASKS];
    for (size_t k = 0; k < w->n; k++) {
        size_t i = r->order[k];
        if ((s->begun & BIT(i)) != 0)
            continue;
        int at = s->now > w->early[i] ? s->now : w->early[i];
        for (uint64_t rest = w->before[i] & ~s->done; rest != 0; rest &= rest - 1) {
            size_t first = (size_t) __builtin_ctzll(rest);
            int finish =
                (s->begun & BIT(first)) != 0 ? r->finish[first] : early[first] + w->lasts[first];
            at = finish > at ? finish : at;
        }
        if (at > w->late[i])
            return false;
        early[i] = at;
    }
    return true;
}

/* Even if every task not begun went as late as it may, what must be done by any instant must fit into the capacity until then. */
static bool
work_fits(const RcpspRefuter *r, int now)
{
    int slack[LANES] = {0};
    for (int x = now; x < r->w.deadline; x++) {
        int least = 0;
        for (size_t k = 0; k < LANES; k++) {
            slack[k] += r->capacity[k] - r->use[x][k];
            least |= slack[k];
        }
        if (least < 0)
            return false;
    }
    return true;
}

/* --- the search ----------------------------------------------------------------------------------------------------- */

static bool
fits(const RcpspRefuter *r, size_t task)
{
    int lacks = 0;
    if (r->w.lasts[task] == 0)
        return true;
    for (size_t k = 0; k < RCPSP_KINDS; k++)
        lacks |= r->free[k] - r->lane[task][k];
    return lacks >= 0;
}

static void
take(RcpspRefuter *r, size_t task, int sign)
{
    for (size_t k = 0; r->w.lasts[task] > 0 && k < RCPSP_KINDS; k++)
        r->free[k] -= sign * r->lane[task][k];
}

/* When all that the task waits for lets it start. All that must be begun. */
static int
ready_at(const RcpspRefuter *r, size_t task)
{
    int at = r->w.early[task];
    for (uint64_t rest = r->w.before[task]; rest != 0; rest &= rest - 1) {
        size_t first = (size_t) __builtin_ctzll(rest);
        int free = r->finish[first] + r->w.lags->between[first][task];
        at = free > at ? free : at;
    }
    return at;
}

/* Tasks that may start now as far as others are concerned. */
static uint64_t
ready(const RcpspRefuter *r, const State *s)
{
    uint64_t set = 0;
    for (uint64_t rest = r->all & ~s->begun; rest != 0; rest &= rest - 1) {
        size_t i = (size_t) __builtin_ctzll(rest);
        if ((r->w.before[i] & ~s->done) == 0 && ready_at(r, i) <= s->now)
            set |= BIT(i);
    }
    return set;
}

/* The one to decide about: it fits, and its window closes first. r->w.n when there is none. */
static size_t
candidate(const RcpspRefuter *r, uint64_t set)
{
    size_t best = r->w.n;
    for (; set != 0; set &= set - 1) {
        size_t i = (size_t) __builtin_ctzll(set);
        if (fits(r, i) && (best == r->w.n || r->w.late[i] < r->w.late[best]))
            best = i;
    }
    return best;
}

static RefuteOutcome decide(RcpspRefuter *r, State s);

/* The next instant at which something finishes or becomes ready, and what is done then; false when there is none. */
static bool
next_instant(RcpspRefuter *r, const State *s, State *next)
{
    *next = *s;
    next->now = r->w.deadline + 1;
    for (uint64_t rest = s->begun & ~s->done; rest != 0; rest &= rest - 1) {
        int finish = r->finish[__builtin_ctzll(rest)];
        next->now = finish < next->now ? finish : next->now;
    }
    for (uint64_t rest = r->all & ~s->begun; rest != 0; rest &= rest - 1) {
        size_t i = (size_t) __builtin_ctzll(rest);
        int at = (r->w.before[i] & ~s->begun) == 0 ? ready_at(r, i) : 0;
        next->now = at > s->now && at < next->now ? at : next->now;
    }
    for (uint64_t rest = s->begun & ~s->done; rest != 0; rest &= rest - 1) {
        size_t i = (size_t) __builtin_ctzll(rest);
        if (r->finish[i] <= next->now)
            next->done |= BIT(i);
    }
    return next->now <= r->w.deadline;
}

/* Nothing more starts now: what could have run until the next instant may not start then, and a whole run missed is one too many. */
static RefuteOutcome
advance(RcpspRefuter *r, const State *s, uint64_t could)
{
    State next;
    if (!next_instant(r, s, &next))
        return REFUTE_NONE;
    next.put_off = next.barred = 0;
    for (uint64_t rest = could; rest != 0; rest &= rest - 1) {
        size_t i = (size_t) __builtin_ctzll(rest);
        if (!fits(r, i))
            continue;
        if (r->w.lasts[i] <= next.now - s->now)
            return REFUTE_NONE;
        next.barred |= BIT(i);
    }
    if (!windows_hold(r, &next) || !work_fits(r, next.now) || is_refuted(r, &next))
        return REFUTE_NONE;
    uint64_t over = next.done & ~s->done;
    for (uint64_t rest = over; rest != 0; rest &= rest - 1)
        take(r, (size_t) __builtin_ctzll(rest), -1);
    RefuteOutcome outcome = decide(r, next);
    for (uint64_t rest = over; rest != 0; rest &= rest - 1)
        take(r, (size_t) __builtin_ctzll(rest), 1);
    if (outcome == REFUTE_NONE)
        keep(r, &next);
    return outcome;
}

static RefuteOutcome
begin(RcpspRefuter *r, const State *s, size_t task)
{
    State next = *s;
    next.begun |= BIT(task);
    if (r->w.lasts[task] == 0)
        next.done |= BIT(task);
    r->start[task] = s->now;
    r->finish[task] = s->now + r->w.lasts[task];
    take(r, task, 1);
    use_move(r, task, r->w.late[task], -1);
    use_move(r, task, s->now, 1);
    RefuteOutcome outcome = decide(r, next);
    use_move(r, task, s->now, -1);
    use_move(r, task, r->w.late[task], 1);
    take(r, task, -1);
    return outcome;
}

static RefuteOutcome
decide(RcpspRefuter *r, State s)
{
    if (s.begun == r->all)
        return REFUTE_FOUND;
    if (++r->states > r->limit)
        return REFUTE_CUT;
    uint64_t could = ready(r, &s);
    for (;;) {
        size_t task = candidate(r, could & ~s.put_off & ~s.barred);
        if (task == r->w.n)
            return advance(r, &s, could);
        RefuteOutcome outcome = begin(r, &s, task);
        if (outcome != REFUTE_NONE || r->w.late[task] <= s.now || r->w.lasts[task] == 0)
            return outcome;
        s.put_off |= BIT(task);
    }
}

RefuteOutcome
rcpsp_refute(RcpspRefuter *refuter, size_t states, int start[])
{
    RcpspRefuter *r = refuter;
    r->states = 0;
    r->limit = states;
    memcpy(r->free, r->capacity, sizeof r->free);
    if (!work_fits(r, 0))
        return REFUTE_NONE;
    RefuteOutcome outcome = decide(r, (State){0});
    if (outcome == REFUTE_FOUND)
        memcpy(start, r->start, r->w.n * sizeof start[0]);
    return outcome;
}
