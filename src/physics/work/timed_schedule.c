/* Branch and bound on the order of tasks that cannot run together. Invariant: the starts of a node are the earliest that its arcs, the
 * releases and the windows allow, so that where they keep the capacities no schedule of that node is shorter. */
#include "physics/work/timed_schedule.h"

#include <math.h>
#include <string.h>

#include "physics/memory.h"

#define BIT(i) (UINT64_C(1) << (i))
static const double same_h = 1e-9, better_h = 1e-7;
enum { ALL_NODES = 200000, MOST_ARCS = 8192 };

/* S_to >= S_from + at_least. */
typedef struct {
    size_t from, to;
    double at_least_h;
} Arc;

typedef struct {
    double early_h[TIMED_TASKS], late_h[TIMED_TASKS];
    uint64_t before[TIMED_TASKS]; /* what an arc lets finish first */
    size_t arcs;
} Node;

typedef struct {
    const TimedGiven *given;
    size_t n, left;
    Arc *arc;
    uint64_t apart[TIMED_TASKS]; /* cannot run at the same time */
    double best_h, *start_h;
    bool cut;
} Search;

/* --- arcs ----------------------------------------------------------------------------------------------------------- */

static void
arc_add(Search *s, Node *node, size_t from, size_t to, double at_least_h)
{
    if (node->arcs == MOST_ARCS) {
        s->cut = true;
        return;
    }
    s->arc[node->arcs++] = (Arc){from, to, at_least_h};
}

static void
put_before(Search *s, Node *node, size_t first, size_t then)
{
    if ((node->before[then] & BIT(first)) != 0)
        return;
    node->before[then] |= BIT(first);
    arc_add(s, node, first, then, s->given->duration_h[first]);
}

static void
tie_add(Search *s, Node *node, const Tie *tie)
{
    double first_h = s->given->duration_h[tie->from], then_h = s->given->duration_h[tie->to];
    switch (tie->kind) {
    case TIE_FINISH_START:
        arc_add(s, node, tie->from, tie->to, first_h + tie->lag_h);
        if (tie->lag_h >= 0.0)
            node->before[tie->to] |= BIT(tie->from);
        break;
    case TIE_START_START:
        arc_add(s, node, tie->from, tie->to, tie->lag_h);
        break;
    case TIE_FINISH_FINISH:
        arc_add(s, node, tie->from, tie->to, first_h + tie->lag_h - then_h);
        break;
    case TIE_START_FINISH:
        arc_add(s, node, tie->from, tie->to, tie->lag_h - then_h);
        break;
    case TIE_NO_LATER:
        arc_add(s, node, tie->to, tie->from, -(first_h + tie->lag_h));
        break;
    case TIE_APART: /* branched on */
        break;
    }
}

/* --- settling a node ------------------------------------------------------------------------------------------------ */

static bool
by_arcs(const Search *s, Node *node)
{
    bool moved = false;
    for (size_t k = 0; k < node->arcs; k++) {
        const Arc *arc = &s->arc[k];
        double early_h = node->early_h[arc->from] + arc->at_least_h;
        double late_h = node->late_h[arc->to] - arc->at_least_h;
        if (node->early_h[arc->to] < early_h - same_h) {
            node->early_h[arc->to] = early_h;
            moved = true;
        }
        if (node->late_h[arc->from] > late_h + same_h) {
            node->late_h[arc->from] = late_h;
            moved = true;
        }
    }
    return moved;
}

/* The earliest start from early_h on inside a window of the task; INFINITY when there is none. */
static double
window_start(const TimedGiven *g, size_t task, double early_h)
{
    bool any = false;
    double best_h = INFINITY;
    for (size_t k = 0; k < g->windows; k++) {
        const TimedWindow *w = &g->window[k];
        if (w->task != task)
            continue;
        any = true;
        double start_h = fmax(early_h, w->opens_h);
        if (start_h + g->duration_h[task] <= w->closes_h + same_h)
            best_h = fmin(best_h, start_h);
    }
    return any ? best_h : early_h;
}

static bool
by_windows(const Search *s, Node *node)
{
    bool moved = false;
    for (size_t i = 0; s->given->windows > 0 && i < s->n; i++) {
        double start_h = window_start(s->given, i, node->early_h[i]);
        if (start_h <= node->early_h[i] + same_h)
            continue;
        node->early_h[i] = start_h;
        moved = true;
    }
    return moved;
}

/* Of two that cannot run together, one that cannot be first comes second. */
static bool
by_pairs(Search *s, Node *node)
{
    bool moved = false;
    for (size_t i = 0; i < s->n; i++)
        for (uint64_t rest = s->apart[i] & ~node->before[i]; rest != 0; rest &= rest - 1) {
            size_t j = (size_t) __builtin_ctzll(rest);
            if ((node->before[j] & BIT(i)) != 0 ||
                node->early_h[i] + s->given->duration_h[i] <= node->late_h[j] + same_h)
                continue;
            put_before(s, node, j, i);
            moved = true;
        }
    return moved;
}

static bool
is_empty(const Search *s, const Node *node)
{
    for (size_t i = 0; i < s->n; i++)
        if (!(node->early_h[i] <= node->late_h[i] + same_h) || isinf(node->early_h[i]))
            return true;
    return false;
}

/* What must be done between a and b, whatever happens, against the capacity there. */
static bool
stretch_holds(const Search *s, const Node *node, double a_h, double b_h)
{
    double work[RCPSP_KINDS] = {0.0};
    for (size_t i = 0; i < s->n; i++) {
        double lasts_h = s->given->duration_h[i];
        double inside_h = fmin(fmin(lasts_h, b_h - a_h),
                               fmin(node->early_h[i] + lasts_h - a_h, b_h - node->late_h[i]));
        for (size_t k = 0; inside_h > 0.0 && k < RCPSP_KINDS; k++)
            work[k] += inside_h * s->given->need[i][k];
    }
    for (size_t k = 0; k < RCPSP_KINDS; k++)
        if (work[k] > s->given->capacity[k] * (b_h - a_h) + better_h)
            return false;
    return true;
}

static bool
work_holds(const Search *s, const Node *node)
{
    for (size_t i = 0; i < s->n; i++)
        for (size_t j = 0; j < s->n; j++) {
            double a_h = node->early_h[i], b_h = node->late_h[j] + s->given->duration_h[j];
            if (a_h < b_h && isfinite(b_h) && !stretch_holds(s, node, a_h, b_h))
                return false;
        }
    return true;
}

/* false: nothing shorter than the best lies here. */
static bool
settle(Search *s, Node *node)
{
    size_t rounds = s->n + s->given->windows + MOST_ARCS / 8;
    for (size_t i = 0; i < s->n; i++)
        node->late_h[i] = fmin(node->late_h[i], s->best_h - better_h - s->given->duration_h[i]);
    for (bool moved = true; moved && !s->cut; rounds--) {
        moved = by_arcs(s, node);
        moved = by_windows(s, node) || moved;
        if (is_empty(s, node) || rounds == 0)
            return false; /* without an end to it: a loop that only gains */
        moved = by_pairs(s, node) || moved;
    }
    return !s->cut && work_holds(s, node);
}

/* --- conflicts ------------------------------------------------------------------------------------------------------ */

static uint64_t
running_at(const Search *s, const Node *node, double at_h)
{
    uint64_t set = 0;
    for (size_t i = 0; i < s->n; i++)
        if (node->early_h[i] <= at_h + same_h &&
            node->early_h[i] + s->given->duration_h[i] > at_h + same_h)
            set |= BIT(i);
    return set;
}

static unsigned
need_of(const Search *s, uint64_t set, size_t kind)
{
    unsigned sum = 0;
    for (; set != 0; set &= set - 1)
        sum += s->given->need[__builtin_ctzll(set)][kind];
    return sum;
}

/* Tasks are left out as long as the rest still cannot run together. */
static uint64_t
least_set(const Search *s, uint64_t set, size_t kind)
{
    for (uint64_t rest = set; rest != 0; rest &= rest - 1) {
        uint64_t without = set & ~(rest & -rest);
        if (need_of(s, without, kind) > s->given->capacity[kind])
            set = without;
    }
    return set;
}

/* A set of tasks that meet at the earliest instant at which too many do, small as can be; 0 when the starts keep the capacities. */
static uint64_t
conflict(const Search *s, const Node *node)
{
    uint64_t found = 0;
    double at_h = INFINITY;
    for (size_t i = 0; i < s->n; i++) {
        if (node->early_h[i] >= at_h || s->given->duration_h[i] == 0.0)
            continue;
        uint64_t set = running_at(s, node, node->early_h[i]);
        for (size_t kind = 0; kind < RCPSP_KINDS; kind++)
            if (need_of(s, set, kind) > s->given->capacity[kind]) {
                found = least_set(s, set, kind);
                at_h = node->early_h[i];
                break;
            }
    }
    return found;
}

static const Tie *
apart_broken(const Search *s, const Node *node)
{
    const TaskNetwork *net = &s->given->net;
    for (size_t k = 0; k < net->ties; k++) {
        const Tie *tie = &net->tie[k];
        double after_h = node->early_h[tie->to] -
                         (node->early_h[tie->from] + s->given->duration_h[tie->from] + tie->lag_h);
        double ahead_h =
            node->early_h[tie->from] - (node->early_h[tie->to] + s->given->duration_h[tie->to]);
        if (tie->kind == TIE_APART && after_h < -same_h && ahead_h < -same_h)
            return tie;
    }
    return NULL;
}

/* --- the search ----------------------------------------------------------------------------------------------------- */

static void explore(Search *s, Node node);

static void
branch_apart(Search *s, const Node *node, const Tie *tie)
{
    Node after = *node, ahead = *node;
    arc_add(s, &after, tie->from, tie->to, s->given->duration_h[tie->from] + tie->lag_h);
    explore(s, after);
    arc_add(s, &ahead, tie->to, tie->from, s->given->duration_h[tie->to]);
    explore(s, ahead);
}

/* How much room an order of two would leave. */
static double
room(const Search *s, const Node *node, size_t first, size_t then)
{
    return node->late_h[then] - node->early_h[first] - s->given->duration_h[first];
}

/* Some two of the set do not overlap in any schedule: every order of two is tried, the one with most room first. */
static void
branch_set(Search *s, const Node *node, uint64_t set)
{
    uint64_t tried[TIMED_TASKS] = {0};
    for (;;) {
        size_t first = s->n, then = s->n;
        for (uint64_t a = set; a != 0; a &= a - 1)
            for (uint64_t b = set; b != 0; b &= b - 1) {
                size_t i = (size_t) __builtin_ctzll(a), j = (size_t) __builtin_ctzll(b);
                if (i != j && (tried[i] & BIT(j)) == 0 &&
                    (first == s->n || room(s, node, i, j) > room(s, node, first, then))) {
                    first = i;
                    then = j;
                }
            }
        if (first == s->n)
            return;
        tried[first] |= BIT(then);
        Node next = *node;
        put_before(s, &next, first, then);
        explore(s, next);
    }
}

static double
makespan(const Search *s, const Node *node)
{
    double end_h = 0.0;
    for (size_t i = 0; i < s->n; i++)
        end_h = fmax(end_h, node->early_h[i] + s->given->duration_h[i]);
    return end_h;
}

static void
explore(Search *s, Node node)
{
    if (s->cut || s->left == 0) {
        s->cut = true;
        return;
    }
    s->left--;
    if (!settle(s, &node))
        return;
    const Tie *apart = apart_broken(s, &node);
    uint64_t set = conflict(s, &node);
    if (apart != NULL) {
        branch_apart(s, &node, apart);
    } else if (set != 0) {
        branch_set(s, &node, set);
    } else {
        s->best_h = makespan(s, &node);
        memcpy(s->start_h, node.early_h, s->n * sizeof node.early_h[0]);
    }
}

static void
apart_fill(Search *s)
{
    const TimedGiven *g = s->given;
    for (size_t i = 0; i < s->n; i++)
        for (size_t j = 0; j < s->n; j++)
            for (size_t k = 0; k < RCPSP_KINDS; k++)
                if (i != j && g->duration_h[i] > 0.0 && g->duration_h[j] > 0.0 &&
                    g->need[i][k] + g->need[j][k] > g->capacity[k])
                    s->apart[i] |= BIT(j);
}

double
timed_schedule(const TimedGiven *given, size_t nodes, double best_h, double start_h[], bool *proven)
{
    Search s = {.given = given,
                .n = given->net.n,
                .left = nodes > 0 ? nodes : ALL_NODES,
                .arc = fresh(MOST_ARCS, sizeof(Arc)),
                .best_h = best_h,
                .start_h = start_h};
    Node root = {.arcs = 0};
    *proven = false;
    if (s.n <= TIMED_TASKS) {
        apart_fill(&s);
        for (size_t i = 0; i < s.n; i++) {
            double due_h = given->due_h != NULL ? given->due_h[i] : INFINITY;
            double release_h = given->net.release_h != NULL ? given->net.release_h[i] : 0.0;
            root.early_h[i] = fmax(0.0, release_h);
            root.late_h[i] = due_h - given->duration_h[i];
        }
        for (size_t k = 0; k < given->net.ties; k++)
            tie_add(&s, &root, &given->net.tie[k]);
        explore(&s, root);
        *proven = !s.cut;
    }
    free(s.arc);
    return s.best_h;
}
