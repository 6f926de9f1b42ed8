/* Dates, spells and reasons of each task. Invariant: every open task is listed, and says why it begins when it does. */
#include <math.h>
#include <string.h>

#include "base/date.h"
#include "physics/work/dates.h"
#include "study/work_forecast_parts.h"

enum { SWAY_TRIALS = 4000 };

/* --- why ------------------------------------------------------------------------------------------------------------------------- */

static const char *
name_of(const Reckoning *r, size_t i)
{
    const WorkModel *m = r->model;
    return m->task[i] != NO_TASK ? m->plan->task[m->task[i]].name
                                 : m->plan->purchase[m->purchase[i]].name;
}

static void
say(const Reckoning *r, ForecastTask *t, WorkAwaits awaits, size_t by, const char *why)
{
    t->awaits = awaits;
    t->by = by;
    t->why = work_forecast_text(r->out, "%s", why);
}

static void
awaits_tie(const Reckoning *r, size_t i, size_t index, ForecastTask *t)
{
    const WorkModel *m = r->model;
    size_t stated = m->tie[index];
    size_t other = m->work.tie[index].to == i ? m->work.tie[index].from : m->work.tie[index].to;
    if (m->task[other] == NO_TASK) {
        g_autofree char *text = g_strdup_printf("%s has to be delivered first", name_of(r, other));
        say(r, t, AWAITS_DELIVERY, m->purchase[other], text);
        return;
    }
    const char *why = stated != NO_TASK ? work_tie_reason(&m->plan->tie[stated]) : NULL;
    g_autofree char *text =
        why != NULL ? g_strdup_printf("after \u201c%s\u201d: %s", name_of(r, other), why)
                    : g_strdup_printf("after \u201c%s\u201d", name_of(r, other));
    say(r, t, AWAITS_TASK, m->task[other], text);
}

static void
awaits_span(const Reckoning *r, size_t i, size_t index, ForecastTask *t)
{
    const WorkModel *m = r->model;
    const PlanSpan *span = &m->work.span[index];
    size_t other = span->other != i          ? span->other
                   : span->last != PLAN_NONE ? span->last
                                             : span->first;
    const char *why = m->plan->exclusion[m->span[index]].why;
    g_autofree char *text = g_strdup_printf("not beside \u201c%s\u201d%s%s", name_of(r, other),
                                            why != NULL ? ": " : "", why != NULL ? why : "");
    say(r, t, AWAITS_NEIGHBOUR, m->task[other], text);
}

static const char *
hand_name(const WorkModel *m, size_t hand)
{
    if (hand < m->plan->n_hands)
        return m->plan->hand[hand].name;
    return hand + 1 < m->n_hands ? m->hired[hand - m->plan->n_hands] : "nobody";
}

/* The task a hand is busy with just before, and until when. */
static size_t
busy_with(const Reckoning *r, size_t hand, int32_t before_min, int32_t *until_min)
{
    size_t found = NO_TASK;
    int32_t last = -1;
    for (size_t k = 0; k < r->dates->n_pieces; k++) {
        const PlanPiece *p = &r->dates->piece[k];
        if (p->hand == hand && p->to_min <= before_min && p->to_min > last) {
            last = p->to_min;
            found = p->task;
        }
    }
    *until_min = last;
    return found;
}

static void
awaits_hand(const Reckoning *r, size_t i, size_t hand, ForecastTask *t)
{
    int32_t until_min;
    size_t task = busy_with(r, hand, r->dates->place[i].start_min, &until_min);
    g_autofree char *text =
        task != NO_TASK ? g_strdup_printf("%s is busy with \u201c%s\u201d until then",
                                          hand_name(r->model, hand), name_of(r, task))
                        : g_strdup_printf("%s is busy until then", hand_name(r->model, hand));
    say(r, t, AWAITS_HANDS, hand, text);
}

static void
awaits_hours(const Reckoning *r, size_t i, ForecastTask *t)
{
    const WorkTask *task = &r->model->plan->task[r->model->task[i]];
    const char *why = "nobody who can do it works sooner";
    if ((task->tags & (TAG_HAUL | TAG_LAUNCH | TAG_LIFT)) != 0 &&
        r->model->work.task[i].where != NULL)
        why = "the yard has no slot sooner";
    else if ((task->needs & NEED_WARM) != 0)
        why = "nobody who can do it works sooner, or it is not warm enough";
    else if ((task->needs & NEED_DAYLIGHT) != 0)
        why = "nobody who can do it works sooner by daylight";
    say(r, t, AWAITS_HOURS, NO_TASK, why);
}

static void
awaits_forever(const Reckoning *r, size_t i, ForecastTask *t)
{
    const WorkModel *m = r->model;
    const WorkTask *task = &m->plan->task[m->task[i]];
    const PlanTask *p = &m->work.task[i];
    for (size_t k = 0; k < m->work.n_ties; k++) {
        const PlanTie *tie = &m->work.tie[k];
        if (tie->to == i && tie->kind != PLAN_NO_LATER &&
            r->dates->place[tie->from].finish_min == PLAN_NEVER) {
            g_autofree char *text = g_strdup_printf(
                "\u201c%s\u201d comes first, and cannot be done", name_of(r, tie->from));
            say(r, t, AWAITS_FOREVER, m->task[tie->from], text);
            return;
        }
    }
    if (p->n_crews > 0 && p->crew[0].hand[0] + 1 == m->n_hands) {
        bool skill = task->skill != NULL && task->skill[0] != '\0';
        g_autofree char *text = g_strdup_printf(
            "it takes %g %s%s%s, and the hands do not give that", fmax(task->people, 1.0),
            task->people > 1.0 ? "people at once" : "person", skill ? " who can do " : "",
            skill ? task->skill : "");
        say(r, t, AWAITS_FOREVER, NO_TASK, text);
        return;
    }
    say(r, t, AWAITS_FOREVER, NO_TASK,
        "no hours in which it can be done are left: hands, slots, daylight and warmth together");
}

/* Nights and weekends are no reason by themselves: what was waited for before them is, unless the hours kept it much longer. */
static bool
hours_matter(const Reckoning *r, const PlanPlace *p)
{
    int32_t ready_min = p->ready_min, until_min;
    if (p->wait != WAIT_FOR_HOURS)
        return false;
    if (p->driver == WAIT_FOR_HAND &&
        busy_with(r, p->driver_index, p->start_min, &until_min) != NO_TASK)
        ready_min = MAX(ready_min, until_min);
    return p->driver == WAIT_FOR_NOTHING || p->start_min - ready_min > 3 * MINUTES_A_DAY;
}

static void
awaits_date(const Reckoning *r, size_t i, ForecastTask *t)
{
    g_autofree char *day = day_words(work_model_instant(r->model, r->dates->place[i].ready_min));
    g_autofree char *text = g_strdup_printf("not before %s", day);
    say(r, t, AWAITS_DATE, NO_TASK, text);
}

void
work_forecast_why(const Reckoning *r, size_t i, ForecastTask *t)
{
    const PlanPlace *p = &r->dates->place[i];
    if (p->finish_min == PLAN_NEVER)
        awaits_forever(r, i, t);
    else if (hours_matter(r, p))
        awaits_hours(r, i, t);
    else if (p->driver == WAIT_FOR_TIE)
        awaits_tie(r, i, p->driver_index, t);
    else if (p->driver == WAIT_FOR_SPAN)
        awaits_span(r, i, p->driver_index, t);
    else if (p->driver == WAIT_FOR_HAND)
        awaits_hand(r, i, p->driver_index, t);
    else if (p->driver == WAIT_FOR_RELEASE)
        awaits_date(r, i, t);
    else
        say(r, t, AWAITS_NOTHING, NO_TASK, "it can begin at once");
}

/* --- dates ----------------------------------------------------------------------------------------------------------------------- */

/* P10 and P90 of what was kept of one task. */
static void
kept_range(const Reckoning *r, const int32_t kept[], size_t i, double *low_day, double *high_day)
{
    size_t n = r->trials->n_kept;
    g_autofree int32_t *one = g_new(int32_t, n + 1);
    for (size_t t = 0; t < n; t++)
        one[t] = kept[t * r->model->n + i];
    int32_t *sorted = risk_sorted(n, one);
    *low_day = work_model_instant(r->model, risk_quantile(n, sorted, 0.1));
    *high_day = work_model_instant(r->model, risk_quantile(n, sorted, 0.9));
    free(sorted);
}

static void
fill_hands(const Reckoning *r, size_t i, ForecastTask *t)
{
    const PlanPlace *p = &r->dates->place[i];
    const PlanTask *task = &r->model->work.task[i];
    const PlanCrew *crew = p->crew != PLAN_NONE ? &task->crew[p->crew] : r->model->day_off[i];
    if (crew == NULL || p->finish_min == PLAN_NEVER)
        return;
    size_t *hand = work_forecast_block(r->out, crew->n, sizeof *hand);
    for (size_t k = 0; k < crew->n; k++)
        if (crew->hand[k] < r->model->plan->n_hands)
            hand[t->n_hands++] = crew->hand[k];
    t->hand = hand;
}

static int
by_start(gconstpointer a, gconstpointer b)
{
    const ForecastTask *x = a, *y = b;
    bool never_x = isnan(x->start_day), never_y = isnan(y->start_day);
    if (never_x || never_y)
        return never_x != never_y ? never_x - never_y : (x->task > y->task) - (x->task < y->task);
    if (x->start_day != y->start_day)
        return x->start_day < y->start_day ? -1 : 1;
    return (x->task > y->task) - (x->task < y->task);
}

static int
by_time(gconstpointer a, gconstpointer b)
{
    const ForecastSpell *x = a, *y = b;
    if (x->from_day != y->from_day)
        return x->from_day < y->from_day ? -1 : 1;
    return (x->hand > y->hand) - (x->hand < y->hand);
}

static void
fill_spells(Reckoning *r)
{
    const WorkModel *m = r->model;
    ForecastSpell *all = work_forecast_block(r->out, r->dates->n_pieces, sizeof *all);
    size_t n = 0;
    for (size_t k = 0; k < r->dates->n_pieces; k++) {
        const PlanPiece *p = &r->dates->piece[k];
        if (p->hand < m->plan->n_hands && m->task[p->task] != NO_TASK)
            all[n++] =
                (ForecastSpell){m->task[p->task], p->hand, work_model_instant(m, p->from_min),
                                work_model_instant(m, p->to_min)};
    }
    qsort(all, n, sizeof *all, by_time);
    r->out->spell = all;
    r->out->n_spells = n;
}

void
work_forecast_tasks(Reckoning *r)
{
    const WorkModel *m = r->model;
    ForecastTask *all = work_forecast_block(r->out, m->n, sizeof *all);
    g_autofree double *criticality = g_new0(double, m->n + 1);
    g_autofree double *cruciality = g_new0(double, m->n + 1);
    g_autofree double *early = g_new0(double, m->n + 1), *late = g_new0(double, m->n + 1);
    g_autofree bool *drives = g_new0(bool, m->n + 1);
    size_t n = 0;
    risk_criticality(r->trials, criticality);
    risk_cruciality(&m->risk, r->trials, SWAY_TRIALS, cruciality);
    risk_sway(&m->risk, r->trials, SWAY_TRIALS, early, late);
    plan_drivers(r->replay, drives);
    for (size_t i = 0; i < m->n; i++) {
        if (m->task[i] == NO_TASK)
            continue;
        ForecastTask *t = &all[n++];
        const PlanPlace *p = &r->dates->place[i];
        t->task = m->task[i];
        t->start_day = work_model_instant(m, p->start_min);
        t->finish_day = work_model_instant(m, p->finish_min);
        t->over_time = p->over_time;
        t->drives = drives[i];
        t->criticality_frac = criticality[i];
        t->cruciality_frac = cruciality[i];
        t->early_days = early[i] / MINUTES_A_DAY;
        t->late_days = late[i] / MINUTES_A_DAY;
        kept_range(r, r->trials->kept_start, i, &t->start_low_day, &t->start_high_day);
        kept_range(r, r->trials->kept_finish, i, &t->finish_low_day, &t->finish_high_day);
        fill_hands(r, i, t);
        work_forecast_why(r, i, t);
    }
    qsort(all, n, sizeof *all, by_start);
    r->out->task = all;
    r->out->n_tasks = n;
    fill_spells(r);
}
