/* Exact schedules. Invariant: what is called proven has met a bound, or one tick less has been refuted. */
#include "physics/work/rcpsp_exact.h"

#include <math.h>
#include <string.h>

#include "physics/memory.h"
#include "physics/work/rcpsp_parts.h"
#include "physics/work/rcpsp_refute.h"
#include "physics/work/rcpsp_search.h"

enum { START_SCHEDULES = 2000, FIRST_STATES = 20000, ALL_STATES = 10000000, MOST_TICKS = 30000 };

/* --- ticks ---------------------------------------------------------------------------------------------------------- */

static bool
is_whole(double ticks)
{
    return fabs(ticks - round(ticks)) <= 1e-6;
}

static bool
divides(const Rcpsp *p, double tick_h)
{
    for (size_t i = 0; i < p->n; i++)
        if (!is_whole(p->duration_h[i] / tick_h))
            return false;
    for (size_t k = 0; k < p->first[1][p->n]; k++)
        if (!is_whole(p->lead[1][k].lag_h / tick_h))
            return false;
    return true;
}

static long
common(long a, long b)
{
    while (b != 0) {
        long rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}

/* The greatest tick all durations and lags are whole numbers of; 0 when whole seconds do not do, or there were too many. */
static double
tick_of(const Rcpsp *p, double longest_h)
{
    static const double finest[] = {1.0, 1.0 / 60.0, 1.0 / 3600.0};
    for (size_t k = 0; k < sizeof finest / sizeof finest[0]; k++) {
        if (!divides(p, finest[k]))
            continue;
        long all = 0;
        for (size_t i = 0; i < p->n; i++)
            all = common(lround(p->duration_h[i] / finest[k]), all);
        for (size_t q = 0; q < p->first[1][p->n]; q++)
            all = common(lround(p->lead[1][q].lag_h / finest[k]), all);
        double tick_h = (all > 0 ? (double) all : 1.0) * finest[k];
        return longest_h / tick_h < MOST_TICKS ? tick_h : 0.0;
    }
    return 0.0;
}

/* --- one deadline --------------------------------------------------------------------------------------------------- */

/* The same question forwards and backwards in time, which may differ much in difficulty. */
typedef struct {
    RcpspLags lags[2];
    RcpspWindow window[2];
    RcpspRefuter *refuter[2];
} Question;

/* false: the windows alone refute it. */
static bool
question_new(Rcpsp *p, double tick_h, int deadline, bool shave, Question *q)
{
    *q = (Question){0};
    for (int side = 0; side < 2; side++) {
        RcpspWindow *w = &q->window[side];
        rcpsp_window(p, tick_h, deadline, side == 1, &q->lags[side], w);
        if (!(shave ? rcpsp_window_shave(w) : rcpsp_window_narrow(w)))
            return false;
        q->refuter[side] = rcpsp_refuter_new(w);
    }
    return true;
}

static void
question_clear(Question *q)
{
    rcpsp_refuter_free(q->refuter[0]);
    rcpsp_refuter_free(q->refuter[1]);
}

static void
starts_take(const Rcpsp *p, double tick_h, int deadline, int side, const int start[],
            double start_h[])
{
    for (size_t i = 0; i < p->n; i++) {
        double from_h = start[i] * tick_h;
        start_h[i] = side == 0 ? from_h : deadline * tick_h - from_h - p->duration_h[i];
    }
}

/* Asks with more and more states; *left is what may still be looked at. */
static RefuteOutcome
question_ask(Rcpsp *p, double tick_h, int deadline, size_t *left, double start_h[])
{
    Question q;
    int start[WINDOW_TASKS];
    RefuteOutcome outcome = REFUTE_CUT;
    size_t states = FIRST_STATES;
    for (int shave = 0; shave < 2 && outcome == REFUTE_CUT; shave++) {
        if (!question_new(p, tick_h, deadline, shave == 1, &q))
            outcome = REFUTE_NONE;
        while (outcome == REFUTE_CUT && *left > 0) {
            for (int side = 0; side < 2 && outcome == REFUTE_CUT; side++) {
                outcome = rcpsp_refute(q.refuter[side], states, start);
                if (outcome == REFUTE_FOUND)
                    starts_take(p, tick_h, deadline, side, start, start_h);
            }
            *left -= 2 * states < *left ? 2 * states : *left;
            if (shave == 0)
                break;
            states *= 2;
        }
        question_clear(&q);
    }
    return outcome;
}

/* A state takes longer the finer the ticks are: the time of all of them stays about the same. */
static size_t
usual_states(double longest_h, double tick_h)
{
    double ticks = tick_h > 0.0 ? longest_h / tick_h : 0.0;
    return (size_t) (ALL_STATES * fmin(1.0, 100.0 / fmax(ticks, 1.0)));
}

double
rcpsp_exact(Rcpsp *project, size_t states, size_t list[], double start_h[], bool *proven)
{
    Rcpsp *p = project;
    double best_h = rcpsp_search(p, START_SCHEDULES, 1, list, start_h, NULL);
    double bound_h = rcpsp_bound(p), tick_h = tick_of(p, best_h);
    size_t left = states > 0 ? states : usual_states(best_h, tick_h);
    *proven = best_h <= bound_h + 1e-9;
    bool decidable = p->n <= WINDOW_TASKS && tick_h > 0.0;
    while (decidable && !*proven) {
        RefuteOutcome outcome =
            question_ask(p, tick_h, (int) lround(best_h / tick_h) - 1, &left, start_h);
        if (outcome == REFUTE_CUT)
            break;
        *proven = outcome == REFUTE_NONE;
        best_h = 0.0;
        for (size_t i = 0; i < p->n; i++)
            best_h = fmax(best_h, start_h[i] + p->duration_h[i]);
    }
    task_list_by_key(p->lists, start_h, false, list);
    return best_h;
}
