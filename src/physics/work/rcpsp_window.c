/* Windows under a deadline. Invariant: no schedule that meets the deadline is ever cut off. */
#include "physics/work/rcpsp_window.h"

#include <math.h>

#include "physics/work/rcpsp_parts.h"

#define BIT(i) (UINT64_C(1) << (i))

static int
lower(int a, int b)
{
    return a < b ? a : b;
}

static int
higher(int a, int b)
{
    return a > b ? a : b;
}

static void
apart_fill(RcpspWindow *w)
{
    for (size_t i = 0; i < w->n; i++)
        for (size_t j = 0; j < w->n; j++)
            for (size_t k = 0; k < RCPSP_KINDS; k++)
                if (i != j && w->lasts[i] > 0 && w->lasts[j] > 0 &&
                    w->need[i][k] + w->need[j][k] > w->capacity[k])
                    w->apart[i] |= BIT(j);
}

void
rcpsp_window(Rcpsp *project, double tick_h, int deadline, bool reversed, RcpspLags *lags,
             RcpspWindow *window)
{
    const Rcpsp *p = project;
    size_t list[WINDOW_TASKS];
    double key[WINDOW_TASKS] = {0.0};
    int side = reversed ? 1 : 0;
    *window = (RcpspWindow){.n = p->n, .deadline = deadline, .lags = lags};
    *lags = (RcpspLags){0};
    for (size_t k = 0; k < RCPSP_KINDS; k++)
        window->capacity[k] = (int) rcpsp_lane(p->capacity, k);
    task_list_by_key(p->lists, key, reversed, list);
    for (size_t place = 0; place < p->n; place++) {
        size_t i = list[place];
        window->lasts[i] = (int) lround(p->duration_h[i] / tick_h);
        window->late[i] = deadline - window->lasts[i];
        for (size_t k = 0; k < RCPSP_KINDS; k++)
            window->need[i][k] = (int) rcpsp_lane(p->need[i], k);
        for (size_t q = p->first[side][i]; q < p->first[side][i + 1]; q++) {
            size_t first = p->lead[side][q].task;
            short lag = (short) lround(p->lead[side][q].lag_h / tick_h);
            window->before[i] |= window->before[first] | BIT(first);
            lags->between[first][i] = (short) higher(lag, lags->between[first][i]);
            lags->most[first] = (short) higher(lag, lags->most[first]);
        }
    }
    apart_fill(window);
}

/* --- narrowing ------------------------------------------------------------------------------------------------------ */

/* first must be finished before then starts, and all that follows from it. */
static void
order(RcpspWindow *w, size_t first, size_t then)
{
    uint64_t all = w->before[first] | BIT(first);
    for (size_t i = 0; i < w->n; i++)
        if (i == then || (w->before[i] & BIT(then)) != 0)
            w->before[i] |= all;
}

static bool
by_order(RcpspWindow *w, bool *moved)
{
    for (size_t i = 0; i < w->n; i++)
        for (uint64_t rest = w->before[i]; rest != 0; rest &= rest - 1) {
            size_t first = (size_t) __builtin_ctzll(rest);
            int apart = w->lasts[first] + w->lags->between[first][i];
            int early = w->early[first] + apart, late = w->late[i] - apart;
            if (w->early[i] < early) {
                w->early[i] = early;
                *moved = true;
            }
            if (w->late[first] > late) {
                w->late[first] = late;
                *moved = true;
            }
        }
    for (size_t i = 0; i < w->n; i++)
        if (w->early[i] > w->late[i])
            return false;
    return true;
}

static bool
by_pairs(RcpspWindow *w, bool *moved)
{
    for (size_t i = 0; i < w->n; i++)
        for (uint64_t rest = w->apart[i] & ~w->before[i]; rest != 0; rest &= rest - 1) {
            size_t j = (size_t) __builtin_ctzll(rest);
            if ((w->before[j] & BIT(i)) != 0 || w->early[i] + w->lasts[i] <= w->late[j])
                continue;
            if (w->early[j] + w->lasts[j] > w->late[i])
                return false; /* neither can be first */
            order(w, j, i);
            *moved = true;
        }
    return true;
}

/* What of the task must fall between a and b, in ticks. */
static int
inside(const RcpspWindow *w, size_t i, int a, int b)
{
    int at_early = w->early[i] + w->lasts[i] - a, at_late = b - w->late[i];
    return higher(0, lower(lower(w->lasts[i], b - a), lower(at_early, at_late)));
}

static bool
stretch_holds(const RcpspWindow *w, int a, int b)
{
    int work[RCPSP_KINDS] = {0};
    for (size_t i = 0; i < w->n; i++) {
        int ticks = inside(w, i, a, b);
        for (size_t k = 0; k < RCPSP_KINDS; k++)
            work[k] += ticks * w->need[i][k];
    }
    for (size_t k = 0; k < RCPSP_KINDS; k++)
        if (work[k] > w->capacity[k] * (b - a))
            return false;
    return true;
}

static bool
energy_holds(const RcpspWindow *w)
{
    for (size_t i = 0; i < w->n; i++)
        for (size_t j = 0; j < w->n; j++) {
            int a = w->early[i], b = w->late[j] + w->lasts[j];
            if (w->lasts[i] > 0 && w->lasts[j] > 0 && a < b && !stretch_holds(w, a, b))
                return false;
        }
    return true;
}

bool
rcpsp_window_narrow(RcpspWindow *window)
{
    bool moved = true;
    while (moved) {
        moved = false;
        if (!by_order(window, &moved) || !by_pairs(window, &moved))
            return false;
    }
    return energy_holds(window);
}

/* --- trial ---------------------------------------------------------------------------------------------------------- */

static bool
start_possible(const RcpspWindow *w, size_t task, int at)
{
    RcpspWindow trial = *w;
    trial.early[task] = trial.late[task] = at;
    return rcpsp_window_narrow(&trial);
}

/* Starts tried at either end of a window in one go: where ticks are fine, a window is not worth shaving through. */
enum { TRIALS = 64 };

static bool
shave_task(RcpspWindow *w, size_t task, bool *moved)
{
    int early = w->early[task], late = w->late[task];
    for (int k = 0; k < TRIALS && early <= late && !start_possible(w, task, early); k++)
        early++;
    for (int k = 0; k < TRIALS && late > early && !start_possible(w, task, late); k++)
        late--;
    if (early == w->early[task] && late == w->late[task])
        return true;
    *moved = true;
    w->early[task] = early;
    w->late[task] = late;
    return early <= late && rcpsp_window_narrow(w);
}

static bool
shave_pair(RcpspWindow *w, size_t i, size_t j, bool *moved)
{
    RcpspWindow trial = *w;
    order(&trial, i, j);
    if (rcpsp_window_narrow(&trial))
        return true;
    order(w, j, i);
    *moved = true;
    return rcpsp_window_narrow(w);
}

static bool
shave_pairs(RcpspWindow *w, size_t i, bool *moved)
{
    for (size_t j = 0; j < w->n; j++)
        if ((w->apart[i] & BIT(j)) != 0 && (w->before[i] & BIT(j)) == 0 &&
            (w->before[j] & BIT(i)) == 0 && !shave_pair(w, i, j, moved))
            return false;
    return true;
}

bool
rcpsp_window_shave(RcpspWindow *window)
{
    bool moved = true;
    if (!rcpsp_window_narrow(window))
        return false;
    while (moved) {
        moved = false;
        for (size_t i = 0; i < window->n; i++)
            if (!shave_task(window, i, &moved) || !shave_pairs(window, i, &moved))
                return false;
    }
    return true;
}
